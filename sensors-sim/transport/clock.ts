// The server's clock as seen from here: it is set from a snapshot and runs on at the server's own rate.
import { type Instant, instantFromMs } from '../../server/contract/index.ts';
import { elapsedMs } from './pause.ts';

export interface ServerClock {
  readonly rate: number;
  nowAt(): Instant;
  /** Real time since it was set [ms]. */
  ageMs(): number;
}

/** A clock that shows this instant now and runs at this rate. */
export function makeServerClock({ setAt, rate }: { setAt: Instant; rate: number }): ServerClock {
  const setMs = elapsedMs();
  const ageMs = (): number => elapsedMs() - setMs;
  return { rate, ageMs, nowAt: () => instantFromMs(setAt + ageMs() * rate) };
}
