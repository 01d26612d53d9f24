// The way out to screens and lights, and the log: what happened is told, nothing is asked.
import type { AirMessage, BatchWire, BayWire, ChangeWire } from '../../contract/index.ts';

export interface LiveFeed {
  publishChange(change: ChangeWire): void;
  publishAir(message: AirMessage): void;
}

export type Light = 'off' | 'wait' | 'test' | 'stop';

/** Retained MQTT topics; best effort, said again at every start. */
export interface LightBoard {
  showLight(bayId: BayWire['id'], light: Light): void;
  showBatch(batch: BatchWire, isOpen: boolean): void;
}

export interface Log {
  info(event: string, content: Readonly<Record<string, unknown>>): void;
  warn(event: string, content: Readonly<Record<string, unknown>>): void;
  error(event: string, content: Readonly<Record<string, unknown>>): void;
}
