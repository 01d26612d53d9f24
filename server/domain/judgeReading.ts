// Which readings count: what comes from the future, from yesterday, from a stranger or out of nowhere is kept, marked, not used.
import type { Instant, Trust } from '../contract/index.ts';
import { instantAfter, minutesBetween } from './minutes.ts';

export type AsideReason = 'unknown-sensor' | 'future' | 'late' | 'contradicted' | 'step' | null;

export interface ReadingVerdict {
  readonly trust: Trust;
  readonly reason: AsideReason;
}

export interface ReadingQuestion {
  readonly at: Instant;
  readonly nowAt: Instant;
  readonly isSensorKnown: boolean;
  /** Change against this sensor's reading before it [K], and how long ago that was; null when there is none. */
  readonly step: { readonly changeK: number; readonly beforeAt: Instant } | null;
}

const AHEAD_MAX_MIN = 1;
const LATE_MAX_MIN = 24 * 60;
/** A door opened on a frosty morning is real; more than this within a minute is not (design ARCHITECTURE §3). */
const STEP_MAX_K = 12;
const STEP_WITHIN_MIN = 1;

/** Judges one reading by where and when it comes from and by how far it jumped. */
export function judgeReading({ at, nowAt, isSensorKnown, step }: ReadingQuestion): ReadingVerdict {
  if (!isSensorKnown) return { trust: 'aside', reason: 'unknown-sensor' };
  if (at > instantAfter(nowAt, AHEAD_MAX_MIN)) return { trust: 'aside', reason: 'future' };
  if (at < instantAfter(nowAt, -LATE_MAX_MIN)) return { trust: 'aside', reason: 'late' };
  if (step !== null && isImpossibleStep(step, at)) return { trust: 'suspect', reason: 'step' };
  return { trust: 'good', reason: null };
}

function isImpossibleStep(step: { changeK: number; beforeAt: Instant }, at: Instant): boolean {
  const sinceMin = minutesBetween(step.beforeAt, at);
  return sinceMin >= 0 && sinceMin <= STEP_WITHIN_MIN && Math.abs(step.changeK) > STEP_MAX_K;
}
