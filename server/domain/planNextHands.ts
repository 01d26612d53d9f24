// Next hands: when each open panel needs someone, what its promise has to spare, and whose hands are asked for twice.
import type { Instant, Need } from '../contract/index.ts';
import type { BatchState } from './batch.ts';
import type { Card } from './card.ts';
import type { BatchId } from './facts.ts';
import { instantAfter, minutesBetween } from './minutes.ts';
import { kickedAtFrom } from './phase.ts';
import { JOB_COUNT_MAX, planHands } from './planHands.ts';

export interface PlanQuestion {
  readonly cardOf: (state: BatchState) => Card;
  readonly nowAt: Instant;
}

export interface PlanEntry {
  readonly state: BatchState;
  readonly need: Need;
  /** When it needs someone, or since when; null when nobody can tell. */
  readonly needAt: Instant | null;
  /** The test, or now when it is overdue, and the work that remains. */
  readonly doneP50At: Instant | null;
  readonly doneP90At: Instant | null;
  readonly slackMin: number | null;
  readonly slackP90Min: number | null;
  readonly danger: Danger | null;
}

/** A promise that is likely to be missed. */
export interface Danger {
  /** By P50; by P90 only; or only because one person has other promises too. */
  readonly kind: 'late' | 'tight' | 'hands';
  readonly byMin: number;
  /** Other panels that ask for the same hands. */
  readonly rivalIds: readonly BatchId[];
  /** What hands of its own would bring [min]; 0 where it cannot be told. */
  readonly handsGainMin: number;
}

/** Two panels that need someone no further apart than this ask for two people [min]. */
const SAME_MINUTES_MIN = 5;

/** Open panels by the minute of need, least slack first in the same minute; what is in hand comes last. */
export function planNextHands(states: readonly BatchState[], question: PlanQuestion): PlanEntry[] {
  const entries = states.map((state) => entryOf(state, question));
  const handsDone = doneByHands(entries, question.nowAt);
  return entries
    .map((entry) => ({ ...entry, danger: dangerOf(entry, { entries, handsDone, nowAt: question.nowAt }) }))
    .sort((a, b) => compareNeed(a, b, question.nowAt));
}

type Bare = Omit<PlanEntry, 'danger'>;

function entryOf(state: BatchState, question: PlanQuestion): Bare {
  const doneP50At = doneAt(state, state.estimate?.p50At ?? null, question.nowAt);
  const doneP90At = doneAt(state, state.estimate?.p90At ?? null, question.nowAt);
  const slackTo = (workDoneAt: Instant | null): number | null =>
    workDoneAt === null || state.promisedAt === null ? null : minutesBetween(workDoneAt, state.promisedAt);
  return {
    state,
    ...needOf(state, question),
    doneP50At,
    doneP90At,
    slackMin: slackTo(doneP50At),
    slackP90Min: slackTo(doneP90At),
  };
}

function needOf(state: BatchState, { cardOf, nowAt }: PlanQuestion): Pick<PlanEntry, 'need' | 'needAt'> {
  if (state.stage === 'sanding') return { need: 'sanding', needAt: state.sandingAt };
  const testFromAt = state.estimate?.testFromAt ?? null;
  if (state.stage === 'test') {
    // Air that cooled since may have moved the time on; a test that was called stays called.
    return { need: 'waiting', needAt: testFromAt === null || testFromAt > nowAt ? nowAt : testFromAt };
  }
  if (state.stage === 'wet' && state.spreadAt === null) {
    const { estimate } = state;
    return {
      need: 'spread',
      needAt: estimate?.spreadUntilAt ?? kickedAtFrom(state, { estimate, card: cardOf(state) }),
    };
  }
  return testFromAt === null ? { need: 'unknown', needAt: null } : { need: 'test', needAt: testFromAt };
}

/** When the panel is done if its test succeeds then: what is overdue is tested now at the earliest. */
function doneAt(state: BatchState, testAt: Instant | null, nowAt: Instant): Instant | null {
  const workMin = state.remainingWorkMin ?? 0;
  if (state.sandingAt !== null && state.stage === 'sanding') {
    return Math.max(nowAt, instantAfter(state.sandingAt, workMin)) as Instant;
  }
  return testAt === null ? null : instantAfter(Math.max(nowAt, testAt) as Instant, workMin);
}

interface DangerQuestion {
  readonly entries: readonly Bare[];
  readonly handsDone: ReadonlyMap<BatchId, HandsDone>;
  readonly nowAt: Instant;
}

