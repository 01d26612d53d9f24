// Moving a batch to a bay with other air.
import { useState } from 'preact/hooks';
import type { BatchWire } from '../../../server/contract/index.ts';
import { actOnBatch } from '../../actions/batchActs.ts';
import { formatTemperature } from '../../format/numbers.ts';
import { $place } from '../../state/computed.ts';
import { $live, $words } from '../../state/sources.ts';
import { SelectField } from '../Field.tsx';
import { EffectLine, useEffectOf } from './EffectLine.tsx';

/** Chooses another bay, with its air beside its name. */
export function MoveForm({ batch, agoMin }: { readonly batch: BatchWire; readonly agoMin: number }) {
  const { more } = $words.value;
  const place = $place.value;
  const others = ($live.value?.bays ?? []).filter(({ id }) => id !== batch.bayId);
  const [chosen, setChosen] = useState('');
  const bayId = others.some(({ id }) => id === chosen) ? chosen : (others[0]?.id ?? '');
  if (others.length === 0) return null;
  return (
    <section class="more-part">
      <h3>{more.move}</h3>
      <div class="row">
        <SelectField
          label={more.moveTo}
          value={bayId}
          onInput={setChosen}
          options={others.map(({ id, name, airTemperatureC }) => ({
            value: id,
            name: airTemperatureC === null ? name : `${name}, ${formatTemperature(airTemperatureC, place)}`,
          }))}
        />
        <button
          type="button"
          class="second"
          onClick={() => actOnBatch(batch, { type: 'moveToBay', bayId }, agoMin)}
        >
          {more.moveButton}
        </button>
      </div>
      <Moved batch={batch} bayId={bayId} />
    </section>
  );
}

function Moved({ batch, bayId }: { readonly batch: BatchWire; readonly bayId: string }) {
  return <EffectLine batch={batch} bayId={bayId} previewed={useEffectOf(batch, { bayId })} />;
}
