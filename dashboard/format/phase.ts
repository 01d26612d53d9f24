// What a batch waits for right now: the one question a slip answers, from the batch's instants and the clock.
import type { BatchWire, EstimateWire } from '../../server/contract/index.ts';

/** Why no time can be told. */
export type NoTimeReason = 'pending' | 'no-air' | 'stalled' | 'unknown';

export type Phase =
  | { readonly kind: 'spreadWithin'; readonly remainingS: number }
  | { readonly kind: 'spreadOver' }
  | { readonly kind: 'testIn'; readonly remainingMin: number }
  | { readonly kind: 'testDue' }
  | { readonly kind: 'testNow'; readonly waitingMin: number }
  | { readonly kind: 'sanding'; readonly sinceMin: number }
  | { readonly kind: 'closed' }
  | { readonly kind: 'noTime'; readonly why: NoTimeReason };

const MS_PER_S = 1000;
export const MS_PER_MIN = 60_000;
/** The last stretch of the working time, in which the slip turns amber: as the spread-by alert of the shop. */
export const SPREAD_SOON_S = 90;
const SOON_PROBABILITY = 0.5;

/** Epoch milliseconds of an instant on the wire; null stays null. */
export function epochAt(text: string | null | undefined): number | null {
  if (text === null || text === undefined) return null;
  const epochMs = Date.parse(text);
  return Number.isFinite(epochMs) ? epochMs : null;
}

/** What the batch waits for at an instant. */
export function phaseOf(batch: BatchWire, nowAt: number): Phase {
  switch (batch.stage) {
    case 'wet':
      return batch.spreadAt === null ? spreadPhase(batch.estimate, nowAt) : curePhase(batch.estimate, nowAt);
    case 'kicked':
      return curePhase(batch.estimate, nowAt);
    case 'test':
      return { kind: 'testNow', waitingMin: wholeMinutesSince(epochAt(batch.estimate?.testFromAt), nowAt) };
    case 'sanding':
      return { kind: 'sanding', sinceMin: wholeMinutesSince(epochAt(batch.sandingAt), nowAt) };
    case 'sanded':
    case 'scrapped':
      return { kind: 'closed' };
  }
}

/** Whether the test is more likely than not to succeed already; shown as "soon", without an alert. */
export function isSoon(batch: BatchWire, nowAt: number): boolean {
  if (batch.stage !== 'wet' && batch.stage !== 'kicked') return false;
  const p50At = epochAt(batch.estimate?.test.p50At);
  return (batch.estimate?.probabilityNow ?? 0) >= SOON_PROBABILITY || (p50At !== null && p50At <= nowAt);
}

/** The instant of the next act in epoch ms; null when nobody can tell. */
export function nextActAt(batch: BatchWire): number | null {
  if (batch.stage === 'wet' && batch.spreadAt === null) return epochAt(batch.estimate?.spreadUntilAt);
  if (batch.stage === 'sanding') return epochAt(batch.sandingAt);
  return epochAt(batch.estimate?.testFromAt);
}

function spreadPhase(estimate: EstimateWire | null, nowAt: number): Phase {
  const untilAt = epochAt(estimate?.spreadUntilAt);
  if (untilAt === null) return { kind: 'noTime', why: whyNoTime(estimate) };
  const remainingS = Math.ceil((untilAt - nowAt) / MS_PER_S);
  return remainingS > 0 ? { kind: 'spreadWithin', remainingS } : { kind: 'spreadOver' };
}

function curePhase(estimate: EstimateWire | null, nowAt: number): Phase {
  const fromAt = epochAt(estimate?.testFromAt);
  if (fromAt === null) return { kind: 'noTime', why: whyNoTime(estimate) };
  const remainingMin = Math.ceil((fromAt - nowAt) / MS_PER_MIN);
  return remainingMin > 0 ? { kind: 'testIn', remainingMin } : { kind: 'testDue' };
}

function whyNoTime(estimate: EstimateWire | null): NoTimeReason {
  if (estimate === null) return 'pending';
  if (estimate.notes.includes('no-air')) return 'no-air';
  return estimate.notes.includes('stalled') ? 'stalled' : 'unknown';
}

function wholeMinutesSince(startAt: number | null, nowAt: number): number {
  return startAt === null ? 0 : Math.max(0, Math.floor((nowAt - startAt) / MS_PER_MIN));
}
