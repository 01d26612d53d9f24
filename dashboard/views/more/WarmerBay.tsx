// What if the bay were warmer: shown only when asked, and only for the eye; the heating is switched by people.
import { useState } from 'preact/hooks';
import type { BatchWire, BayWire } from '../../../server/contract/index.ts';
import { formatDegrees, formatTemperature } from '../../format/numbers.ts';
import {
  celsiusFromShown,
  kelvinFromShownDifference,
  shownTemperature,
  type Units,
} from '../../format/units.ts';
import { $place } from '../../state/computed.ts';
import { $live, $words } from '../../state/sources.ts';
import { ChipGroup } from '../ChipGroup.tsx';
import { EffectLine, useEffectOf } from './EffectLine.tsx';

/** How much warmer, in the reader's own whole degrees. */
const WARMER_CHOICES: Readonly<Record<Units['temperature'], readonly { readonly shownValue: number }[]>> = {
  C: [{ shownValue: 2 }, { shownValue: 5 }],
  F: [{ shownValue: 5 }, { shownValue: 10 }],
};

/** Two steps of warmth for the batch's bay; nothing where its air is not known. */
export function WarmerBay({ batch }: { readonly batch: BatchWire }) {
  const bay = $live.value?.bays.find(({ id }) => id === batch.bayId);
  const [chosenK, setChosenK] = useState<number | null>(null);
  const place = $place.value;
  const { units } = place;
  if (bay === undefined || bay.airTemperatureC === null) return null;
  const airC = bay.airTemperatureC;
  return (
    <section class="more-part">
      <ChipGroup
        label={$words.value.more.warmer(bay.name)}
        chosen={chosenK}
        layout="row"
        chips={WARMER_CHOICES[units.temperature].map(({ shownValue }) => {
          const value = kelvinFromShownDifference(shownValue, units);
          return {
            value,
            name: $words.value.more.warmerBy(formatDegrees(value, place)),
            hint: formatTemperature(airC + value, place),
          };
        })}
        onChoose={setChosenK}
      />
      {chosenK === null ? null : <Warmed batch={batch} bay={bay} chosenK={chosenK} />}
    </section>
  );
}

interface WarmedProps {
  readonly batch: BatchWire;
  readonly bay: BayWire;
  readonly chosenK: number;
}

function Warmed({ batch, bay, chosenK }: WarmedProps) {
  const { units } = $place.value;
  // To a whole degree of the reader's, so that each new reading does not ask again.
  const wholeValue = Math.round(shownTemperature((bay.airTemperatureC ?? 0) + chosenK, units));
  const airTemperatureC = celsiusFromShown(wholeValue, units);
  return <EffectLine batch={batch} previewed={useEffectOf(batch, { airTemperatureC })} />;
}
