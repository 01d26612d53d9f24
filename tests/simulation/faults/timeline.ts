// Simulated time: one queue of what falls due, elapsed time that never jumps, and a wall clock that does.
import type { Machine } from '../../../server/adapters/clock/pacedClock.ts';
import { type Instant, instantFromMs } from '../../../server/contract/index.ts';

export interface Timeline extends Machine {
  /** What the wall clock of the server shows. */
  nowAt(): Instant;
  /** Puts the wall clock on or back. */
  stepWall(byMs: number): void;
  /** Moves on to an elapsed time; what falls due on the way runs at its own time, each after the other is done. */
  runUntil(untilMs: number): Promise<void>;
  /** Lets what was begun be done, as far as it needs no time. */
  settle(): Promise<void>;
}

interface Due {
  readonly dueMs: number;
  readonly order: number;
  readonly run: () => void;
}

/** Work that asks for more of itself at the same moment would hold time for ever: this often is a defect. */
const SAME_MOMENT_COUNT_MAX = 20_000;

/** Makes a timeline whose wall clock starts at an instant; so many turns of the event loop let what was begun be done. */
export function makeTimeline(startAt: Instant, settleTurnsCount: number): Timeline {
  let elapsedMs = 0;
  let steppedMs = 0;
  let order = 0;
  const queue: Due[] = [];
  function isBefore(a: Due | undefined, b: Due | undefined): boolean {
    if (a === undefined || b === undefined) return a !== undefined;
    return a.dueMs < b.dueMs || (a.dueMs === b.dueMs && a.order < b.order);
  }
  function push(due: Due): void {
    queue.push(due);
    for (let index = queue.length - 1; index > 0;) {
      const parent = (index - 1) >> 1;
      if (!isBefore(queue[index], queue[parent])) return;
      swap(queue, index, parent);
      index = parent;
    }
  }
  function pop(): Due | undefined {
    const first = queue[0];
    const last = queue.pop();
    if (first === undefined || last === undefined || queue.length === 0) return first;
    queue[0] = last;
    for (let index = 0; ;) {
      const left = 2 * index + 1;
      const child = isBefore(queue[left + 1], queue[left]) ? left + 1 : left;
      if (!isBefore(queue[child], queue[index])) return first;
      swap(queue, index, child);
      index = child;
    }
  }
  return {
    elapsedMs: () => elapsedMs,
    nowAt: () => instantFromMs(startAt + elapsedMs + steppedMs),
    stepWall(byMs) {
      steppedMs += byMs;
    },
    setTimer(delayMs, run) {
      let isOn = true;
      order += 1;
      const dueMs = Math.ceil(elapsedMs + Math.max(0, delayMs));
      push({ dueMs, order, run: () => (isOn ? run() : undefined) });
      return () => {
        isOn = false;
      };
    },
    async runUntil(untilMs) {
      let momentCount = 0;
      while ((queue[0]?.dueMs ?? Infinity) <= untilMs) {
        const due = pop() as Due;
        momentCount = due.dueMs > elapsedMs ? 0 : momentCount + 1;
        if (momentCount > SAME_MOMENT_COUNT_MAX) throw new Error('time stands still: work begets work');
        elapsedMs = Math.max(elapsedMs, due.dueMs);
        due.run();
        await settle(settleTurnsCount);
      }
      elapsedMs = untilMs;
    },
    settle: () => settle(settleTurnsCount),
  };
}

function swap(queue: Due[], one: number, other: number): void {
  [queue[one], queue[other]] = [queue[other] as Due, queue[one] as Due];
}

/** Stores answer by promises alone, or within a few turns of the event loop. */
async function settle(turnsCount: number): Promise<void> {
  for (let turn = 0; turn < turnsCount; turn += 1) await new Promise((resolve) => setImmediate(resolve));
}
