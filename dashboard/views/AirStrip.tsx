// The air of the bays, small and live, below the header.
import type { BayWire } from '../../server/contract/index.ts';
import { formatPct, formatTemperature } from '../format/numbers.ts';
import { epochAt, MS_PER_MIN } from '../format/phase.ts';
import { $place } from '../state/computed.ts';
import { $live, $nowAt, $words } from '../state/sources.ts';

/** From this age a reading tells its age [min]. */
const OLD_MIN = 10;

/** One entry a bay. */
export function AirStrip() {
  const bays = $live.value?.bays ?? [];
  return bays.length === 0 ? null : (
    <ul class="air" aria-label={$words.value.header.air}>
      {bays.map((bay) => (
        <BayAir key={bay.id} bay={bay} />
      ))}
    </ul>
  );
}

function BayAir({ bay }: { readonly bay: BayWire }) {
  const { header } = $words.value;
  const place = $place.value;
  const seenAt = epochAt(bay.at);
  const ageMin = seenAt === null ? 0 : Math.floor(($nowAt.value - seenAt) / MS_PER_MIN);
  const isOld = seenAt !== null && ageMin >= OLD_MIN;
  return (
    <li class="bay-air" data-trust={isOld ? 'stale' : bay.trust}>
      <span class="bay-name">{bay.name}</span>{' '}
      {bay.airTemperatureC === null ? (
        <span class="bay-none">{header.noAir}</span>
      ) : (
        <span class="bay-values">
          <b>{formatTemperature(bay.airTemperatureC, place)}</b>
          {bay.relativeHumidityPct === null ? null : (
            <span class="bay-humidity"> {formatPct(bay.relativeHumidityPct, place.locale)}</span>
          )}
        </span>
      )}
      {isOld ? <span class="bay-age"> {header.age(ageMin)}</span> : null}
    </li>
  );
}
