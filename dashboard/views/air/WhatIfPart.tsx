// What if: the hours and the temperature of a warmer morning, and the minutes it takes away, with their range.
import type { CostWire } from '../../../server/contract/index.ts';
import { chooseAir } from '../../actions/airActs.ts';
import { makeRangeBand } from '../../charts/rangeBand.ts';
import { BAND_HEIGHT_PX, BAND_WIDTH_PX } from '../../charts/windowBand.ts';
import { formatWhole, wholeCount } from '../../format/airText.ts';
import { formatWholeTemperature } from '../../format/numbers.ts';
import { celsiusFromShown, shownTemperature } from '../../format/units.ts';
import { $air } from '../../state/air.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';
import { SelectField } from '../Field.tsx';

type WhatIf = NonNullable<CostWire['whatIf']>;

const HOURS_COUNT = 24;
/** Shops heat within these; the server takes more. */
const CHOICE_MIN_C = 10;
const CHOICE_MAX_C = 26;

/** The trial of the days that are shown. */
export function WhatIfPart({ cost }: { readonly cost: CostWire }) {
  const { airScreen } = $words.value;
  const place = $place.value;
  const { units } = place;
  const { heatFrom, heatTo, heatC } = $air.value;
  const clocks = Array.from({ length: HOURS_COUNT + 1 }, (_, hour) => `${String(hour).padStart(2, '0')}:00`);
  const option = (clock: string) => ({ value: clock, name: clock });
  const lowest = shownTemperature(CHOICE_MIN_C, units);
  // Whole degrees of the reader's; what is asked for is the same in °C.
  const degrees = Array.from(
    { length: Math.floor(shownTemperature(CHOICE_MAX_C, units)) - lowest + 1 },
    (_, index) => lowest + index,
  );
  return (
    <section class="air-part air-if">
      <h2>{airScreen.ifTitle}</h2>
      <div class="air-if-fields">
        <SelectField
          label={airScreen.ifFrom}
          value={heatFrom}
          options={clocks.filter((clock) => clock < heatTo).map(option)}
          onInput={(value) => chooseAir({ heatFrom: value })}
        />
        <SelectField
          label={airScreen.ifTo}
          value={heatTo}
          options={clocks.filter((clock) => clock > heatFrom).map(option)}
          onInput={(value) => chooseAir({ heatTo: value })}
        />
        <SelectField
          label={airScreen.ifTemperature}
          value={String(Math.round(shownTemperature(heatC, units)))}
          options={degrees.map((value) => ({
            value: String(value),
            name: formatWholeTemperature(celsiusFromShown(value, units), place),
          }))}
          onInput={(value) => chooseAir({ heatC: celsiusFromShown(Number(value), units) })}
        />
      </div>
      {cost.whatIf === null ? <p>{airScreen.ifNone}</p> : <Taken whatIf={cost.whatIf} />}
      <p class="air-hint">{airScreen.ifHow}</p>
    </section>
  );
}

function Taken({ whatIf: { taken, addedMin } }: { readonly whatIf: WhatIf }) {
  const { airScreen } = $words.value;
  const { locale } = $place.value;
  const text = (valueMin: number): string => formatWhole(valueMin, locale);
  if (Math.round(taken.p50Min) === 0) return <p class="air-if-sentence">{airScreen.ifNothing}</p>;
  const band = makeRangeBand({
    low: taken.p10Min,
    middleValue: taken.p50Min,
    high: taken.p90Min,
    wholeValue: addedMin,
  });
  const whole = airScreen.minutes(wholeCount(addedMin));
  return (
    <>
      <p class="air-if-sentence" role="status">
        {airScreen.ifSentence({
          minutes: text(taken.p50Min),
          whole,
          low: text(taken.p10Min),
          high: text(taken.p90Min),
        })}
      </p>
      {band === null ? null : (
        <div
          class="range"
          role="img"
          aria-label={airScreen.ifBand({
            low: text(taken.p10Min),
            middle: text(taken.p50Min),
            high: text(taken.p90Min),
            whole,
          })}
        >
          <svg
            viewBox={`0 0 ${BAND_WIDTH_PX} ${BAND_HEIGHT_PX}`}
            preserveAspectRatio="none"
            aria-hidden="true"
            focusable="false"
          >
            <path class="range-film" d={band.outline} />
          </svg>
          <span class="range-metal" aria-hidden="true" />
          {([band.lowFraction, band.middleFraction, band.highFraction] as const).map((fraction) => (
            <span
              key={fraction}
              class="range-tick"
              aria-hidden="true"
              style={{ left: `${(100 * fraction).toFixed(1)}%` }}
            />
          ))}
          <span class="range-ends" aria-hidden="true">
            <span>0</span>
            <span>{text(addedMin)}</span>
          </span>
        </div>
      )}
    </>
  );
}
