// What is told of a sensor, from the newest of each of its quantities.
import type { Quantity, SensorSeen } from '../../application/ports/airTable.ts';
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
