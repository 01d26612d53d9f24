// What is told of a sensor, from the newest of each of its quantities.
import type { AirRow, Quantity, SensorSeen } from '../../application/ports/airTable.ts';
import type { Instant } from '../../contract/index.ts';

/** The newest of one quantity of one sensor; of one instant the value that was there first. */
export interface Newest {
  readonly quantity: Quantity;
  /** Of any row. */
  readonly heardAt: Instant;
  /** Of a good or aside row; null while there is none. */
  readonly shownAt: Instant | null;
  readonly measurement: number | null;
}

/** A sensor's clock may run ahead of ours by this much; a row from further ahead says nothing of now [ms]. */
const AHEAD_MAX_MS = 60_000;

/** Whether a row's value may stand for what the sensor said last. */
export function isShown({ trust, at, recordedAt }: Pick<AirRow, 'trust' | 'at' | 'recordedAt'>): boolean {
  return trust !== 'suspect' && at <= recordedAt + AHEAD_MAX_MS;
}

/** When a row was heard: by its own instant, but never after we had it. */
export function heardAtOf({ at, recordedAt }: Pick<AirRow, 'at' | 'recordedAt'>): Instant {
  return Math.min(at, recordedAt) as Instant;
}

/** Joins the quantities of a sensor; one that sent only suspect rows is heard of, without values. */
export function sensorSeenFrom(sensorId: string, newest: readonly Newest[]): SensorSeen {
  const lastValues: Record<Quantity, number | null> = {
    airTemperatureC: null,
    relativeHumidityPct: null,
    panelTemperatureC: null,
  };
  for (const { quantity, measurement } of newest) lastValues[quantity] = measurement;
  const shown = newest.flatMap(({ shownAt }) => shownAt ?? []);
  const instants = shown.length > 0 ? shown : newest.map(({ heardAt }) => heardAt);
  return { sensorId, lastAt: Math.max(...instants) as Instant, lastValues };
}
