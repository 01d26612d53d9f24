// Whatever is sent, in whatever order, both stores answer alike and give the same back.
import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import { makeMemoryStore } from '../../../server/adapters/ledger/memory/makeMemoryStore.ts';
import { openSqliteStore } from '../../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import { QUANTITIES, type AirRow } from '../../../server/application/ports/airTable.ts';
import { countFor } from '../../support/testSize.ts';
import { minute, rowOf, spanOf } from './ledgerFixtures.ts';
import type { Store } from './ledgerSuite.ts';
import { thinAll } from './thinSuite.ts';
import { newFile } from './temporaryFolder.ts';

const SENSORS = ['s1', 's2', 'unknown'];
const JUDGEMENTS = [
  { trust: 'good', reason: null },
  { trust: 'suspect', reason: 'step' },
  { trust: 'aside', reason: 'late' },
] as const;

/** Few instants and values, so that repeats and contradictions abound. */
const row: fc.Arbitrary<AirRow> = fc
  .record({
    sensorId: fc.constantFrom(...SENSORS),
    quantity: fc.constantFrom(...QUANTITIES),
    at: fc.integer({ min: 0, max: 5 }).map(minute),
    measurement: fc.constantFrom(-1.5, 0, 0.1, 20),
    judgement: fc.constantFrom(...JUDGEMENTS),
  })
  .map(({ judgement, ...parts }) => rowOf({ ...parts, ...judgement }));

const calls = fc.array(fc.array(row, { maxLength: 6 }), { minLength: 1, maxLength: 12 });

async function answersOf({ air, ledger }: Store, rowsByCall: readonly (readonly AirRow[])[]) {
  const outcomes = await Promise.all(rowsByCall.map((rows) => air.record(rows)));
  const answers = {
    outcomes,
    every: await air.readSpan(spanOf(...SENSORS)),
    good: await air.readSpan({ sensorIds: SENSORS, fromAt: minute(1), toAt: minute(3), goodOnly: true }),
    latest: await Promise.all([0, 2, 9].map((offsetMin) => air.readLatest(SENSORS, minute(offsetMin)))),
    sensors: await air.readSensors(),
  };
  await ledger.close();
  return answers;
}

it('gives from SQLite what memory gives', async () => {
  const property = fc.asyncProperty(calls, async (rowsByCall) => {
    const file = newFile();
    const fromMemory = await answersOf(makeMemoryStore(), rowsByCall);
    const fromSqlite = await answersOf(openSqliteStore({ file, ledgerIdForNew: 'l1' }), rowsByCall);
    expect(fromSqlite).toStrictEqual(fromMemory);
  });
  await fc.assert(property, { numRuns: 100, seed: 20260112 });
});

/** Some hours of readings, several in ten minutes. */
const oldRow = row.chain((one) =>
  fc.integer({ min: 0, max: 200 }).map((halfMinutes) => rowOf({ ...one, at: minute(halfMinutes / 2) })),
);

it('thins on disk as it does in memory, wherever it stops', async () => {
  const property = fc.asyncProperty(
    fc.array(oldRow, { minLength: 1, maxLength: 60 }),
    fc.integer({ min: 0, max: 120 }),
    async (rows, beforeMin) => {
      const file = newFile();
      const stores = [makeMemoryStore(), openSqliteStore({ file, ledgerIdForNew: 'l1' })];
      const [fromMemory, fromSqlite] = await Promise.all(
        stores.map(async ({ air, ledger }) => {
          await air.record(rows);
          const steps = [await thinAll(air, minute(beforeMin / 2)), await thinAll(air, minute(beforeMin))];
          const left = await air.readSpan(spanOf(...SENSORS));
          const sensors = await air.readSensors();
          const latest = await air.readLatest(SENSORS, minute(300));
          await ledger.close();
          return { steps, left, sensors, latest };
        }),
      );
      expect(fromSqlite).toStrictEqual(fromMemory);
    },
  );
  await fc.assert(property, { numRuns: countFor({ usual: 40, nightly: 1000 }), seed: 20260113 });
});
