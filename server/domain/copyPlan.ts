// When the next copy of the shop is due: by the shop's own clock, at an hour when nobody works.
import type { Instant } from '../contract/index.ts';
import { makeWallClock } from './localHours.ts';
import { AHEAD_MAX_MIN, instantAfter } from './minutes.ts';

export interface CopyPlan {
  /** From one copy to the next; a day or more waits for the quiet time. */
  readonly everyMin: number;
  /** Of the local day, after midnight. */
  readonly quietMin: number;
  readonly keepCount: number;
}

interface Made {
  readonly madeAt: Instant;
}

const DAY_MIN = 24 * 60;
/** A copy made by hand so shortly before the quiet time stands for that night's. */
const SLACK_MIN = 60;
/** The days looked through for a quiet time: one of them has it, also where clocks are changed. */
const LOOK_AHEAD_MIN = 3 * DAY_MIN;

/** When the next copy is due after those there are; now or earlier when one was missed, or there is none yet. */
export function nextCopyAt(
  plan: CopyPlan,
  { copies, nowAt, timeZone }: { copies: readonly Made[]; nowAt: Instant; timeZone: string },
): Instant {
  // A copy from a clock that ran ahead says nothing of when the last one was made.
  const past = copies.filter((copy) => !isAhead(copy, nowAt));
  if (past.length === 0) return nowAt;
  const lastAt = Math.max(...past.map(({ madeAt }) => madeAt)) as Instant;
  if (plan.everyMin < DAY_MIN) return instantAfter(lastAt, plan.everyMin);
  return quietTimeFrom(instantAfter(lastAt, plan.everyMin - DAY_MIN + SLACK_MIN), plan.quietMin, timeZone);
}

/**
 * Copies with the newest first. Those from a clock that ran ahead come last: they are no newer than it, and must not push
 * off the ones that are made after it was put right.
 */
export function newestFirst<Copy extends Made>(copies: readonly Copy[], nowAt: Instant): Copy[] {
  const rankOf = (copy: Copy): number => (isAhead(copy, nowAt) ? 1 : 0);
  return copies.toSorted((left, right) => rankOf(left) - rankOf(right) || right.madeAt - left.madeAt);
}

function isAhead({ madeAt }: Made, nowAt: Instant): boolean {
  return madeAt > instantAfter(nowAt, AHEAD_MAX_MIN);
}

/** The first instant from another on at which the wall clock of a day reaches the quiet time. */
export function quietTimeFrom(instantAt: Instant, quietMin: number, timeZone: string): Instant {
  const wall = makeWallClock(timeZone);
  const fromAt = wall.midnightBefore(instantAt, 0);
  const seen = new Set<string>();
  for (const hour of wall.hoursOf({ fromAt, toAt: instantAfter(fromAt, LOOK_AHEAD_MIN) })) {
    const lengthMin = (hour.toAt - hour.fromAt) / MS_PER_MIN;
    // Where the clock jumps over the quiet time, the moment after the jump stands for it; a doubled hour counts once.
    if (seen.has(hour.date) || hour.startMin + lengthMin <= quietMin) continue;
    seen.add(hour.date);
    const quietAt = instantAfter(hour.fromAt, Math.max(0, quietMin - hour.startMin));
    if (quietAt >= instantAt) return quietAt;
  }
  throw new Error('a day without a quiet time');
}

const MS_PER_MIN = 60_000;
