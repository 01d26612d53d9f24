// A simulated clock that may be put on or back, as a machine's wall clock is: elapsed time and timers go on as if nothing was.
import { type Instant, instantFromMs } from '../../server/contract/index.ts';
import { makeSimulatedClock, type SimulatedClock } from './simulatedClock.ts';

export interface JumpingClock extends SimulatedClock {
  /** Puts the wall clock on by minutes, or back by a negative number of them. */
  jumpBy(durationMin: number): void;
}

/** Makes a clock that stands at an instant. */
export function makeJumpingClock(startAt: Instant): JumpingClock {
  const clock = makeSimulatedClock(startAt);
  let jumpedMs = 0;
  const wallOf = (instantAt: Instant): Instant => instantFromMs(instantAt + jumpedMs);
  const steadyOf = (instantAt: Instant): Instant => instantFromMs(instantAt - jumpedMs);
  return {
    ...clock,
    nowAt: () => wallOf(clock.nowAt()),
    wakeAt: (instantAt, onDue) => clock.wakeAt(steadyOf(instantAt), onDue),
    moveTo: (instantAt) => clock.moveTo(steadyOf(instantAt)),
    jumpBy(durationMin) {
      jumpedMs += durationMin * 60_000;
    },
  };
}
