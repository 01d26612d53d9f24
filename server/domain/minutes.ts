// Time arithmetic of the domain: instants are epoch milliseconds, durations are minutes.
import type { Instant } from '../contract/index.ts';

const MS_PER_MIN = 60_000;

/** How far ahead of our clock an instant may lie and still count as now: clocks in a shop differ [min]. */
export const AHEAD_MAX_MIN = 1;

/** Minutes from one instant to another [min], negative when the other is earlier. */
export function minutesBetween(fromAt: Instant, toAt: Instant): number {
  return (toAt - fromAt) / MS_PER_MIN;
}

/** The instant some minutes after another, to the whole millisecond. */
export function instantAfter(fromAt: Instant, durationMin: number): Instant {
  return Math.round(fromAt + durationMin * MS_PER_MIN) as Instant;
}

/** The same where there may be no such duration. */
export function instantAfterOrNull(fromAt: Instant, durationMin: number | null): Instant | null {
  return durationMin === null ? null : instantAfter(fromAt, durationMin);
}
