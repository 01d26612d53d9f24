// The door for air: judges readings, stores them, and only then lets them be acknowledged; marks the bays they speak of.
import {
  type Instant,
  instantFromMs,
  isoFromInstant,
  type Reading,
  type ReadingsAnswer,
} from '../contract/index.ts';
import { judgeReading } from '../domain/judgeReading.ts';
import { dewPointC } from '../engine/index.ts';
import { markBay } from './advanceTime.ts';
import { type AirRow, QUANTITIES, type Quantity, type RecordOutcome } from './ports/airTable.ts';
import { sensorsOfBay } from './readBayAir.ts';
import type { Shop } from './shop.ts';

/** The other quantity of a bay is shown beside a new one while it is no older than this. */
const BESIDE_MAX_MS = 10 * 60_000;

/** Stores what sensors said. Resolves when it is on disk: from then on it may be acknowledged. */
export async function recordReading(shop: Shop, readings: readonly Reading[]): Promise<ReadingsAnswer> {
  const judged = await judgeAll(shop, readings);
  const outcomes = await shop.air.record(judged.map((one) => one.row));
  const answer = countOutcomes(judged, outcomes);
  for (const bayId of baysWithNews(shop, judged, outcomes)) markBay(shop, bayId);
  await publishNews(shop, judged, outcomes);
  return answer;
}

interface JudgedRow {
  readonly index: number;
  readonly row: AirRow;
}

async function judgeAll(shop: Shop, readings: readonly Reading[]): Promise<JudgedRow[]> {
  const nowAt = shop.clock.nowAt();
  const before = new Map<string, { measurement: number; at: Instant }>();
  const judged: JudgedRow[] = [];
  for (const reading of readings) {
    const isSensorKnown = shop.facts.bayOfSensor.has(reading.sensorId);
    const latestC = isSensorKnown ? await latestBefore(shop, reading, before) : null;
    const airC = reading.airTemperatureC;
    const step =
      latestC === null || airC === undefined
        ? null
        : { changeK: airC - latestC.measurement, beforeAt: latestC.at };
    const verdict = judgeReading({ at: reading.at, nowAt, isSensorKnown, step });
    if (verdict.trust === 'good' && airC !== undefined)
      before.set(reading.sensorId, { measurement: airC, at: reading.at });
    for (const quantity of QUANTITIES) {
      const measurement = reading[quantity];
      if (measurement === undefined) continue;
      const { sensorId, at } = reading;
      judged.push({
        index: reading.index,
        row: { sensorId, quantity, at, measurement, recordedAt: nowAt, ...verdict },
      });
    }
  }
  return judged;
}

async function latestBefore(
  shop: Shop,
  reading: Reading,
  before: ReadonlyMap<string, { measurement: number; at: Instant }>,
): Promise<{ measurement: number; at: Instant } | null> {
  if (reading.airTemperatureC === undefined) return null;
  const inMessage = before.get(reading.sensorId);
  if (inMessage !== undefined && inMessage.at <= reading.at) return inMessage;
  const rows = await shop.air.readLatest([reading.sensorId], instantFromMs(reading.at - 1));
  return rows.find((row) => row.quantity === 'airTemperatureC') ?? null;
}

/** Counts readings, not quantities; one that is in part new and in part set aside stands under both. */
function countOutcomes(judged: readonly JudgedRow[], outcomes: readonly RecordOutcome[]): ReadingsAnswer {
  const recorded = new Set<number>();
  const repeated = new Set<number>();
  const setAside = new Map<number, string>();
  for (const [position, { index, row }] of judged.entries()) {
    const outcome = outcomes[position];
    if (outcome === 'contradicted') setAside.set(index, 'contradicted');
    else if (row.trust !== 'good') setAside.set(index, row.reason ?? 'suspect');
    else if (outcome === 'recorded') recorded.add(index);
    else repeated.add(index);
  }
  for (const index of recorded) repeated.delete(index);
  return {
    recorded: recorded.size,
    repeated: repeated.size,
    setAside: [...setAside].map(([index, reason]) => ({ index, reason })),
  };
}

function isNews(row: AirRow, outcome: RecordOutcome | undefined): boolean {
  return row.trust === 'good' && outcome === 'recorded';
}

function baysWithNews(
  shop: Shop,
  judged: readonly JudgedRow[],
  outcomes: readonly RecordOutcome[],
): Set<string> {
  const bays = new Set<string>();
  for (const [position, { row }] of judged.entries()) {
    const bayId = shop.facts.bayOfSensor.get(row.sensorId);
    if (bayId !== undefined && isNews(row, outcomes[position])) bays.add(bayId);
  }
  return bays;
}

/** One live message for each sensor and instant, with the bay's other quantity beside it. */
async function publishNews(
  shop: Shop,
  judged: readonly JudgedRow[],
  outcomes: readonly RecordOutcome[],
): Promise<void> {
  const told = new Set<string>();
  for (const [position, { row }] of judged.entries()) {
    const bayId = shop.facts.bayOfSensor.get(row.sensorId);
    if (bayId === undefined || !isNews(row, outcomes[position]) || told.has(`${row.sensorId} ${row.at}`))
      continue;
    told.add(`${row.sensorId} ${row.at}`);
    const latest = await shop.air.readLatest(sensorsOfBay(shop, bayId), row.at);
    const newest = (quantity: Quantity): number | null => newestOf(latest, quantity, row.at);
    const airTemperatureC = newest('airTemperatureC');
    const relativeHumidityPct = newest('relativeHumidityPct');
    shop.live.publishAir({
      bayId,
      at: isoFromInstant(row.at),
      airTemperatureC,
      relativeHumidityPct,
      dewPointC: dewPointOrNull({ airTemperatureC, relativeHumidityPct }),
    });
  }
}

function newestOf(rows: readonly AirRow[], quantity: Quantity, at: Instant): number | null {
  const fitting = rows.filter((row) => row.quantity === quantity && at - row.at <= BESIDE_MAX_MS);
  return fitting.toSorted((a, b) => b.at - a.at)[0]?.measurement ?? null;
}

/** The dew point where both quantities are known and air is not bone dry [°C]. */
export function dewPointOrNull({
  airTemperatureC,
  relativeHumidityPct,
}: {
  airTemperatureC: number | null;
  relativeHumidityPct: number | null;
}): number | null {
  if (airTemperatureC === null || relativeHumidityPct === null || relativeHumidityPct <= 0) return null;
  return dewPointC(airTemperatureC, relativeHumidityPct);
}
