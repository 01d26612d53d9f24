// What a bay's air tells of its own cold: doors that were opened, hours before the heating was through, humid spells.
// The rules are plain so that people can check them; their figures are chosen, and stand at the top.
import type { Instant } from '../contract/index.ts';
import type { AirPoint } from './airSeries.ts';
import { minutesBetween } from './minutes.ts';
import type { Span } from './localHours.ts';

/** A door: the air fell from a level, and until then was not back. */
export interface DoorSpell extends Span {
  readonly levelC: number;
}

/** A bay's air, read once for all its batches. */
export interface ColdSignal {
  readonly air: readonly AirPoint[];
  readonly humidity: readonly AirPoint[];
  readonly doors: readonly DoorSpell[];
  readonly humidSpells: readonly Span[];
  /** Means of half hours, by half hours since the epoch. */
  readonly halfHoursC: ReadonlyMap<number, number>;
}

/** How far below a card's temperature the air was, split by what it is owed to. */
export interface ColdParts {
  readonly doorK: number;
  readonly heatingK: number;
  readonly outdoorK: number;
}

/** A door opens when the air falls by more than this within so long: heating that goes off takes longer. */
const DOOR_FALL_K = 1.2;
const DOOR_FALL_MIN = 4;
/** A sensor that speaks less often must show as steep a fall from one reading to the next. */
const DOOR_FALL_K_PER_MIN = 0.3;
/** It counts until the air is back this near to where it fell from, and no longer than this after the last fall. */
const DOOR_BACK_K = 0.5;
const DOOR_MAX_MIN = 60;
/** The heating is not through while the bay will get warmer by more than this within so long. */
const HEATING_K = 2;
const AHEAD_COUNT = 24;
/** Where less of what comes is known, the day before stands in. */
const AHEAD_KNOWN_COUNT = 12;
const BEHIND_COUNT = 48;
const HALF_HOUR_MS = 30 * 60_000;
/** A humid spell: this much or more for so long. */
const HUMID_PCT = 75;
const HUMID_LEAST_MIN = 60;
/** Readings further apart than this are not one spell (design MODEL §5). */
const GAP_MAX_MIN = 20;

/** Splits the cold at an instant; all parts are 0 where the air is as warm as the card, or unknown. */
export function coldPartsAt(signal: ColdSignal, instantAt: Instant, cardC: number): ColdParts {
  const airC = measurementNear(signal.air, instantAt);
  const deficitK = airC === null ? 0 : Math.max(0, cardC - airC);
  if (airC === null || deficitK === 0) return { doorK: 0, heatingK: 0, outdoorK: 0 };
  const door = signal.doors[lastIndexFrom(signal.doors, instantAt)];
  const isOpen = door !== undefined && instantAt < door.toAt;
  const doorK = isOpen ? Math.min(deficitK, Math.max(0, door.levelC - airC)) : 0;
  const shutC = airC + doorK;
  const missingK = warmestNear(signal.halfHoursC, instantAt) - shutC;
  const heatingK = missingK > HEATING_K ? Math.min(deficitK - doorK, missingK) : 0;
  return { doorK, heatingK, outdoorK: deficitK - doorK - heatingK };
}

/** Whether an instant lies in a humid spell. */
export function isHumidAt({ humidSpells }: ColdSignal, instantAt: Instant): boolean {
  const spell = humidSpells[lastIndexFrom(humidSpells, instantAt)];
  return spell !== undefined && instantAt < spell.toAt;
}

/** The value at an instant, linear between points; null outside the series and in gaps. */
export function measurementNear(series: readonly AirPoint[], instantAt: Instant): number | null {
  const index = lastIndexBy(series, instantAt, ({ at }) => at);
  const left = series[index];
  if (left === undefined) return null;
  if (left.at === instantAt) return left.measurement;
  const right = series[index + 1];
  if (right === undefined || minutesBetween(left.at, right.at) > GAP_MAX_MIN)
    return minutesBetween(left.at, instantAt) > GAP_MAX_MIN ? null : left.measurement;
  const share = (instantAt - left.at) / (right.at - left.at);
  return left.measurement + share * (right.measurement - left.measurement);
}

/** The points of a series inside a span, both ends included. */
export function pointsWithin(series: readonly AirPoint[], { fromAt, toAt }: Span): readonly AirPoint[] {
  const at = (point: AirPoint): number => point.at;
  return series.slice(lastIndexBy(series, fromAt - 1, at) + 1, lastIndexBy(series, toAt, at) + 1);
}

interface OpenDoor {
  readonly fromAt: Instant;
  readonly fellAt: Instant;
  readonly levelC: number;
}

