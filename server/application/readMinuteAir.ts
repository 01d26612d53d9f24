// A bay's trusted air over weeks, minute by minute: read in small parts, so that nobody waits behind it.
import { type Instant, instantFromMs, MS_PER_MIN } from '../contract/index.ts';
import { type AirPoint, mergeSensors, type SensorPoint } from '../domain/airSeries.ts';
import { instantAfter } from '../domain/minutes.ts';
import type { AirRow, Quantity } from './ports/airTable.ts';
import { readBaySpan } from './readBayRows.ts';
import type { Shop } from './shop.ts';

export interface MinuteAir {
  readonly air: readonly AirPoint[];
  readonly humidity: readonly AirPoint[];
  /** Panels that a sensor feels. */
  readonly panel: readonly AirPoint[];
}

export interface MinuteAirQuestion {
  readonly bayId: string;
  readonly fromAt: Instant;
  readonly toAt: Instant;
  /** Awaited between parts. */
  readonly pause: () => Promise<void>;
}

/** As much is read at once [min]: a sensor that speaks each second fills it with 7200 readings. */
const PART_MIN = 120;

/** Reads the air of a bay in means of whole minutes, all series in order of time. */
export async function readMinuteAir(
  shop: Shop,
  { bayId, fromAt, toAt, pause }: MinuteAirQuestion,
): Promise<MinuteAir> {
  const air: AirPoint[] = [];
  const humidity: AirPoint[] = [];
  const panel: AirPoint[] = [];
  for (let startAt = fromAt; startAt < toAt; startAt = instantAfter(startAt, PART_MIN)) {
    const endAt = Math.min(toAt, instantAfter(startAt, PART_MIN)) - 1;
    const rows = await readBaySpan(shop, {
      bayId,
      fromAt: startAt,
      toAt: endAt as Instant,
      goodOnly: true,
    });
    for (const point of minuteMeans(rows, 'airTemperatureC')) air.push(point);
    for (const point of minuteMeans(rows, 'relativeHumidityPct')) humidity.push(point);
    for (const point of minuteMeans(rows, 'panelTemperatureC')) panel.push(point);
    await pause();
  }
  return { air, humidity, panel };
}

function minuteMeans(rows: readonly AirRow[], quantity: Quantity): AirPoint[] {
  const points = rows.flatMap(({ sensorId, at, measurement, quantity: of }): SensorPoint[] =>
    of === quantity ? [{ sensorId, at, measurement }] : [],
  );
  const means: AirPoint[] = [];
  let inMinute = { key: Number.NaN, sum: 0, count: 0 };
  const close = (): void => {
    const { key, sum, count } = inMinute;
    if (count > 0) means.push({ at: instantFromMs((key + 0.5) * MS_PER_MIN), measurement: sum / count });
  };
  for (const { at, measurement } of mergeSensors(points)) {
    const key = Math.floor(at / MS_PER_MIN);
    if (key !== inMinute.key) {
      close();
      inMinute = { key, sum: 0, count: 0 };
    }
    inMinute = { key, sum: inMinute.sum + measurement, count: inMinute.count + 1 };
  }
  close();
  return means;
}
