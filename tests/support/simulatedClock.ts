// A clock that only moves when told to: wall and elapsed time go together, and due work runs in order.
import type { Clock } from '../../server/application/ports/clock.ts';
import { type Instant, instantFromMs } from '../../server/contract/index.ts';

export interface SimulatedClock extends Clock {
  /** Moves on to an instant, running everything that falls due on the way. */
  moveTo(instantAt: Instant): Promise<void>;
  /** Moves on by minutes. */
  moveBy(durationMin: number): Promise<void>;
}

interface Timer {
  readonly dueAt: Instant;
  readonly run: () => void;
}

/** Makes a simulated clock that stands at an instant. */
export function makeSimulatedClock(startAt: Instant): SimulatedClock {
  let nowAt = startAt;
  let wake: Timer | null = null;
  const timers = new Set<Timer>();
  async function settle(): Promise<void> {
    // Work that fell due awaits stores and turns: several rounds let all of it finish.
    for (let round = 0; round < 20; round += 1) await new Promise((resolve) => setImmediate(resolve));
  }
  function takeNext(untilAt: Instant): Timer | null {
    const all = [...timers, ...(wake === null ? [] : [wake])].filter((timer) => timer.dueAt <= untilAt);
    const [next] = all.toSorted((a, b) => a.dueAt - b.dueAt);
    if (next === undefined) return null;
    if (next === wake) wake = null;
    timers.delete(next);
    return next;
  }
  async function moveTo(instantAt: Instant): Promise<void> {
    await settle();
    for (let next = takeNext(instantAt); next !== null; next = takeNext(instantAt)) {
      nowAt = instantFromMs(Math.max(nowAt, next.dueAt));
      next.run();
      await settle();
    }
    nowAt = instantAt;
    await settle();
  }
  return {
    rate: 1,
    nowAt: () => nowAt,
    elapsedMs: () => nowAt - startAt,
    wakeAt(instantAt, run) {
      wake = { dueAt: instantAt, run };
    },
    after(delayMs, run) {
      const timer = { dueAt: instantFromMs(nowAt + delayMs), run };
      timers.add(timer);
      return () => timers.delete(timer);
    },
    breathe: () => Promise.resolve(),
    stop: () => timers.clear(),
    moveTo,
    moveBy: (durationMin) => moveTo(instantFromMs(nowAt + durationMin * 60_000)),
  };
}
