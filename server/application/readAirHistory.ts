// The air of one bay over a span, in columns: every stored reading, or means over steps for charts.
import {
  type AirColumnsWire,
  type Instant,
  instantFromMs,
  isoFromInstant,
  type Trust,
} from '../contract/index.ts';
import type { AirRow, Quantity } from './ports/airTable.ts';
import type { AirQuestion } from './ports/doors.ts';
import { readBaySpan } from './readBayRows.ts';
import type { Shop } from './shop.ts';

interface AirLine {
  readonly at: Instant;
  readonly sensorId: string | null;
  readonly trust: Trust;
  readonly values: Partial<Record<Quantity, number>>;
}

/** Reads a bay's air in columns, oldest first; null for an unknown bay. */
export async function readAirHistory(
  shop: Shop,
  bayId: string,
  question: AirQuestion,
): Promise<AirColumnsWire | null> {
  if (!shop.facts.bays.some((bay) => bay.id === bayId)) return null;
  const { fromAt, toAt, stepMin } = question;
  const rows = await readBaySpan(shop, { bayId, fromAt, toAt, goodOnly: stepMin > 0 });
  const lines = stepMin === 0 ? linesOfReadings(rows) : linesOfMeans(rows, { fromAt, stepMin });
  const column = (quantity: Quantity): (number | null)[] =>
    lines.map((line) => line.values[quantity] ?? null);
  return {
    at: lines.map((line) => isoFromInstant(line.at)),
    sensorId: lines.map((line) => line.sensorId),
    airTemperatureC: column('airTemperatureC'),
    relativeHumidityPct: column('relativeHumidityPct'),
    panelTemperatureC: column('panelTemperatureC'),
    trust: lines.map((line) => line.trust),
  };
}

/** One line a sensor, instant and trust; every contradicting value gets a line of its own. */
function linesOfReadings(rows: readonly AirRow[]): AirLine[] {
  const lines = new Map<string, AirLine>();
  for (const row of rows) {
    const place = `${row.at} ${row.sensorId} ${row.trust}`;
    let key = place;
    for (let copy = 1; lines.get(key)?.values[row.quantity] !== undefined; copy += 1)
      key = `${place} ${copy}`;
    const line = lines.get(key) ?? { at: row.at, sensorId: row.sensorId, trust: row.trust, values: {} };
    line.values[row.quantity] = row.measurement;
    lines.set(key, line);
  }
  return [...lines.values()];
}

function linesOfMeans(
  rows: readonly AirRow[],
  { fromAt, stepMin }: { fromAt: Instant; stepMin: number },
): AirLine[] {
  const stepMs = stepMin * 60_000;
  const sums = new Map<number, Map<Quantity, { sum: number; count: number }>>();
  for (const row of rows) {
    const bin = Math.floor((row.at - fromAt) / stepMs);
    const ofBin = sums.get(bin) ?? new Map<Quantity, { sum: number; count: number }>();
    const mean = ofBin.get(row.quantity) ?? { sum: 0, count: 0 };
    ofBin.set(row.quantity, { sum: mean.sum + row.measurement, count: mean.count + 1 });
    sums.set(bin, ofBin);
  }
  return [...sums]
    .toSorted(([a], [b]) => a - b)
    .map(([bin, ofBin]) => ({
      at: instantFromMs(fromAt + (bin + 0.5) * stepMs),
      sensorId: null,
      trust: 'good',
      values: Object.fromEntries([...ofBin].map(([quantity, { sum, count }]) => [quantity, sum / count])),
    }));
}
