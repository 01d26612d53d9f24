// A clock that keeps real time and can be put on by minutes, for screens that must count by themselves and wait for nothing.
import type { Clock } from '../../server/application/ports/clock.ts';
import { type Instant, instantFromMs } from '../../server/contract/index.ts';

export interface SkippingClock extends Clock {
  /** Puts the clock on to an instant; what falls due on the way runs at its own instant. */
  skipTo(instantAt: Instant): Promise<void>;
}

/** Makes a clock that starts at an instant. */
export function makeSkippingClock(startAt: Instant): SkippingClock {
  const startedMs = performance.now();
  const timers = new Set<NodeJS.Timeout>();
  let skippedMs = 0;
  let wake: { readonly instantAt: Instant; readonly run: () => void; readonly timer: NodeJS.Timeout } | null =
    null;
  const nowAt = (): Instant => instantFromMs(startAt + skippedMs + performance.now() - startedMs);
  function wakeAt(instantAt: Instant, run: () => void): void {
    if (wake !== null) clearTimeout(wake.timer);
    const timer = setTimeout(
      () => {
        wake = null;
        run();
      },
      Math.max(0, Math.ceil(instantAt - nowAt())),
    );
    wake = { instantAt, run, timer };
  }
  return {
    rate: 1,
    nowAt,
    elapsedMs: () => performance.now(),
    wakeAt,
    after(delayMs, run) {
      const timer = setTimeout(() => {
        timers.delete(timer);
        run();
      }, delayMs);
      timers.add(timer);
      return () => {
        timers.delete(timer);
        clearTimeout(timer);
      };
    },
    breathe: () => new Promise((done) => setImmediate(done)),
    stop() {
      if (wake !== null) clearTimeout(wake.timer);
      for (const timer of timers) clearTimeout(timer);
    },
    async skipTo(instantAt) {
      while (wake !== null && wake.instantAt <= instantAt) {
        const { instantAt: dueAt, run, timer } = wake;
        clearTimeout(timer);
        wake = null;
        skippedMs += Math.max(0, dueAt - nowAt());
        run();
        await settle();
      }
      skippedMs += Math.max(0, instantAt - nowAt());
    },
  };
}

/** Work that fell due awaits stores in memory: some turns let all of it finish. */
async function settle(): Promise<void> {
  for (let round = 0; round < 20; round += 1) await new Promise((done) => setImmediate(done));
}
