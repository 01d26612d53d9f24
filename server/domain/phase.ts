// Where time alone has brought a curing batch: wet, kicked or worth testing.
import type { Instant } from '../contract/index.ts';
import { normalProbability } from '../engine/index.ts';
import type { BatchState } from './batch.ts';
import type { Card } from './card.ts';
import type { Estimate, Phase } from './facts.ts';
import { instantAfter, minutesBetween } from './minutes.ts';

/**
 * The phase at an instant. Without an estimate the tin's working time ends the wet phase,
 * and nothing but a person's own look ends the kicked one.
 */
export function phaseAt(
  state: BatchState,
  { estimate, card, nowAt }: { estimate: Estimate | null; card: Card; nowAt: Instant },
): Phase {
  if (nowAt < kickedAtFrom(state, { estimate, card })) return 'wet';
  const testFromAt = estimate?.testFromAt ?? null;
  return testFromAt !== null && nowAt >= testFromAt ? 'test' : 'kicked';
}

/** When the mix can no longer be spread: as estimated, else as the tin says. */
export function kickedAtFrom(
  state: BatchState,
  { estimate, card }: { estimate: Estimate | null; card: Card },
): Instant {
  return estimate?.kickedAt ?? instantAfter(state.mixedAt, card.workingMin);
}

/** The standard normal quantiles of P10 and P90. */
const P90_QUANTILE = 1.2815515655446004;

/**
 * The probability 0 … 1 that a film is worth testing at an instant, read off the stored window:
 * straight in the logarithm of time between P10, P50 and P90, and on along the same lines outside. Null without a window.
 */
export function probabilityAt(state: BatchState, estimate: Estimate | null, nowAt: Instant): number | null {
  if (estimate === null || estimate.p10At === null || estimate.p50At === null || estimate.p90At === null)
    return null;
  const nowMin = minutesBetween(state.mixedAt, nowAt);
  if (nowMin <= 0) return 0;
  const [p10, p50, p90] = [estimate.p10At, estimate.p50At, estimate.p90At].map((at) =>
    Math.log(Math.max(minutesBetween(state.mixedAt, at), Number.MIN_VALUE)),
  ) as [number, number, number];
  const offset = Math.log(nowMin) - p50;
  const spread = offset < 0 ? p50 - p10 : p90 - p50;
  // A film that only cools has one instant for all its members.
  if (spread === 0) return offset < 0 ? 0 : 1;
  return normalProbability((P90_QUANTILE * offset) / spread);
}
