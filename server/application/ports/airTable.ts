// The air table of one shop: every reading that was acknowledged, once, with what was thought of it.
import type { Instant, Trust } from '../../contract/index.ts';
import type { AsideReason } from '../../domain/judgeReading.ts';

export const QUANTITIES = ['airTemperatureC', 'relativeHumidityPct', 'panelTemperatureC'] as const;
export type Quantity = (typeof QUANTITIES)[number];

/** One measured quantity. Its identity is sensor, quantity and instant. */
export interface AirRow {
  readonly sensorId: string;
  readonly quantity: Quantity;
  readonly at: Instant;
  /** In the unit that the quantity's name says. */
  readonly measurement: number;
  readonly recordedAt: Instant;
  readonly trust: Trust;
  readonly reason: RowReason;
}

/** Why a row is not used; or mean: a good one that stands for its ten minutes, whose other readings are gone. */
export type RowReason = AsideReason | 'mean';

/** repeated: the same value is there already; contradicted: kept, but set aside, since another value was there first. */
export type RecordOutcome = 'recorded' | 'repeated' | 'contradicted';

export interface SensorSeen {
  readonly sensorId: string;
  /** Newest good or aside row by the sensor's own instant, per quantity null when it never sent one. */
  readonly lastAt: Instant;
  readonly lastValues: Readonly<Record<Quantity, number | null>>;
}

export interface AirSpan {
  readonly sensorIds: readonly string[];
  readonly fromAt: Instant;
  readonly toAt: Instant;
  /** Only rows of trust good when true. */
  readonly goodOnly: boolean;
}

export interface Thinned {
  readonly removedCount: number;
  /** Whether nothing from before the instant is left to do. */
  readonly isDone: boolean;
}

/** Every method throws PortFailure when the store did not do its work. */
export interface AirTable {
  /** Resolves when the rows are on disk, in the order given; calls in one turn of the event loop share one commit. */
  record(rows: readonly AirRow[]): Promise<readonly RecordOutcome[]>;
  /** Both ends included; in order of instant, then sensor, then quantity. */
  readSpan(span: AirSpan): Promise<readonly AirRow[]>;
  /** The newest good row of each quantity of a sensor not after an instant. */
  readLatest(sensorIds: readonly string[], notAfterAt: Instant): Promise<readonly AirRow[]>;
  /** Every sensor that ever spoke, known or not. */
  readSensors(): Promise<readonly SensorSeen[]>;
  /** Takes rows that were set aside for an unknown sensor as good ones; all others stay as they are. Says how many. */
  trustKept(rows: readonly AirRow[]): Promise<number>;
  /**
   * Makes the next few hundred rows from before an instant into means of ten minutes, by sensor and quantity; goes on
   * where it last stopped, also after a crash. Ten minutes that hold the newest row of a series stay as they are.
   */
  thin(beforeAt: Instant): Promise<Thinned>;
}
