// The way out to the screens, and the log: what happened is told, nothing is asked.
import type { AirMessage, ChangeWire } from '../../contract/index.ts';

export interface LiveFeed {
  publishChange(change: ChangeWire): void;
  publishAir(message: AirMessage): void;
  /** Asks every screen to read the snapshot anew. */
  publishResync(): void;
}

export interface Log {
  info(event: string, content: Readonly<Record<string, unknown>>): void;
  warn(event: string, content: Readonly<Record<string, unknown>>): void;
  error(event: string, content: Readonly<Record<string, unknown>>): void;
}
