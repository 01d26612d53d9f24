// Which readings count: what comes from the future, from yesterday, from a stranger, out of nowhere or from a stuck sensor
// is kept, marked, not used.
import type { Instant, Trust } from '../contract/index.ts';
import { AHEAD_MAX_MIN, instantAfter, minutesBetween } from './minutes.ts';

export type AsideReason = 'unknown-sensor' | 'future' | 'late' | 'contradicted' | 'step' | 'flat' | null;

export interface ReadingVerdict {
  readonly trust: Trust;
  readonly reason: AsideReason;
}

/** Where and when a reading comes from. */
export interface ReadingOrigin {
  readonly at: Instant;
  readonly nowAt: Instant;
  readonly isSensorKnown: boolean;
}

export interface ReadingQuestion extends ReadingOrigin {
  /** Change against this sensor's reading before it [K], and how long ago that was; null when there is none. */
  readonly step: { readonly changeK: number; readonly beforeAt: Instant } | null;
  /** Whether its sensor has been stuck for long. */
  readonly isFlat: boolean;
}

const LATE_MAX_MIN = 24 * 60;
/**
 * A door opened on a frosty morning is real; more than this within a minute is not (design ARCHITECTURE §3). Practice
 * outdoors allows 3 K from minute to minute (REFERENCES QC-2, QC-5): a door of a warm shop breaks that each morning.
 */
const STEP_MAX_K = 12;
const STEP_WITHIN_MIN = 1;

/** Judges one reading by where and when it comes from, by how far it jumped and by whether its sensor still moves. */
export function judgeReading(question: ReadingQuestion): ReadingVerdict {
  const aside = judgeOrigin(question);
  if (aside !== null) return { trust: 'aside', reason: aside };
  const { at, step, isFlat } = question;
  if (step !== null && isImpossibleStep(step, at)) return { trust: 'suspect', reason: 'step' };
  return isFlat ? { trust: 'suspect', reason: 'flat' } : { trust: 'good', reason: null };
}

/** Why a reading is set aside whatever it says; null when it is one of this shop and of this day. */
export function judgeOrigin({ at, nowAt, isSensorKnown }: ReadingOrigin): AsideReason {
  if (!isSensorKnown) return 'unknown-sensor';
  if (at > instantAfter(nowAt, AHEAD_MAX_MIN)) return 'future';
  return at < instantAfter(nowAt, -LATE_MAX_MIN) ? 'late' : null;
}

function isImpossibleStep(step: { changeK: number; beforeAt: Instant }, at: Instant): boolean {
  const sinceMin = minutesBetween(step.beforeAt, at);
  return sinceMin >= 0 && sinceMin <= STEP_WITHIN_MIN && Math.abs(step.changeK) > STEP_MAX_K;
}
