// What the cold cost a bay: the added cure minutes of the batches that really cured there, by day, week, hour and cause.
import type { ColdCause, Instant, Weekday } from '../contract/index.ts';
import type { BatchState, Stay } from './batch.ts';
import type { Card } from './card.ts';
import { type ColdSignal, coldPartsAt, isHumidAt, measurementNear } from './coldSignal.ts';
import { type LocalHour, mondayOf, type Span } from './localHours.ts';
import { instantAfter, minutesBetween } from './minutes.ts';

/** A batch whose time is known, with what the air added to it. */
export interface CuredBatch {
  readonly state: BatchState;
  /** When it was, or will be, worth testing. */
  readonly readyAt: Instant;
  /** Minutes above slowdown 1 (design MODEL §8). */
  readonly addedMin: number;
  /** Those of them that the car brought in with it. */
  readonly carMin: number;
}

export interface AddedSum {
  readonly addedMin: number;
  readonly batchCount: number;
}

/** Minutes by cause; they add up to the batch's. */
export type CauseMinutes = Readonly<Record<ColdCause, number>>;

/** The batches of a span that cured in a bay, in order of mixing; scrapped ones waited for nothing. */
export function batchesOfBay(
  states: readonly BatchState[],
  { bayId, fromAt, toAt }: Span & { readonly bayId: string },
): BatchState[] {
  return states
    .filter((state) => state.stage !== 'scrapped' && state.mixedAt >= fromAt && state.mixedAt < toAt)
    .filter((state) => bayOf(state) === bayId)
    .toSorted((a, b) => a.mixedAt - b.mixedAt);
}

/** What the air added to a batch; null where no time is known. */
export function curedFrom(state: BatchState): CuredBatch | null {
  const { expectedMin, cardMin, reasons } = state.estimate ?? {
    expectedMin: null,
    cardMin: null,
    reasons: [],
  };
  if (expectedMin === null || cardMin === null) return null;
  const addedMin = Math.max(0, expectedMin - cardMin);
  const car = reasons.find(({ code }) => code === 'car-cold');
  // Without a car from outside, the same reason is the bay's own night in the cavity behind the panel.
  const carMin = state.rolledInAt === null || car === undefined ? 0 : Math.min(addedMin, car.minutes);
  return { state, readyAt: instantAfter(state.mixedAt, expectedMin), addedMin, carMin };
}

/** The bay in which a batch stood longest while it cured. */
export function bayOf({ stays, mixedAt, estimate }: BatchState): string {
  const readyAt = instantAfter(mixedAt, estimate?.expectedMin ?? 1);
  const minutesIn = new Map<string, number>();
  for (const [index, stay] of stays.entries()) {
    const stayMin = commonMin(
      { fromAt: stay.fromAt, toAt: endOf(stays, index, readyAt) },
      { fromAt: mixedAt, toAt: readyAt },
    );
    minutesIn.set(stay.bayId, (minutesIn.get(stay.bayId) ?? 0) + stayMin);
  }
  // A batch always stands somewhere.
  const [longest] = [...minutesIn].toSorted(([, a], [, b]) => b - a) as [[string, number]];
  return longest[0];
}

/** Sums by the local day of mixing, every day of the span among them. */
export function sumDays(batches: readonly CuredBatch[], hours: readonly LocalHour[]): Map<string, AddedSum> {
  const days = new Map<string, AddedSum>(hours.map(({ date }) => [date, { addedMin: 0, batchCount: 0 }]));
  for (const { state, addedMin } of batches) {
    const hour = hours.find(({ fromAt, toAt }) => fromAt <= state.mixedAt && state.mixedAt < toAt);
    if (hour !== undefined) addTo(days, hour.date, { addedMin, batchCount: 1 });
  }
  return days;
}

/** The same by weeks, each named by its Monday. */
export function sumWeeks(days: ReadonlyMap<string, AddedSum>): Map<string, AddedSum> {
  const weeks = new Map<string, AddedSum>();
  for (const [date, sum] of days) addTo(weeks, mondayOf(date), sum);
  return weeks;
}

/** Adds a batch's minutes to the hours it cured in, evenly over its time. */
export function spreadOverHours(
  { state, readyAt, addedMin }: CuredBatch,
  hours: readonly LocalHour[],
): { readonly weekday: Weekday; readonly hourIndex: number; readonly addedMin: number }[] {
  const cure = { fromAt: state.mixedAt, toAt: readyAt };
  const cureMin = minutesBetween(cure.fromAt, cure.toAt);
  return hours.map((hour) => ({
    weekday: hour.weekday,
    hourIndex: hour.hourIndex,
    addedMin: (addedMin * commonMin(hour, cure)) / cureMin,
  }));
}

/**
 * Divides a batch's minutes by cause: what the car brought in is the car's; the rest goes by the degree minutes that its
 * air lay below the card while it cured, humid spells as the degrees that would slow it as much. Where the air was as
 * warm as the card all the time, the cold came from what had been before: that is left to outdoor cold.
 */
export function splitByCause(
  { state, readyAt, addedMin, carMin }: CuredBatch,
  signal: ColdSignal,
  card: Card,
): CauseMinutes {
  const weights = { door: 0, heating: 0, humid: 0, outdoor: 0 };
  for (let instantAt = state.mixedAt; instantAt < readyAt; instantAt = instantAfter(instantAt, 1)) {
    const { doorK, heatingK, outdoorK } = coldPartsAt(signal, instantAt, card.atC);
    weights.door += doorK;
    weights.heating += heatingK;
    weights.outdoor += outdoorK;
    weights.humid += humidK(signal, instantAt, card.humidityEffectPer10Pct);
  }
  const sum = weights.door + weights.heating + weights.humid + weights.outdoor;
  const leftMin = addedMin - carMin;
  const minutes = (weight: number): number => (sum === 0 ? 0 : (leftMin * weight) / sum);
  return {
    door: minutes(weights.door),
    'heating-off': minutes(weights.heating),
    'humid-spell': minutes(weights.humid),
    'cold-car': carMin,
    'outdoor-cold': sum === 0 ? leftMin : minutes(weights.outdoor),
  };
}

/** Ten degrees take half the pace (common practice): so many degrees are worth what the humidity takes. */
function humidK(signal: ColdSignal, instantAt: Instant, effectPer10Pct: number): number {
  if (effectPer10Pct <= 0 || !isHumidAt(signal, instantAt)) return 0;
  const humidityPct = Math.min(100, measurementNear(signal.humidity, instantAt) as number);
  return (effectPer10Pct * (humidityPct - REFERENCE_PCT)) / Math.LN2;
}

/** Cards are stated at it (design MODEL §4). */
const REFERENCE_PCT = 50;

function endOf(stays: readonly Stay[], index: number, readyAt: Instant): Instant {
  return stays[index + 1]?.fromAt ?? readyAt;
}

/** Minutes that two spans have in common [min]. */
function commonMin(left: Span, right: Span): number {
  return Math.max(0, Math.min(left.toAt, right.toAt) - Math.max(left.fromAt, right.fromAt)) / 60_000;
}

function addTo(sums: Map<string, AddedSum>, key: string, { addedMin, batchCount }: AddedSum): void {
  const before = sums.get(key) ?? { addedMin: 0, batchCount: 0 };
  sums.set(key, { addedMin: before.addedMin + addedMin, batchCount: before.batchCount + batchCount });
}
