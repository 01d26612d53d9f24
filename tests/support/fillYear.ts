// A year of a shop in a store, made fast: one day is played through the real middle, its facts are told again for every day,
// and two bays say their air each minute. The same seed gives the same file.
import type { DatabaseSyncInstance } from '@photostructure/sqlite';
import { openDatabase } from '../../server/adapters/ledger/sqlite/openDatabase.ts';
import { makeSqliteStore } from '../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import { rebuildViews } from '../../server/application/rebuildViews.ts';
import { handleCommand } from '../../server/application/handleCommand.ts';
import { recordReading } from '../../server/application/recordReading.ts';
import { type Instant, instantFromMs } from '../../server/contract/index.ts';
import type { Fact, Sequence } from '../../server/domain/facts.ts';
import { makeSimulatedClock } from './simulatedClock.ts';
import { openTestShop, start } from './testShop.ts';

export interface YearSize {
  readonly days: number;
  readonly batchesADayCount: number;
  /** In this instant's day the year ends; whole days before it are filled. */
  readonly untilAt: Instant;
  readonly seed: number;
}

const MIN_MS = 60_000;
const DAY_MS = 1440 * MIN_MS;
/** The first mix of a day, minutes after midnight; the day is over by evening. */
const FIRST_MIX_MIN = 450;
const WORK_MIN = 540;
/** From mixing to the test that ends it, and on to sanded. */
const CURE_MIN = 40;
const SAND_MIN = 6;

/** Fills a new file; says how much it holds. */
export async function fillYear(
  file: string,
  size: YearSize,
): Promise<{ factCount: number; readingCount: number }> {
  const database = openDatabase({ file, ledgerIdForNew: 'a-year' });
  const firstAt = instantFromMs(Math.floor(size.untilAt / DAY_MS) * DAY_MS - size.days * DAY_MS);
  const day = await playDay(firstAt, size);
  const factCount = tellFacts(database, day, size);
  const readingCount = sayAir(database, firstAt, size);
  const { ledger } = makeSqliteStore(database);
  await rebuildViews(ledger, { isMending: true });
  await ledger.close();
  return { factCount, readingCount };
}

interface PlayedDay {
  /** Of the start alone: products calibrated. */
  readonly opening: readonly Fact[];
  readonly facts: readonly Fact[];
}

async function playDay(dayAt: Instant, { batchesADayCount, seed }: YearSize): Promise<PlayedDay> {
  const clock = makeSimulatedClock(instantFromMs(dayAt + (FIRST_MIX_MIN - 60) * MIN_MS));
  const test = await openTestShop({ clock });
  const { shop } = test;
  const opening = await shop.ledger.readFacts({ afterSequence: 0 as Sequence, limit: 10_000 });
  const open: { id: string; mixedMin: number }[] = [];
  const everyMin = Math.max(1, Math.floor((WORK_MIN - CURE_MIN - SAND_MIN) / batchesADayCount));
  let mixedCount = 0;
  for (let minute = FIRST_MIX_MIN - 60; minute < FIRST_MIX_MIN + WORK_MIN; minute += 1) {
    await clock.moveTo(instantFromMs(dayAt + minute * MIN_MS));
    const at = clock.nowAt();
    await recordReading(
      shop,
      [1, 2].map((bay, index) => ({ index, sensorId: `bay-${bay}-air`, at, ...airAt(minute, bay + seed) })),
    );
    if (mixedCount < batchesADayCount && minute >= FIRST_MIX_MIN + mixedCount * everyMin) {
      const { id } = await start(test, {
        bayId: `bay-${1 + (mixedCount % 2)}`,
        repairOrder: `${4700 + mixedCount}`,
      });
      open.push({ id, mixedMin: minute });
      mixedCount += 1;
    }
    for (const { id, mixedMin } of open) {
      const ask = (body: Parameters<typeof handleCommand>[2]['body']) =>
        handleCommand(shop, id, { key: `${id} ${minute}`, body });
      if (minute === mixedMin + CURE_MIN) await ask({ type: 'recordCheck', outcome: 'powders' });
      if (minute === mixedMin + CURE_MIN + SAND_MIN) await ask({ type: 'finishSanding' });
    }
  }
  clock.stop();
  const all = await shop.ledger.readFacts({ afterSequence: 0 as Sequence, limit: 100_000 });
  return { opening, facts: all.slice(opening.length) };
}

