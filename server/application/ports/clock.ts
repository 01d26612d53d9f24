// Time with two readings: the shop's instant, which may run fast or be simulated, and elapsed time, which never jumps.
import type { Instant } from '../../contract/index.ts';

export interface Clock {
  /** How many shop seconds pass in a second. */
  readonly rate: number;
  nowAt(): Instant;
  /** Milliseconds of real time since some start; for limits and retries. */
  elapsedMs(): number;
  /** Calls back once when the shop's instant is reached; asking again replaces the earlier wish. */
  wakeAt(instantAt: Instant, onDue: () => void): void;
  /** Calls back once after real time [ms]; the returned function calls it off. */
  after(delayMs: number, onDue: () => void): () => void;
  /** Lets waiting work go first. */
  breathe(): Promise<void>;
  stop(): void;
}
