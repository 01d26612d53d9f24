// The stack of Bench: batches and plain timers together, whatever needs a hand next on top.
import type { BatchWire } from '../../server/contract/index.ts';
import { instantOf, rankOf, TIMER_RANKS } from './slips.ts';
import type { PlainTimer } from './timers.ts';

export type StackEntry =
  | { readonly kind: 'batch'; readonly batch: BatchWire }
  | { readonly kind: 'timer'; readonly timer: PlainTimer };

/** Puts timers where their end comes among the ordered slips; one that has ended stands with the tests that are due. */
export function orderStack(
  slips: readonly BatchWire[],
  timers: readonly PlainTimer[],
  nowAt: number,
): StackEntry[] {
  const entries = [
    ...slips.map((batch) => ({
      entry: { kind: 'batch' as const, batch },
      rank: rankOf(batch, nowAt),
      instantAt: instantOf(batch),
    })),
    ...timers.map((timer) => ({
      entry: { kind: 'timer' as const, timer },
      rank: timer.endsAt <= nowAt ? TIMER_RANKS.ended : TIMER_RANKS.running,
      instantAt: timer.endsAt,
    })),
  ];
  // Stable: slips among themselves keep their order.
  return entries.sort((a, b) => a.rank - b.rank || a.instantAt - b.instantAt).map(({ entry }) => entry);
}
