// The way out to the screens, and the log: what happened is told, nothing is asked.
import type { AirMessage, ChangeWire } from '../../contract/index.ts';
import type { Sequence } from '../../domain/facts.ts';

export interface LiveFeed {
  publishChange(change: ChangeWire): void;
  publishAir(message: AirMessage): void;
  /** Asks every screen to read the snapshot anew; with a sequence also those that come back from before it. */
  publishResync(sequence?: Sequence): void;
}

export interface Log {
  info(event: string, content: Readonly<Record<string, unknown>>): void;
  warn(event: string, content: Readonly<Record<string, unknown>>): void;
  error(event: string, content: Readonly<Record<string, unknown>>): void;
}