/** A mild day with a wobble that differs by bay. */
function airAt(minute: number, phase: number): { airTemperatureC: number; relativeHumidityPct: number } {
  const airTemperatureC = 17 + 3 * Math.sin((minute - 480) / 230) + 0.4 * Math.sin(minute / 7 + phase);
  return {
    airTemperatureC: Math.round(airTemperatureC * 100) / 100,
    relativeHumidityPct: Math.round((60 + 8 * Math.sin(minute / 97 + phase)) * 10) / 10,
  };
}

/** Tells the day's facts for each day, every instant, sequence and name moved on. */
function tellFacts(
  database: DatabaseSyncInstance,
  { opening, facts }: PlayedDay,
  { days }: YearSize,
): number {
  const add = database.prepare(
    `INSERT INTO facts (sequence, type, version, at, recorded_at, by, batch_id, bay_id, body)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  );
  const put = (fact: Fact): void => {
    const { sequence, type, version, at, recordedAt, by, batchId, bayId, body } = fact;
    add.run(sequence, type, version, at, recordedAt, by, batchId, bayId, JSON.stringify(body));
  };
  database.exec('BEGIN');
  for (const fact of opening) put(fact);
  for (let day = 0; day < days; day += 1) {
    const moved = (value: unknown, key: string): unknown =>
      moveOn(value, key, { day, dayFactsCount: facts.length });
    for (const fact of facts) put(moved(fact, '') as Fact);
  }
  database.exec('COMMIT');
  return opening.length + days * facts.length;
}

function moveOn(value: unknown, key: string, by: { day: number; dayFactsCount: number }): unknown {
  if (Array.isArray(value)) return value.map((one) => moveOn(one, key, by));
  if (typeof value === 'object' && value !== null) {
    return Object.fromEntries(Object.entries(value).map(([name, inner]) => [name, moveOn(inner, name, by)]));
  }
  if (typeof value === 'number' && (key === 'at' || key.endsWith('At'))) return value + by.day * DAY_MS;
  if (typeof value === 'number' && (key === 'sequence' || key.endsWith('Sequence')))
    return value + by.day * by.dayFactsCount;
  if (typeof value === 'string' && (key === 'batchId' || key === 'alertId')) return `${value}-${by.day}`;
  return value;
}

/** Made by SQLite itself: a row at a time would take as long as everything else together. */
function sayAir(database: DatabaseSyncInstance, firstAt: Instant, { days, seed }: YearSize): number {
  const minutesCount = days * 1440;
  database.exec('BEGIN');
  for (const [index, sensorId] of ['bay-1-air', 'bay-2-air'].entries()) {
    for (const [quantity, middle, swing] of [
      ['airTemperatureC', 15, 6],
      ['relativeHumidityPct', 60, 12],
    ] as const) {
      database
        .prepare(
          `INSERT INTO readings (sensor_id, quantity, at, rank, measurement, recorded_at, trust, reason)
           WITH RECURSIVE minute(n) AS (SELECT 0 UNION ALL SELECT n + 1 FROM minute WHERE n + 1 < ?)
           SELECT ?, ?, ? + n * 60000, 0,
             round(? + ? * sin(n / 229.0 + ?) + sin(n * 0.7 + ?) / 3, 2), ? + n * 60000 + 40, 'good', NULL FROM minute`,
        )
        .run(minutesCount, sensorId, quantity, firstAt, middle, swing, index + seed, seed, firstAt);
      database
        .prepare(
          `INSERT INTO newest (sensor_id, quantity, heard_at, shown_at, measurement, good_at)
           SELECT sensor_id, quantity, at, at, measurement, at FROM readings
           WHERE sensor_id = ? AND quantity = ? ORDER BY at DESC LIMIT 1`,
        )
        .run(sensorId, quantity);
    }
  }
  database.exec('COMMIT');
  return 4 * minutesCount;
}
