// The air to come in a bay: its last reading, led on by the slope of the last half hour, which fades.
import type { AirPoint } from './airSeries.ts';
import { instantAfter, minutesBetween } from './minutes.ts';

/** The slope is that of the last half hour (design MODEL §5). */
const SLOPE_MIN = 30;
/** Readings of two minutes are one: a sensor that speaks each second weighs no more than one each minute. */
const BIN_MIN = 2;
/** A slope needs as many bins, over as long. */
const BINS_COUNT_MIN = 3;
const SPAN_MIN = 15;
/** Readings further apart do not tell a slope (design MODEL §5: interpolate up to 20 min). */
const GAP_MAX_MIN = 20;
/** A door, not a heater: more than this from bin to bin, and as quick as this or quicker. */
const STEP_C = 1;
const STEP_C_PER_MIN = 0.3;
/**
 * The slope fades with this time constant: the air approaches a level that lies slope × 33 min away.
 * With root mean squares at 60 min of 0.355 K for no change, 0.374 K for the straight line and 0.298 K for the damped
 * one (design MODEL §5), the best multiple of the straight line is 0.46, and τ/60 (1 − exp(−60/τ)) = 0.46 at τ = 33 min.
 */
const FADE_MIN = 33;
/** The level lies no further from the last reading than this, nor as far outside what the bay has seen in a day. */
const CHANGE_MAX_C = 3;
const UNSEEN_MAX_C = 2;
const SEEN_MIN = 24 * 60;
/** A change that no sensor tells apart is none. */
const CHANGE_MIN_C = 0.1;
/** What the film can be solved in (design MODEL §6). */
const AIR_MIN_C = -40;
const AIR_MAX_C = 60;
/** Where the approach is told, in time constants; it is held from the last one on. */
const TOLD_SHARES = [1 / 3, 1, 2, 3] as const;

/** The mean of a bin: how long before the last reading, and how far from it. */
interface Bin {
  readonly agoMin: number;
  readonly awayC: number;
}

/** The few points that follow a bay's air, the last of them held on; none where the last reading is held on. */
export function airAhead(air: readonly AirPoint[]): AirPoint[] {
  const last = air.at(-1);
  if (last === undefined) return [];
  const changeC = boundedChangeC(air, FADE_MIN * slopeCPerMin(air, last));
  if (Math.abs(changeC) < CHANGE_MIN_C) return [];
  return TOLD_SHARES.map((share) => ({
    at: instantAfter(last.at, share * FADE_MIN),
    measurement: last.measurement + changeC * (1 - Math.exp(-share)),
  }));
}

/** A slope that is fading already must not be led on: of the half hour's and its later half's, the gentler; none when they differ in sign. */
function slopeCPerMin(air: readonly AirPoint[], last: AirPoint): number {
  const bins = binsBefore(air, last);
  const oldest = bins.at(-1) as Bin;
  if (bins.length < BINS_COUNT_MIN || oldest.agoMin < SPAN_MIN || hasStep(bins)) return 0;
  const whole = medianSlope(bins);
  const late = bins.filter((bin) => bin.agoMin <= SLOPE_MIN / 2);
  if (late.length < BINS_COUNT_MIN) return whole;
  const recent = medianSlope(late);
  if (Math.sign(recent) !== Math.sign(whole)) return 0;
  return Math.abs(recent) < Math.abs(whole) ? recent : whole;
}

/** Newest first; distances are kept instead of values, so that equal readings have a mean that is equal to the bit. */
function binsBefore(air: readonly AirPoint[], last: AirPoint): Bin[] {
  const sums = new Map<number, { agoMin: number; awayC: number; count: number }>();
  for (let index = air.length - 1; index >= 0; index -= 1) {
    const point = air[index] as AirPoint;
    const agoMin = minutesBetween(point.at, last.at);
    if (agoMin > SLOPE_MIN) break;
    const key = Math.floor(agoMin / BIN_MIN);
    const sum = sums.get(key) ?? { agoMin: 0, awayC: 0, count: 0 };
    sum.agoMin += agoMin;
    sum.awayC += point.measurement - last.measurement;
    sum.count += 1;
    sums.set(key, sum);
  }
  return [...sums.values()].map(({ agoMin, awayC, count }) => ({
    agoMin: agoMin / count,
    awayC: awayC / count,
  }));
}

/** Whether a door was opened or closed, or nothing was heard for too long. */
function hasStep(bins: readonly Bin[]): boolean {
  // Also inside the newest bin, whose last reading lies at none.
  let newer: Bin = { agoMin: 0, awayC: 0 };
  for (const bin of bins) {
    const gapMin = bin.agoMin - newer.agoMin;
    const changeC = Math.abs(bin.awayC - newer.awayC);
    if (gapMin > GAP_MAX_MIN || (changeC > STEP_C && changeC > STEP_C_PER_MIN * gapMin)) return true;
    newer = bin;
  }
  return false;
}

/** The median over all pairs: single wild readings do not move it. */
function medianSlope(bins: readonly Bin[]): number {
  const slopes = new Float64Array((bins.length * (bins.length - 1)) / 2);
  let count = 0;
  for (let newer = 0; newer < bins.length; newer += 1) {
    const { awayC, agoMin } = bins[newer] as Bin;
    for (let older = newer + 1; older < bins.length; older += 1) {
      const bin = bins[older] as Bin;
      slopes[count] = (awayC - bin.awayC) / (bin.agoMin - agoMin);
      count += 1;
    }
  }
  const upperIndex = Math.floor(count / 2);
  const upper = selectSmallest(slopes, upperIndex);
  if (count % 2 === 1) return upper;
  let lower = -Infinity;
  for (let index = 0; index < upperIndex; index += 1) lower = Math.max(lower, slopes[index] as number);
  return (lower + upper) / 2;
}

/**
 * The value that would stand at a place if all were sorted; afterwards none before it is greater. Asked some thirty times
 * for each estimate, where sorting would take three times as long (Hoare 1961, algorithm 65).
 */
function selectSmallest(values: Float64Array, placeIndex: number): number {
  let low = 0;
  let high = values.length - 1;
  while (low < high) {
    const pivot = values[placeIndex] as number;
    let left = low;
    let right = high;
    while (left <= right) {
      while ((values[left] as number) < pivot) left += 1;
      while ((values[right] as number) > pivot) right -= 1;
      if (left > right) break;
      const swapped = values[left] as number;
      values[left] = values[right] as number;
      values[right] = swapped;
      left += 1;
      right -= 1;
    }
    if (right < placeIndex) low = left;
    if (left > placeIndex) high = right;
  }
  return values[placeIndex] as number;
}

function boundedChangeC(air: readonly AirPoint[], changeC: number): number {
  const last = air.at(-1) as AirPoint;
  const seen = { lowest: last.measurement, highest: last.measurement };
  for (let index = air.length - 1; index >= 0; index -= 1) {
    const { at, measurement } = air[index] as AirPoint;
    if (minutesBetween(at, last.at) > SEEN_MIN) break;
    seen.lowest = Math.min(seen.lowest, measurement);
    seen.highest = Math.max(seen.highest, measurement);
  }
  const low = Math.max(
    -CHANGE_MAX_C,
    seen.lowest - UNSEEN_MAX_C - last.measurement,
    AIR_MIN_C - last.measurement,
  );
  const high = Math.min(
    CHANGE_MAX_C,
    seen.highest + UNSEEN_MAX_C - last.measurement,
    AIR_MAX_C - last.measurement,
  );
  return Math.min(Math.max(changeC, low), high);
}
