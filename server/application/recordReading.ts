// The door for air: judges readings, stores them, and only then lets them be acknowledged; marks the bays they speak of.
import {
  type Instant,
  instantFromMs,
  isoFromInstant,
  type Reading,
  type ReadingsAnswer,
} from '../contract/index.ts';
import { judgeOrigin, judgeReading } from '../domain/judgeReading.ts';
import { breaksRuns, extendRuns, isFlat, type SensorWord } from '../domain/sensorRuns.ts';
import { dewPointC } from '../engine/index.ts';
import { markBay } from './advanceTime.ts';
import { noteBayRows } from './bayAirMemory.ts';
import { type AirRow, QUANTITIES, type Quantity, type RecordOutcome } from './ports/airTable.ts';
import { newestOf } from './readBayAir.ts';
import { correctRows, readBayLatest } from './readBayRows.ts';
import { forgetSensors, recallSensor, type SensorMemory } from './sensorMemory.ts';
import { noteHeard } from './sensorsHeard.ts';
import type { Shop } from './shop.ts';

/** The other quantity of a bay is shown beside a new one while it is no older than this. */
const BESIDE_MAX_MS = 10 * 60_000;

/** Stores what sensors said. Resolves when it is on disk: from then on it may be acknowledged. */
export async function recordReading(shop: Shop, readings: readonly Reading[]): Promise<ReadingsAnswer> {
  const { judged, doubtful } = await judgeAll(shop, readings);
  const outcomes = await recordOrForget(shop, judged);
  noteHeard(
    shop,
    judged.map(({ row }) => row),
  );
  forgetSensors(shop, doubtful);
  const answer = countOutcomes(judged, outcomes);
  for (const [bayId, rows] of newsByBay(shop, judged, outcomes)) {
    noteBayRows(shop, bayId, rows);
    markBay(shop, bayId);
  }
  await publishNews(shop, judged, outcomes);
  return answer;
}

interface JudgedRow {
  readonly index: number;
  readonly row: AirRow;
}

/** Stores rows; what could not be stored is not remembered either. */
async function recordOrForget(shop: Shop, judged: readonly JudgedRow[]): Promise<readonly RecordOutcome[]> {
  try {
    return await shop.air.record(judged.map((one) => one.row));
  } catch (error) {
    forgetSensors(shop, new Set(judged.map((one) => one.row.sensorId)));
    throw error;
  }
}

/** Judges the readings of a message in their order; of doubtful sensors the memory no longer fits what will be stored. */
async function judgeAll(
  shop: Shop,
  readings: readonly Reading[],
): Promise<{ judged: JudgedRow[]; doubtful: Set<string> }> {
  const nowAt = shop.clock.nowAt();
  const words = wordsFrom(readings);
  const flat = new Map<SensorWord, boolean>();
  const judged: JudgedRow[] = [];
  const doubtful = new Set<string>();
  for (const reading of readings) {
    const { sensorId, at, airTemperatureC } = reading;
    const origin = { at, nowAt, isSensorKnown: shop.facts.bayOfSensor.has(sensorId) };
    const memory = judgeOrigin(origin) === null ? await recallSensor(shop, reading) : null;
    const word = words.get(wordKey(reading)) as SensorWord;
    if (memory !== null && !flat.has(word)) {
      if (breaksRuns(memory.runs, word)) doubtful.add(sensorId);
      memory.runs = extendRuns(memory.runs, word);
      flat.set(word, isFlat(memory.runs, word));
    }
    // Waits only for what comes out of order: messages of one moment are judged one after the other.
    const newest = memory?.newestAir ?? null;
    const isOld = airTemperatureC !== undefined && newest !== null && at < newest.at;
    const step = stepBetween(isOld ? await readAirBefore(shop, reading) : newest, airTemperatureC);
    const verdict = judgeReading({ ...origin, step, isFlat: flat.get(word) ?? false });
    const isNewest = memory !== null && (newest === null || at > newest.at);
    if (verdict.trust === 'good' && airTemperatureC !== undefined && isNewest)
      memory.newestAir = { at, measurement: airTemperatureC };
    judged.push(...rowsOf(reading, { recordedAt: nowAt, ...verdict }));
  }
  return { judged, doubtful };
}

