// What if the bay were warmer: shown only when asked, and only for the eye; the heating is switched by people.
import { useState } from 'preact/hooks';
import type { BatchWire, BayWire } from '../../../server/contract/index.ts';
import { formatTemperature } from '../../format/numbers.ts';
import { $place } from '../../state/computed.ts';
import { $live, $words } from '../../state/sources.ts';
import { ChipGroup } from '../ChipGroup.tsx';
import { EffectLine, useEffectOf } from './EffectLine.tsx';

/** How much warmer [°C]. */
const WARMER_CHOICES_C = [2, 5] as const;

/** Two steps of warmth for the batch's bay; nothing where its air is not known. */
export function WarmerBay({ batch }: { readonly batch: BatchWire }) {
  const bay = $live.value?.bays.find(({ id }) => id === batch.bayId);
  const [chosenC, setChosenC] = useState<number | null>(null);
  if (bay === undefined || bay.airTemperatureC === null) return null;
  const airC = bay.airTemperatureC;
  return (
    <section class="more-part">
      <ChipGroup
        label={$words.value.more.warmer(bay.name)}
        chosen={chosenC}
        layout="row"
        chips={WARMER_CHOICES_C.map((value) => ({
          value,
          name: $words.value.more.warmerBy(value),
          hint: formatTemperature(airC + value, $place.value.locale),
        }))}
        onChoose={setChosenC}
      />
      {chosenC === null ? null : <Warmed batch={batch} bay={bay} chosenC={chosenC} />}
    </section>
  );
}

interface WarmedProps {
  readonly batch: BatchWire;
  readonly bay: BayWire;
  readonly chosenC: number;
}

function Warmed({ batch, bay, chosenC }: WarmedProps) {
  // To a whole degree, so that each new reading does not ask again.
  const airTemperatureC = Math.round((bay.airTemperatureC ?? 0) + chosenC);
  return <EffectLine batch={batch} previewed={useEffectOf(batch, { airTemperatureC })} />;
}
