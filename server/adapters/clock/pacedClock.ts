// The shop's clock: wall time, or a simulated day that starts where it is told and runs at a rate.
import { type Instant, instantFromMs } from '../../contract/index.ts';
import type { Clock } from '../../application/ports/clock.ts';

/** What a clock runs on: the timers of this machine, or of a simulated one. */
export interface Machine {
  /** Milliseconds since some start; never jumps. */
  elapsedMs(): number;
  /** Calls back once; the returned function calls it off. */
  setTimer(delayMs: number, onDue: () => void): () => void;
}

/** The longest a timer can be set to; a later wish is looked at again then. */
const TIMER_MAX_MS = 2 ** 31 - 1;
/** A timer may come so much too early; what is missing of a wish after its delay beyond that, the wall clock was put back. */
const TIMER_SLACK_MS = 20;

/** Makes a clock that keeps wall time. */
export function makeWallClock(): Clock {
  return makeClockOn(THIS_MACHINE, { rate: 1, nowAt: () => instantFromMs(Date.now()) });
}

/** Makes a clock that starts at an instant and runs some times faster than the wall's. */
export function makePacedClock({ startAt, rate }: { startAt: Instant; rate: number }): Clock {
  const startedMs = performance.now();
  const nowAt = (): Instant => instantFromMs(startAt + (performance.now() - startedMs) * rate);
  return makeClockOn(THIS_MACHINE, { rate, nowAt });
}

/**
 * Makes a clock on the timers of a machine. A wish comes when its delay has passed, also where the wall clock was put back
 * meanwhile: whoever wished looks at the time and wishes again, and a shop must not stand still for the hour that was
 * lived twice.
 */
export function makeClockOn(machine: Machine, { rate, nowAt }: Pick<Clock, 'rate' | 'nowAt'>): Clock {
  let callOffWake = (): void => undefined;
  const running = new Set<() => void>();
  function wakeAt(instantAt: Instant, onDue: () => void): void {
    callOffWake();
    const delayMs = Math.max(0, Math.ceil((instantAt - nowAt()) / rate));
    callOffWake = machine.setTimer(Math.min(delayMs, TIMER_MAX_MS), () => {
      const leftMs = (instantAt - nowAt()) / rate;
      const isEarly = leftMs > 0 && (leftMs <= TIMER_SLACK_MS || delayMs > TIMER_MAX_MS);
      if (isEarly) wakeAt(instantAt, onDue);
      else onDue();
    });
  }
  return {
    rate,
    nowAt,
    elapsedMs: () => machine.elapsedMs(),
    wakeAt,
    after(delayMs, onDue) {
      const callOff = machine.setTimer(delayMs, () => {
        running.delete(callOff);
        onDue();
      });
      running.add(callOff);
      return () => {
        running.delete(callOff);
        callOff();
      };
    },
    breathe: () => new Promise((resolve) => setImmediate(resolve)),
    stop() {
      callOffWake();
      for (const callOff of running) callOff();
    },
  };
}

const THIS_MACHINE: Machine = {
  elapsedMs: () => performance.now(),
  setTimer(delayMs, onDue) {
    const timer = setTimeout(onDue, delayMs);
    return () => clearTimeout(timer);
  },
};