/** The doors of a bay's air, in order of time. */
export function findDoors(air: readonly AirPoint[]): DoorSpell[] {
  const doors: DoorSpell[] = [];
  let open: OpenDoor | null = null;
  let oldest = 0;
  for (const [index, point] of air.entries()) {
    while (minutesBetween((air[oldest] as AirPoint).at, point.at) > DOOR_FALL_MIN) oldest += 1;
    const previous = air[index - 1] ?? point;
    const before = oldest === index ? previous : warmestSince(air, oldest, point.at);
    open = openDoor(open, before, point);
    if (open === null || !isShut(open, point)) continue;
    doors.push({ fromAt: open.fromAt, toAt: point.at, levelC: open.levelC });
    open = null;
  }
  if (open === null) return doors;
  const lastAt = (air.at(-1) as AirPoint).at;
  return [...doors, { fromAt: open.fromAt, toAt: (lastAt + 1) as Instant, levelC: open.levelC }];
}

function openDoor(open: OpenDoor | null, before: AirPoint, { at, measurement }: AirPoint): OpenDoor | null {
  const overMin = minutesBetween(before.at, at);
  const isSlow = overMin > DOOR_FALL_MIN && before.measurement - measurement <= DOOR_FALL_K_PER_MIN * overMin;
  if (before.measurement - measurement <= DOOR_FALL_K || isSlow || overMin > GAP_MAX_MIN) return open;
  if (open === null) return { fromAt: before.at, fellAt: at, levelC: before.measurement };
  return { ...open, fellAt: at, levelC: Math.max(open.levelC, before.measurement) };
}

function isShut({ fellAt, levelC }: OpenDoor, { at, measurement }: AirPoint): boolean {
  return measurement >= levelC - DOOR_BACK_K || minutesBetween(fellAt, at) > DOOR_MAX_MIN;
}

/** The warmest point of the last minutes, the newest of several; the point itself where it is alone. */
function warmestSince(air: readonly AirPoint[], fromIndex: number, untilAt: Instant): AirPoint {
  let warmest = air[fromIndex] as AirPoint;
  for (let index = fromIndex + 1; index < air.length; index += 1) {
    const point = air[index] as AirPoint;
    if (point.at > untilAt) break;
    if (point.measurement >= warmest.measurement) warmest = point;
  }
  return warmest;
}

/** The humid spells of a bay's air, in order of time. */
export function findHumidSpells(humidity: readonly AirPoint[]): Span[] {
  const spells: Span[] = [];
  let fromAt: Instant | null = null;
  let lastAt: Instant | null = null;
  const end = (): void => {
    if (fromAt !== null && lastAt !== null && minutesBetween(fromAt, lastAt) >= HUMID_LEAST_MIN)
      spells.push({ fromAt, toAt: lastAt });
    fromAt = null;
  };
  for (const { at, measurement } of humidity) {
    if (lastAt !== null && minutesBetween(lastAt, at) > GAP_MAX_MIN) end();
    if (measurement < HUMID_PCT) end();
    else fromAt ??= at;
    lastAt = at;
  }
  end();
  return spells;
}

/** Means of half hours, by half hours since the epoch. */
export function meanHalfHours(air: readonly AirPoint[]): Map<number, number> {
  const sums = new Map<number, { sumC: number; count: number }>();
  for (const { at, measurement } of air) {
    const key = Math.floor(at / HALF_HOUR_MS);
    const sum = sums.get(key) ?? { sumC: 0, count: 0 };
    sum.sumC += measurement;
    sum.count += 1;
    sums.set(key, sum);
  }
  return new Map([...sums].map(([key, { sumC, count }]) => [key, sumC / count]));
}

/** The warmest half hour of the twelve hours to come; with less than six of them known, also of the day before. */
function warmestNear(halfHoursC: ReadonlyMap<number, number>, instantAt: Instant): number {
  const now = Math.floor(instantAt / HALF_HOUR_MS);
  let warmestC = Number.NEGATIVE_INFINITY;
  let knownCount = 0;
  const look = (key: number): void => {
    const meanC = halfHoursC.get(key);
    if (meanC === undefined) return;
    warmestC = Math.max(warmestC, meanC);
    knownCount += 1;
  };
  for (let ahead = 0; ahead < AHEAD_COUNT; ahead += 1) look(now + ahead);
  if (knownCount < AHEAD_KNOWN_COUNT)
    for (let behind = 1; behind <= BEHIND_COUNT; behind += 1) look(now - behind);
  return warmestC;
}

/** The last spell that has begun; −1 when there is none. */
function lastIndexFrom(spells: readonly Span[], instantAt: Instant): number {
  return lastIndexBy(spells, instantAt, ({ fromAt }) => fromAt);
}

/** The last entry of a sorted list that is not after a place; −1 when there is none. */
function lastIndexBy<T>(list: readonly T[], placeValue: number, placeOf: (entry: T) => number): number {
  let [low, high] = [0, list.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (placeOf(list[middle] as T) <= placeValue) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}
