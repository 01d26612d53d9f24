// The stack of slips: whose they are and which one comes first.
import type { BatchWire } from '../../server/contract/index.ts';
import { nextActAt, phaseOf } from '../format/phase.ts';

export interface Whose {
  readonly person: string | null;
  readonly isOnlyMine: boolean;
}

/** With so little time left to spread, a mix comes before everything that can wait [s]. */
const PERISHES_WITHIN_S = 120;

/** Whether a batch is shown to this person: their own and nobody's, or everyone's. */
export function isMine(batch: BatchWire, whose: Whose): boolean {
  return whose.person === null || !whose.isOnlyMine || batch.by === null || batch.by === whose.person;
}

/**
 * Batches by their next act: first a mix that is about to kick unspread, then tests that are due, then whatever comes
 * next by the clock, then what is being sanded, last what has no time.
 */
export function orderSlips(batches: readonly BatchWire[], nowAt: number): BatchWire[] {
  return [...batches].sort(
    (a, b) =>
      rankOf(a, nowAt) - rankOf(b, nowAt) ||
      instantOf(a) - instantOf(b) ||
      a.mixedAt.localeCompare(b.mixedAt) ||
      a.id.localeCompare(b.id),
  );
}

/** How soon a batch needs a hand: the lower, the sooner. */
export function rankOf(batch: BatchWire, nowAt: number): number {
  const phase = phaseOf(batch, nowAt);
  switch (phase.kind) {
    case 'spreadOver':
      return 0;
    case 'spreadWithin':
      return phase.remainingS <= PERISHES_WITHIN_S ? 0 : 2;
    case 'testDue':
    case 'testNow':
      return 1;
    case 'testIn':
      return 2;
    case 'sanding':
      return 3;
    case 'noTime':
    case 'closed':
      return 4;
  }
}

/** When a batch needs its next act, as far as anybody can tell. */
export function instantOf(batch: BatchWire): number {
  return nextActAt(batch) ?? Date.parse(batch.mixedAt);
}

/** Where a plain timer stands among them: with the tests that are due once it has ended, else with what comes by the clock. */
export const TIMER_RANKS = { ended: 1, running: 2 } as const;
