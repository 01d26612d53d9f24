// What differs between a day with faults and the same day without.
import type { Instant } from '../../../server/contract/index.ts';
import type { BatchState } from '../../../server/domain/batch.ts';
import type { Fact } from '../../../server/domain/facts.ts';
import { canonicalJson } from '../../support/canonicalJson.ts';
import type { PlayedDay } from './playTwice.ts';

/** A look that failed is made up for at the next one, a minute later at the latest, and a call follows its estimate. */
const LATER_MAX_MS = 75_000;
/**
 * People are told of a window again when it has moved by 15 s, so that each of two days may be off by so much; and the looks at
 * which they were told may lie a minute apart, in which the air itself may move a window by as much again.
 */
const WINDOW_MAX_MS = 45_000;

/**
 * The differences, in words; none is what is promised. Compared exactly: every reading with what was thought of it; every act of
 * a person, in order; every batch with all its fields but estimate, alerts and what the rules remember (`watch`). Compared within
 * a minute and a bit: when each call ("spread by", "test") that stood for longer than that came and went. Compared within 45 s: the
 * window that a batch had last. Left out, because a fault may rightly move it: sequences and `recordedAt`; how often an
 * estimate was told on the way; what a lesson says in its decimals, since it reads when the call came; alerts about sensors,
 * since a program that starts again counts silence from then; and warnings that hang on seconds (slowing, damp, cold, hot).
 */
export function differences(plain: PlayedDay, faulty: PlayedDay): string[] {
  return [
    ...differenceOf('readings', plain.air, faulty.air),
    ...differenceOf('acts', actsOf(plain.facts), actsOf(faulty.facts)),
    ...differenceOf('batches', plain.states.map(settledPart), faulty.states.map(settledPart)),
    ...plain.states.flatMap((state, index) => {
      const other = faulty.states[index];
      if (other === undefined) return [];
      return [...missedCalls(state, other), ...missedCalls(other, state), ...movedWindow(state, other)];
    }),
  ];
}

function differenceOf(what: string, one: readonly string[], other: readonly string[]): string[] {
  const index = one.findIndex((text, place) => text !== other[place]);
  if (index === -1 && one.length === other.length) return [];
  const place = index === -1 ? one.length : index;
  return [`${what} differ at ${place}: ${one[place] ?? 'nothing'} and ${other[place] ?? 'nothing'}`];
}

function actsOf(facts: readonly Fact[]): string[] {
  return facts
    .filter(({ by, type }) => by !== null || type === 'BatchStarted' || type === 'CheckRecorded')
    .map(({ sequence: _sequence, recordedAt: _recordedAt, ...fact }) => canonicalJson(fact));
}

function settledPart(state: BatchState): string {
  const {
    estimate: _estimate,
    alerts: _alerts,
    watch: _watch,
    lastAct,
    steeringSequence: _steering,
    ...rest
  } = state;
  return canonicalJson({
    ...rest,
    lastAct: lastAct === null ? null : { type: lastAct.type, by: lastAct.by },
  });
}

const CALLS: ReadonlySet<string> = new Set(['spreadBy', 'test']);

function callsOf({ alerts }: BatchState): BatchState['alerts'] {
  return alerts.filter(({ kind }) => CALLS.has(kind));
}

/** Calls of one that the other has not, at about the same time; one that was over before a look could be made up for may be. */
function missedCalls(one: BatchState, other: BatchState): string[] {
  return callsOf(one)
    .filter((call) => (call.withdrawnAt ?? Infinity) - call.raisedAt > LATER_MAX_MS)
    .filter((call) => !callsOf(other).some((twin) => isSameCall(call, twin)))
    .map(
      ({ id, raisedAt, withdrawnAt }) =>
        `${id}: raised at ${raisedAt}, withdrawn at ${withdrawnAt}, in one alone`,
    );
}

function isSameCall(one: BatchState['alerts'][number], other: BatchState['alerts'][number]): boolean {
  return (
    one.kind === other.kind &&
    isNear(one.raisedAt, other.raisedAt, LATER_MAX_MS) &&
    isNear(one.withdrawnAt, other.withdrawnAt, LATER_MAX_MS)
  );
}

function movedWindow(one: BatchState, other: BatchState): string[] {
  const parts = ['kickedAt', 'p10At', 'p50At', 'p90At', 'testFromAt'] as const;
  return parts
    .filter((part) => !isNear(one.estimate?.[part] ?? null, other.estimate?.[part] ?? null, WINDOW_MAX_MS))
    .map((part) => `${one.id}: ${part} is ${one.estimate?.[part]} and ${other.estimate?.[part]}`);
}

function isNear(one: Instant | null, other: Instant | null, withinMs: number): boolean {
  if (one === null || other === null) return one === other;
  return Math.abs(one - other) <= withinMs;
}
