// How well the air ahead of a bay has done so far: what it said against what came an hour later.
import { airAhead } from './airAhead.ts';
import { type AirPoint, measurementAt } from './airSeries.ts';
import { instantAfter, minutesBetween } from './minutes.ts';

/** What the air ahead misses an hour on, before a bay's own answers are known (design MODEL §5). */
export const AHEAD_SD_K = 0.42;
export const AHEAD_MIN = 60;

/** Asked each quarter of an hour, over what is known of the bay. */
const ASKED_EVERY_MIN = 15;
/** What was said before anything is known counts as so many answers. */
const PRIOR_COUNT = 8;
/** A door, which nobody foresees: an open door is apart (design MODEL §5). */
const DOOR_K = 2;
/** An answer later than this is none. */
const ANSWER_LATE_MAX_MIN = 20;

/**
 * The root mean square by which the air ahead of this bay was wrong an hour on [K]: the design's own figure until the
 * bay's answers outweigh it. Doors are left out.
 */
export function aheadErrorSdKOf(air: readonly AirPoint[]): number {
  const firstAt = air[0]?.at;
  const lastAt = air.at(-1)?.at;
  let sumK2 = PRIOR_COUNT * AHEAD_SD_K ** 2;
  let count = PRIOR_COUNT;
  if (firstAt === undefined || lastAt === undefined) return AHEAD_SD_K;
  let index = 0;
  let readIndex = 0;
  for (
    let askedAt = instantAfter(firstAt, AHEAD_MIN);
    askedAt <= instantAfter(lastAt, -AHEAD_MIN);
    askedAt = instantAfter(askedAt, ASKED_EVERY_MIN)
  ) {
    // Every question has readings behind it, since the last one is asked an hour before the newest.
    while ((air[index + 1] as AirPoint).at <= askedAt) index += 1;
    const told = air[index] as AirPoint;
    const dueAt = instantAfter(told.at, AHEAD_MIN);
    while ((air[readIndex] as AirPoint).at < dueAt) readIndex += 1;
    const met = air[readIndex] as AirPoint;
    if (minutesBetween(dueAt, met.at) > ANSWER_LATE_MAX_MIN) continue;
    const ahead = measurementAt([told, ...airAhead(air.slice(0, index + 1))], dueAt) as number;
    const missK = met.measurement - ahead;
    if (Math.abs(missK) > DOOR_K) continue;
    sumK2 += missK ** 2;
    count += 1;
  }
  return Math.sqrt(sumK2 / count);
}
