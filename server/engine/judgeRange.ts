// What every judgement is made of: a number in its bounds, a series in its order.
import type { Series } from './cardStatement.ts';

/**
 * Why an input cannot be used: where it stands, what is wrong, what is allowed.
 */
export interface Rejection {
  readonly path: string;
  readonly reason: string;
  readonly allowed: string;
}

/**
 * Bounds of one number, both inclusive.
 */
export interface Bounds {
  readonly min: number;
  readonly max: number;
  readonly unit: string;
}

/**
 * Minutes of a series count from mixing; a week either way is more than any batch needs.
 */
export const SERIES_BOUNDS: Bounds = { min: -10_080, max: 10_080, unit: 'min' };
/**
 * Points of a series at most [1].
 */
const SERIES_POINTS_MAX = 20_000;

/**
 * What is wrong with one number.
 * @param path  where it stands
 * @param value  [as bounds say] the number, or anything else
 * @param bounds  what is allowed
 * @returns no rejection or one
 * @source own
 */
export function judgeRange(path: string, value: number, bounds: Bounds): Rejection[] {
  const allowed = `${bounds.min} to ${bounds.max} ${bounds.unit}`;
  if (!Number.isFinite(value)) return [{ path, reason: 'is not a finite number', allowed }];
  if (value < bounds.min) return [{ path, reason: `is ${value}, below ${bounds.min}`, allowed }];
  if (value > bounds.max) return [{ path, reason: `is ${value}, above ${bounds.max}`, allowed }];
  return [];
}

/**
 * What is wrong with one word.
 * @param path  where it stands
 * @param word  the word
 * @param allowed  the words there are
 * @returns no rejection or one
 * @source own
 */
export function judgeWord(path: string, word: string, allowed: readonly string[]): Rejection[] {
  if (allowed.includes(word)) return [];
  return [{ path, reason: `is ${JSON.stringify(word)}`, allowed: allowed.join(', ') }];
}

/**
 * What is wrong with a series: its length, its numbers, its order.
 * @param path  where it stands
 * @param seriesMin  the series [values over minutes]
 * @param bounds  what its values may be
 * @returns rejections, at most one a point
 * @source design MODEL §6
 */
export function judgeSeries(path: string, seriesMin: Series, bounds: Bounds): Rejection[] {
  const allowed = `1 to ${SERIES_POINTS_MAX} points`;
  if (seriesMin.length === 0) return [{ path, reason: 'has no point', allowed }];
  if (seriesMin.length > SERIES_POINTS_MAX) {
    return [{ path, reason: `has ${seriesMin.length} points`, allowed }];
  }
  return seriesMin.flatMap(([atMin, value], index) => {
    const before = seriesMin[index - 1]?.[0] ?? -Infinity;
    const found = [
      ...judgeRange(`${path}.${index}.0`, atMin, SERIES_BOUNDS),
      ...judgeRange(`${path}.${index}.1`, value, bounds),
    ];
    if (found.length === 0 && atMin < before) {
      const reason = `is minute ${atMin}, before minute ${before}`;
      found.push({ path: `${path}.${index}.0`, reason, allowed: 'ascending minutes' });
    }
    return found.slice(0, 1);
  });
}