/** Temperature and humidity of one instant are one word of a sensor, also where they come as readings of their own. */
function wordsFrom(readings: readonly Reading[]): Map<string, SensorWord> {
  const words = new Map<string, SensorWord>();
  for (const reading of readings) {
    const { at, airTemperatureC, relativeHumidityPct } = reading;
    const word = words.get(wordKey(reading));
    words.set(wordKey(reading), {
      at,
      airTemperatureC: word?.airTemperatureC ?? airTemperatureC,
      relativeHumidityPct: word?.relativeHumidityPct ?? relativeHumidityPct,
    });
  }
  return words;
}

function wordKey({ sensorId, at }: Reading): string {
  return `${sensorId} ${at}`;
}

/** The good air of a sensor before a reading that came out of order. */
async function readAirBefore(shop: Shop, { sensorId, at }: Reading): Promise<SensorMemory['newestAir']> {
  const rows = await shop.air.readLatest([sensorId], instantFromMs(at - 1));
  return rows.find((row) => row.quantity === 'airTemperatureC') ?? null;
}

function stepBetween(
  before: SensorMemory['newestAir'],
  airTemperatureC: number | undefined,
): { changeK: number; beforeAt: Instant } | null {
  if (before === null || airTemperatureC === undefined) return null;
  return { changeK: airTemperatureC - before.measurement, beforeAt: before.at };
}

function rowsOf(reading: Reading, judgement: Pick<AirRow, 'recordedAt' | 'trust' | 'reason'>): JudgedRow[] {
  const { sensorId, at, index } = reading;
  return QUANTITIES.flatMap((quantity) => {
    const measurement = reading[quantity];
    return measurement === undefined
      ? []
      : [{ index, row: { sensorId, quantity, at, measurement, ...judgement } }];
  });
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

function newsByBay(
  shop: Shop,
  judged: readonly JudgedRow[],
  outcomes: readonly RecordOutcome[],
): Map<string, AirRow[]> {
  const bays = new Map<string, AirRow[]>();
  for (const [position, { row }] of judged.entries()) {
    const bayId = shop.facts.bayOfSensor.get(row.sensorId);
    if (bayId === undefined || !isNews(row, outcomes[position])) continue;
    const rows = bays.get(bayId) ?? [];
    rows.push(row);
    bays.set(bayId, rows);
  }
  return bays;
}

/** One live message for each sensor and instant, with the bay's other quantity beside it where the sensor said but one. */
async function publishNews(
  shop: Shop,
  judged: readonly JudgedRow[],
  outcomes: readonly RecordOutcome[],
): Promise<void> {
  const words = new Map<string, { readonly bayId: string; readonly rows: AirRow[] }>();
  for (const [position, { row }] of judged.entries()) {
    const bayId = shop.facts.bayOfSensor.get(row.sensorId);
    if (bayId === undefined || !isNews(row, outcomes[position])) continue;
    const name = `${row.sensorId} ${row.at}`;
    const word = words.get(name) ?? { bayId, rows: [] };
    word.rows.push(row);
    words.set(name, word);
  }
  for (const { bayId, rows } of words.values()) await publishWord(shop, bayId, rows);
}

async function publishWord(shop: Shop, bayId: string, rows: readonly AirRow[]): Promise<void> {
  const { at } = rows[0] as AirRow;
  const own = correctRows(shop, bayId, rows);
  const isWhole = SHOWN.every((quantity) => own.some((row) => row.quantity === quantity));
  const latest = isWhole ? [] : await readBayLatest(shop, bayId, at);
  const known = [...own, ...latest.filter((one) => at - one.at <= BESIDE_MAX_MS)];
  const newest = (quantity: Quantity): number | null => newestOf(known, quantity)?.measurement ?? null;
  const airTemperatureC = newest('airTemperatureC');
  const relativeHumidityPct = newest('relativeHumidityPct');
  shop.live.publishAir({
    bayId,
    at: isoFromInstant(at),
    airTemperatureC,
    relativeHumidityPct,
    dewPointC: dewPointOrNull({ airTemperatureC, relativeHumidityPct }),
  });
}

/** What a bay's air is shown by. */
const SHOWN = ['airTemperatureC', 'relativeHumidityPct'] as const;

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
