// The lines of a diary: what sensors said, what people did, and when each batch was truly ready.
import type { BatchCommandWire, StartBatchWire } from '../../server/contract/index.ts';

export type DiaryLine = ReadingLine | CommandLine | TruthLine;

export interface ReadingLine {
  readonly at: string;
  readonly kind: 'reading';
  readonly sensorId: string;
  readonly airTemperatureC: number;
  readonly relativeHumidityPct: number;
}

/** A start with the body of POST /batches, or a command with the body of POST /batches/{id}/commands. */
export type CommandLine = {
  readonly at: string;
  readonly kind: 'command';
  /** The diary's own name of the batch. */
  readonly batch: string;
} & (({ readonly type: 'startBatch' } & StartBatchWire) | BatchCommandWire);

export interface TruthLine {
  /** When it was ready, or when it was given up. */
  readonly at: string;
  readonly kind: 'truth';
  readonly batch: string;
  readonly readyAt: string | null;
}
