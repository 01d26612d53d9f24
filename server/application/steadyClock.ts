// Whether the clock may be believed when something is to be destroyed for being old. One that was put ahead makes everything
// old at once, and nothing in it says that it is wrong; but people see the time on every screen and put it right.
import type { Instant } from '../contract/index.ts';
import type { Clock } from './ports/clock.ts';

/** The two readings of a clock when it was first looked at, or when it was last found to have jumped. */
interface Anchor {
  readonly at: Instant;
  /** Shop time that elapsed [ms]. */
  readonly ranMs: number;
}

/** More than a machine sleeps in a night; what is kept for a week is destroyed at most this much too soon. */
const JUMP_MS = 24 * 60 * 60_000;
/** Shorter than a working day: a shop that is switched off each night comes to its turn as well. */
const STEADY_MIN_MS = 6 * 60 * 60_000;

/** One for each clock, gone with it. */
const anchors = new WeakMap<Clock, Anchor>();

/** Looks at the clock: has it gone on without a jump for so long as it takes to notice one? Also not soon after a start. */
export function isClockSteady(clock: Clock): boolean {
  const now: Anchor = { at: clock.nowAt(), ranMs: clock.elapsedMs() * clock.rate };
  const before = anchors.get(clock) ?? now;
  const ranMs = now.ranMs - before.ranMs;
  const hasJumped = Math.abs(now.at - before.at - ranMs) > JUMP_MS;
  anchors.set(clock, hasJumped ? now : before);
  return !hasJumped && ranMs >= STEADY_MIN_MS;
}
