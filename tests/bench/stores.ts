// How many readings a second reach the disk, and how soon a reading is on the screens.
import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { makeWallClock } from '../../server/adapters/clock/pacedClock.ts';
import { openDatabase } from '../../server/adapters/ledger/sqlite/openDatabase.ts';
import { openSqliteStore } from '../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import type { AirRow } from '../../server/application/ports/airTable.ts';
import { type Instant, instantFromMs } from '../../server/contract/index.ts';
import { openTestShop, sayAir, start } from '../support/testShop.ts';
import { measureRounds, type Pace, ROUNDS_COUNT, type Spread, spreadOf } from './measure.ts';

const TOGETHER_COUNT = 1000;
const FIRST_AT = Date.UTC(2026, 0, 12, 7);

/** Readings a second: one row a commit by a bare statement, by the store one after another, and by the store together. */
export async function measureStores(): Promise<Record<'bare' | 'single' | 'together', Pace>> {
  const folder = mkdtempSync(join(tmpdir(), 'sandby-bench-'));
  const database = openDatabase({ file: join(folder, 'bare.sqlite'), ledgerIdForNew: randomUUID() });
  const add = database.prepare(
    `INSERT INTO readings (sensor_id, quantity, at, rank, measurement, recorded_at, trust, reason)
     VALUES (?, ?, ?, 0, ?, ?, 'good', NULL)`,
  );
  const { ledger, air } = openSqliteStore({
    file: join(folder, 'store.sqlite'),
    ledgerIdForNew: randomUUID(),
  });
  const next = makeRows();
  try {
    return await measureRounds({
      bare: {
        count: 1,
        turn: () => {
          const { sensorId, quantity, at, measurement, recordedAt } = next();
          add.run(sensorId, quantity, at, measurement, recordedAt);
        },
      },
      single: {
        count: 1,
        turn: async () => {
          await air.record([next()]);
        },
      },
      together: {
        count: TOGETHER_COUNT,
        turn: async () => {
          await Promise.all(Array.from({ length: TOGETHER_COUNT }, async () => air.record([next()])));
        },
      },
    });
  } finally {
    await ledger.close();
    database.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** From the call that takes a reading to the message with the batch's new window, one open batch, all in memory [ms]. */
export async function measureLatency(): Promise<{ readonly airMs: Spread; readonly changeMs: Spread }> {
  const clock = makeWallClock();
  let toldAir = (): void => undefined;
  let toldChange = (): void => undefined;
  const shop = await openTestShop({
    clock,
    live: {
      publishAir: () => toldAir(),
      publishChange: () => toldChange(),
      publishResync: () => undefined,
    },
  });
  // The test shop's own clock stands still; readings are dated by the wall's.
  const say = async (airC: number): ReturnType<typeof sayAir> =>
    sayAir(shop, airC, { at: clock.nowAt(), relativeHumidityPct: 50 });
  await say(20);
  await start(shop);
  const airMs: number[] = [];
  const changeMs: number[] = [];
  for (let round = 0; round < ROUNDS_COUNT; round++) {
    await new Promise((resolve) => setTimeout(resolve, REST_MS));
    const begunMs = performance.now();
    toldAir = () => void airMs.push(performance.now() - begunMs);
    const changed = new Promise<void>((resolve, reject) => {
      const timer = setTimeout(() => reject(new Error('no change was told')), CHANGE_MAX_MS);
      toldChange = () => {
        clearTimeout(timer);
        changeMs.push(performance.now() - begunMs);
        resolve();
      };
    });
    await say(round % 2 === 0 ? 14 : 20);
    await changed;
  }
  // The last pass over the bay sets the clock once more.
  await new Promise((resolve) => setTimeout(resolve, REST_MS));
  clock.stop();
  return { airMs: spreadOf(airMs), changeMs: spreadOf(changeMs) };
}

/** A bay rests after it was looked at; the reading is to find it awake. */
const REST_MS = 700;
const CHANGE_MAX_MS = 5000;

/** Rows of ten sensors, each a second after the one before. */
function makeRows(): () => AirRow {
  let count = 0;
  return () => {
    count += 1;
    const at: Instant = instantFromMs(FIRST_AT + count * 1000);
    return {
      sensorId: `bay-${count % 10}-air`,
      quantity: 'airTemperatureC',
      at,
      measurement: 15 + (count % 100) / 10,
      recordedAt: at,
      trust: 'good',
      reason: null,
    };
  };
}
