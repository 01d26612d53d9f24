// Putting a lamp on a batch, or switching it off.
import { useState } from 'preact/hooks';
import type { BatchWire } from '../../../server/contract/index.ts';
import { actOnBatch } from '../../actions/batchActs.ts';
import type { PreviewChange } from '../../actions/previews.ts';
import { formatLength } from '../../format/numbers.ts';
import { numberOf } from '../../format/typedNumber.ts';
import { $place } from '../../state/computed.ts';
import { OWN_REASONS, rejectionText } from '../../state/rejection.ts';
import { $live, $troubles, $words } from '../../state/sources.ts';
import { SelectField, TextField } from '../Field.tsx';
import { EffectLine, useEffectOf } from './EffectLine.tsx';

const DEFAULT_FOR_MIN = 10;
const NOT_A_NUMBER = { path: 'forMin', reason: OWN_REASONS.notNumber, allowed: '' };

/** Lamp, distance, minutes. */
export function LampForm({ batch, agoMin }: { readonly batch: BatchWire; readonly agoMin: number }) {
  const words = $words.value;
  const { more } = words;
  const place = $place.value;
  const lamps = $live.value?.lamps ?? [];
  const [lampChosen, setLampChosen] = useState(lamps[0]?.id ?? '');
  const lamp = lamps.find(({ id }) => id === lampChosen) ?? lamps[0];
  const [distanceChosen, setDistanceChosen] = useState('');
  const [minutesText, setMinutesText] = useState(String(DEFAULT_FOR_MIN));
  if (lamp === undefined) return <p class="more-part">{more.noLamps}</p>;
  const distanceCm =
    lamp.distancesCm.find((value) => String(value) === distanceChosen) ?? lamp.distancesCm[0];
  const forMin = numberOf(minutesText);
  const refused = $troubles.value[batch.id]?.errors.find(({ path }) => path === 'forMin');
  const error = forMin === null ? NOT_A_NUMBER : refused;
  const distance = distanceCm === undefined ? {} : { distanceCm };
  const send = (): void => {
    if (forMin === null) return;
    actOnBatch(batch, { type: 'switchLamp', lampId: lamp.id, forMin, ...distance }, agoMin);
  };
  return (
    <section class="more-part">
      <h3>{more.lamp}</h3>
      <div class="row">
        <SelectField
          label={more.lampWhich}
          value={lamp.id}
          onInput={setLampChosen}
          options={lamps.map(({ id, name }) => ({ value: id, name }))}
        />
        <SelectField
          label={more.lampDistance}
          value={String(distanceCm ?? '')}
          onInput={setDistanceChosen}
          options={lamp.distancesCm.map((value) => ({
            value: String(value),
            name: formatLength(value, place),
          }))}
        />
        <TextField
          label={more.lampMinutes}
          value={minutesText}
          onInput={setMinutesText}
          isNumber
          error={error === undefined ? null : rejectionText(error, { words, place })}
        />
        <button type="button" class="second" onClick={send}>
          {forMin === 0 ? more.lampOffButton : more.lampButton}
        </button>
      </div>
      {forMin === null ? null : <Lit batch={batch} change={{ lampId: lamp.id, forMin, ...distance }} />}
    </section>
  );
}

function Lit({ batch, change }: { readonly batch: BatchWire; readonly change: PreviewChange }) {
  return <EffectLine batch={batch} previewed={useEffectOf(batch, change)} />;
}
