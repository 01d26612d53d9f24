// What is kept of one batch: its life as its facts tell it, and the window that stood before anyone touched the film.
import type { Instant } from '../contract/index.ts';
import type { BatchState, Check } from './batch.ts';
import { foldBatch, isAct, undoneSequences } from './evolveBatch.ts';
import type { Estimate, Fact, FactOf } from './facts.ts';
import { minutesBetween } from './minutes.ts';
import { probabilityAt } from './phase.ts';

/** Where in the window the film powdered: earlier than P10, between P10 and P90, later than P90. */
export type WindowPlace = 'early' | 'inside' | 'late';

/** What the window had said, against what really happened. */
export interface Said {
  readonly firstCheckAt: Instant;
  readonly outcome: Check['outcome'];
  /** Of "powders" at the first check, by the window that stood just before it; null without a window. */
  readonly probability: number | null;
  /** Null when it never powdered. */
  readonly powderedAt: Instant | null;
  /** From P50 to the check that powdered, negative when that was earlier; null without either. */
  readonly afterP50Min: number | null;
  readonly place: WindowPlace | null;
}

export interface BatchRecord {
  readonly state: BatchState;
  /** As it stood before the first check; the newest one where nobody has tested. */
  readonly window: Estimate | null;
  /** Null where nobody has tested. */
  readonly said: Said | null;
  readonly testAlertAt: Instant | null;
  /** Whoever did something on it, in the order of their first act. */
  readonly initials: readonly string[];
  readonly spreadBy: string | null;
  readonly closedBy: string | null;
  /** Start acknowledges the cautions shown: when it was tapped, and by whom. */
  readonly cautions: { readonly acknowledgedAt: Instant; readonly by: string | null };
}

/** The record of a batch from all its facts; null when there are none, or when its very start was undone. */
export function recordFrom(facts: readonly Fact[]): BatchRecord | null {
  const undone = undoneSequences(facts);
  const kept = facts.filter(({ sequence }) => !undone.has(sequence));
  const start = kept.find((fact): fact is FactOf<'BatchStarted'> => fact.type === 'BatchStarted');
  if (start === undefined) return null;
  const first = kept.find((fact): fact is FactOf<'CheckRecorded'> => fact.type === 'CheckRecorded');
  const state = foldBatch(facts) as BatchState;
  const before =
    first === undefined ? state : (foldBatch(facts.filter((fact) => isBefore(fact, first))) as BatchState);
  return {
    state: { ...state, checks: state.checks.toSorted((a, b) => a.at - b.at) },
    window: before.estimate,
    said: first === undefined ? null : saidOf(first, before, state),
    testAlertAt: state.alerts.find(({ kind }) => kind === 'test')?.raisedAt ?? null,
    initials: initialsIn(kept),
    spreadBy: kept.findLast(({ type }) => type === 'BatchSpread')?.by ?? null,
    closedBy: kept.findLast(({ type }) => type === 'BatchSanded' || type === 'BatchScrapped')?.by ?? null,
    cautions: { acknowledgedAt: start.recordedAt, by: start.by },
  };
}

function isBefore(fact: Fact, other: Fact): boolean {
  return fact.sequence < other.sequence;
}

function saidOf(first: FactOf<'CheckRecorded'>, before: BatchState, state: BatchState): Said {
  const { estimate } = before;
  const powderedAt = state.checks.findLast(({ outcome }) => outcome === 'powders')?.at ?? null;
  const p50At = estimate?.p50At ?? null;
  return {
    firstCheckAt: first.at,
    outcome: first.body.outcome,
    probability: probabilityAt(before, estimate, first.at),
    powderedAt,
    afterP50Min: powderedAt === null || p50At === null ? null : minutesBetween(p50At, powderedAt),
    place: powderedAt === null ? null : placeOf(powderedAt, estimate),
  };
}

function placeOf(powderedAt: Instant, estimate: Estimate | null): WindowPlace | null {
  if (estimate === null || estimate.p10At === null || estimate.p90At === null) return null;
  if (powderedAt < estimate.p10At) return 'early';
  return powderedAt > estimate.p90At ? 'late' : 'inside';
}

function initialsIn(facts: readonly Fact[]): string[] {
  return [...new Set(facts.flatMap((fact) => (isAct(fact) && fact.by !== null ? [fact.by] : [])))];
}