function dangerOf(entry: Bare, { entries, handsDone, nowAt }: DangerQuestion): Danger | null {
  const { state, slackMin, slackP90Min } = entry;
  if (slackMin === null || slackP90Min === null) return null;
  const shared = handsDone.get(state.id);
  const handsLateMin = shared === undefined ? 0 : Math.max(0, shared.lateMin);
  const lateAloneMin = Math.max(0, -slackMin);
  const gainMin = Math.max(0, handsLateMin - lateAloneMin);
  const near = entries.filter((other) => needsSameHands(entry, other, nowAt)).map((other) => other.state.id);
  const rivalIds = gainMin > 0 ? (shared as HandsDone).rivalIds : near;
  const told = { rivalIds, handsGainMin: gainMin };
  if (slackMin < 0) return { kind: 'late', byMin: -slackMin, ...told };
  if (handsLateMin > 0) return { kind: 'hands', byMin: handsLateMin, ...told };
  return slackP90Min < 0 ? { kind: 'tight', byMin: -slackP90Min, ...told } : null;
}

/** Whether two panels that nobody has in hand need someone in the same minutes, and it may be the same person. */
function needsSameHands(entry: Bare, other: Bare, nowAt: Instant): boolean {
  const ofSamePerson =
    entry.state.by === null || other.state.by === null || entry.state.by === other.state.by;
  const [ownAt, otherAt] = [minuteOfNeed(entry, nowAt), minuteOfNeed(other, nowAt)];
  return (
    other !== entry &&
    ofSamePerson &&
    [entry, other].every(({ need }) => need !== 'sanding') &&
    Math.abs(ownAt - otherAt) <= SAME_MINUTES_MIN
  );
}

interface HandsDone {
  /** How late the promise is met when its person does all their promised panels alone, in the best order. */
  readonly lateMin: number;
  readonly rivalIds: readonly BatchId[];
}

/** For each person with two promises or more: how late each of them is met by this person alone. */
function doneByHands(entries: readonly Bare[], nowAt: Instant): Map<BatchId, HandsDone> {
  const found = new Map<BatchId, HandsDone>();
  const promised = entries.filter(
    ({ state, doneP50At }) => state.by !== null && state.promisedAt !== null && doneP50At !== null,
  );
  for (const by of new Set(promised.map(({ state }) => state.by))) {
    const own = promised.filter(({ state }) => state.by === by);
    const cars = [...new Set(own.map(carOf))].map((car) => own.filter((entry) => carOf(entry) === car));
    const nextCars = cars.sort((a, b) => dueOf(a) - dueOf(b)).slice(0, JOB_COUNT_MAX);
    if (nextCars.length < 2) continue;
    const { doneMin } = planHands(nextCars.map((car) => jobOf(car, nowAt)));
    for (const [index, car] of nextCars.entries()) {
      const lateMin = (doneMin[index] as number) - jobOf(car, nowAt).dueMin;
      const rivalIds = nextCars.filter((other) => other !== car).flatMap((other) => other.map(idOf));
      for (const entry of car) found.set(idOf(entry), { lateMin, rivalIds });
    }
  }
  return found;
}

function idOf({ state }: Bare): BatchId {
  return state.id;
}

/** Panels of one repair order are one car with one rest of work, told on each of them. */
function carOf({ state }: Bare): string {
  return state.repairOrder ?? state.id;
}

function dueOf(car: readonly Bare[]): number {
  return Math.min(...car.map(({ state }) => state.promisedAt as Instant));
}

/** A car's rest of work begins when its last panel is ready, and is as long as its longest. */
function jobOf(
  car: readonly Bare[],
  nowAt: Instant,
): { releaseMin: number; workMin: number; dueMin: number } {
  const rests = car.map(({ state, doneP50At }) => {
    const done = minutesBetween(nowAt, doneP50At as Instant);
    const begun = state.stage === 'sanding' ? 0 : done - (state.remainingWorkMin ?? 0);
    return { begun, work: done - begun };
  });
  return {
    releaseMin: Math.max(...rests.map(({ begun }) => begun)),
    workMin: Math.max(...rests.map(({ work }) => work)),
    dueMin: minutesBetween(nowAt, dueOf(car) as Instant),
  };
}

function compareNeed(a: PlanEntry, b: PlanEntry, nowAt: Instant): number {
  return (
    Number(a.need === 'sanding') - Number(b.need === 'sanding') ||
    compare(minuteOfNeed(a, nowAt), minuteOfNeed(b, nowAt)) ||
    Number(b.need === 'spread') - Number(a.need === 'spread') ||
    compare(a.slackMin ?? Infinity, b.slackMin ?? Infinity) ||
    compare(a.needAt ?? Infinity, b.needAt ?? Infinity) ||
    a.state.id.localeCompare(b.state.id)
  );
}

/** The whole minute from now on; what waits already needs someone this minute, however long it has waited. */
function minuteOfNeed({ needAt }: Pick<PlanEntry, 'needAt'>, nowAt: Instant): number {
  return needAt === null ? Infinity : Math.max(0, Math.floor(minutesBetween(nowAt, needAt)));
}

/** Of two numbers that may both be endless. */
function compare(aValue: number, bValue: number): number {
  return aValue === bValue ? 0 : aValue - bValue;
}
