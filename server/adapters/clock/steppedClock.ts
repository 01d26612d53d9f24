// A clock that moves only when it is told to, as fast as its work is done: for days that are played again.
import type { Clock } from '../../application/ports/clock.ts';
import { type Instant, instantFromMs } from '../../contract/index.ts';

export interface SteppedClock extends Clock {
  /** Moves on to an instant; what falls due on the way runs at its own instant, in order, each after the other is done. */
  moveTo(instantAt: Instant): Promise<void>;
}

interface Due {
  readonly dueAt: Instant;
  readonly run: () => void;
}

/** Work that asks for more of itself at the same instant would hold the clock for ever: this often is a defect. */
const DUE_COUNT_MAX = 10_000;

/** Makes a clock that stands at an instant. Elapsed time goes with the shop's. */
export function makeSteppedClock(startAt: Instant): SteppedClock {
  let nowAt = startAt;
  let wake: Due | null = null;
  let waiting: Due[] = [];
  function takeNext(untilAt: Instant): Due | null {
    let next = wake;
    // Of one instant, what was asked for first; the wake last, since it looks at what the others have changed.
    for (const due of waiting.toReversed()) if (next === null || due.dueAt <= next.dueAt) next = due;
    if (next === null || next.dueAt > untilAt) return null;
    if (next === wake) wake = null;
    else waiting = waiting.filter((due) => due !== next);
    return next;
  }
  return {
    rate: 1,
    nowAt: () => nowAt,
    elapsedMs: () => nowAt - startAt,
    wakeAt(instantAt, run) {
      wake = { dueAt: instantAt, run };
    },
    after(delayMs, run) {
      const due = { dueAt: instantFromMs(nowAt + delayMs), run };
      waiting.push(due);
      return () => {
        waiting = waiting.filter((one) => one !== due);
      };
    },
    breathe: () => Promise.resolve(),
    stop() {
      wake = null;
      waiting = [];
    },
    async moveTo(instantAt) {
      if (instantAt < nowAt)
        throw new Error(`the clock stands at ${nowAt} and cannot go back to ${instantAt}`);
      let count = 0;
      for (let due = takeNext(instantAt); due !== null; due = takeNext(instantAt)) {
        count = due.dueAt > nowAt ? 1 : count + 1;
        if (count > DUE_COUNT_MAX) throw new Error(`more than ${DUE_COUNT_MAX} things fell due at ${nowAt}`);
        nowAt = instantFromMs(Math.max(nowAt, due.dueAt));
        due.run();
        await settle();
      }
      nowAt = instantAt;
    },
  };
}

/**
 * Lets what was begun be done. Stores in memory answer by promises alone, and the event loop takes up nothing else
 * before the last promise that follows from another has run: one turn of it is enough, however long the chain.
 */
function settle(): Promise<void> {
  return new Promise((resolve) => setImmediate(resolve));
}
