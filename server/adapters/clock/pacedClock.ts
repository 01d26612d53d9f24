// The shop's clock: wall time, or a simulated day that starts where it is told and runs at a rate.
import { type Instant, instantFromMs } from '../../contract/index.ts';
import type { Clock } from '../../application/ports/clock.ts';

/** The longest a timer can be set to; a later wish is looked at again then. */
const TIMER_MAX_MS = 2 ** 31 - 1;

/** Makes a clock that keeps wall time. */
export function makeWallClock(): Clock {
  return makeClock({ rate: 1, nowAt: () => instantFromMs(Date.now()) });
}

/** Makes a clock that starts at an instant and runs some times faster than the wall's. */
export function makePacedClock({ startAt, rate }: { startAt: Instant; rate: number }): Clock {
  const startedMs = performance.now();
  return makeClock({ rate, nowAt: () => instantFromMs(startAt + (performance.now() - startedMs) * rate) });
}

function makeClock({ rate, nowAt }: { rate: number; nowAt: () => Instant }): Clock {
  let wake: NodeJS.Timeout | undefined;
  const running = new Set<NodeJS.Timeout>();
  function wakeAt(instantAt: Instant, onDue: () => void): void {
    clearTimeout(wake);
    const delayMs = Math.max(0, Math.ceil((instantAt - nowAt()) / rate));
    wake = setTimeout(
      () => (nowAt() >= instantAt ? onDue() : wakeAt(instantAt, onDue)),
      Math.min(delayMs, TIMER_MAX_MS),
    );
  }
  return {
    rate,
    nowAt,
    elapsedMs: () => performance.now(),
    wakeAt,
    after(delayMs, onDue) {
      const timer = setTimeout(() => {
        running.delete(timer);
        onDue();
      }, delayMs);
      running.add(timer);
      return () => {
        running.delete(timer);
        clearTimeout(timer);
      };
    },
    breathe: () => new Promise((resolve) => setImmediate(resolve)),
    stop() {
      clearTimeout(wake);
      for (const timer of running) clearTimeout(timer);
    },
  };
}
