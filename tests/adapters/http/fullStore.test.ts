// A real store that is full or read-only, behind the real doors: nothing is acknowledged that is not stored, health and screens
// say what is wrong, and all is well again by itself.
import { DatabaseSync, type DatabaseSyncInstance } from '@photostructure/sqlite';
import mqtt from 'mqtt';
import { afterEach, beforeEach, describe, expect, it, onTestFinished } from 'vitest';
import { openBroker, type OpenBroker } from '../../../server/adapters/broker/openBroker.ts';
import { openDatabase } from '../../../server/adapters/ledger/sqlite/openDatabase.ts';
import { makeSqliteStore } from '../../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import type { Instant } from '../../../server/contract/index.ts';
import { makeDoors } from '../../../server/makeDoors.ts';
import { getJson, postJson } from '../../support/http.ts';
import { serveShop, type ServedShop } from '../../support/serveShop.ts';
import { PLAIN_BATCH } from '../../support/testShop.ts';
import { newFile } from '../ledger/temporaryFolder.ts';

interface Trouble {
  readonly name: string;
  readonly says: RegExp;
  readonly begin: (database: DatabaseSyncInstance) => void;
  readonly end: (database: DatabaseSyncInstance) => void;
}

const TROUBLES: readonly Trouble[] = [
  {
    name: 'full',
    says: /the disk is full/,
    // The least there can be is what there is: the next page that is needed is SQLITE_FULL.
    begin: (database) => database.exec('PRAGMA max_page_count = 1'),
    end: (database) => database.exec('PRAGMA max_page_count = 1000000'),
  },
  {
    name: 'read-only',
    says: /cannot be written/,
    begin: (database) => database.exec('PRAGMA query_only = 1'),
    end: (database) => database.exec('PRAGMA query_only = 0'),
  },
];

/** As many need a page more. */
const MANY_COUNT = 400;

let database: DatabaseSyncInstance;
let file: string;
let test: ServedShop;
let broker: OpenBroker;

beforeEach(async () => {
  file = newFile();
  database = openDatabase({ file, ledgerIdForNew: 'l1', busyTimeoutMs: 20 });
  test = await serveShop(makeSqliteStore(database));
  const doors = makeDoors(test.shop, { version: '0', refused: () => [] });
  broker = await openBroker(
    { host: '127.0.0.1', port: 0, topicPrefix: 'sandby/v1' },
    { doors, log: test.shop.log },
  );
});

afterEach(async () => {
  test.close();
  await broker.close();
  await test.shop.ledger.close();
});

const readingsFrom = (firstMs: number): Record<string, unknown>[] =>
  Array.from({ length: MANY_COUNT }, (_, index) => ({
    sensorId: 'bay-1-air',
    at: new Date(firstMs + index).toISOString(),
    airTemperatureC: 18,
  }));

/** What is in the file itself, asked by another reader. */
function countOf(table: 'readings' | 'facts'): number {
  const reader = new DatabaseSync(file, { readOnly: true });
  const { count } = reader.prepare(`SELECT count(*) AS count FROM ${table}`).get() as { count: number };
  reader.close();
  return count;
}

describe.each(TROUBLES)('a store that is $name', ({ says, begin, end }) => {
  it('acknowledges nothing that it does not store, and takes it once the trouble is over', async () => {
    const nowMs = test.clock.nowAt() - 3_600_000;
    const factCount = countOf('facts');
    begin(database);
    const post = () => postJson({ address: test.address, path: '/readings' }, readingsFrom(nowMs));
    expect(await post()).toMatchObject({ status: 503, body: { code: 'not-stored' } });
    expect(await getJson(test.address, '/health')).toMatchObject({
      status: 503,
      body: { status: 'degraded', parts: { ledger: expect.stringMatching(says) as unknown } },
    });
    const mix = () =>
      postJson({ address: test.address, path: '/batches' }, { ...PLAIN_BATCH, panel: 'x'.repeat(80) });
    // Starts until one needs a page more; none of those that were refused may be there.
    const statuses = [await mix(), await mix(), await mix()].map(({ status }) => status);
    expect(new Set(statuses).has(503) || test.shop.troubles.size > 0).toBe(true);
    expect(countOf('readings')).toBe(0);
    end(database);
    expect(await post()).toMatchObject({ status: 200, body: { recorded: MANY_COUNT } });
    expect(countOf('readings')).toBe(MANY_COUNT);
    expect((await mix()).status).toBe(201);
    const stored = (await test.read<{ batches: unknown[] }>('/batches')).batches.length;
    expect(stored).toBe(1 + statuses.filter((status) => status === 201).length);
    expect(countOf('facts')).toBeGreaterThan(factCount);
    expect((await getJson(test.address, '/health')).status).toBe(200);
  });

  it('tells the screens once each way, and is found well by itself although nobody writes', async () => {
    begin(database);
    await postJson(
      { address: test.address, path: '/readings' },
      readingsFrom(test.clock.nowAt() - 3_600_000),
    );
    await test.clock.moveBy(3);
    const told = () =>
      test.logged.filter((event) => ['store.failed', 'store.back', 'resync'].includes(event));
    expect(told()).toEqual(['store.failed', 'resync']);
    end(database);
    await test.clock.moveBy(2);
    expect(told()).toEqual(['store.failed', 'resync', 'store.back', 'resync']);
    expect((await getJson(test.address, '/health')).body).toMatchObject({ status: 'ok' });
  });

  it('gives a sensor no PUBACK, and takes its message when it comes again', async () => {
    const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${broker.port}`, {
      clean: false,
      clientId: 'probe',
      reconnectPeriod: 50,
    });
    onTestFinished(() => void client.end(true));
    begin(database);
    let isCutOff = false;
    client.once('close', () => {
      isCutOff = true;
      expect(countOf('readings')).toBe(0);
      end(database);
    });
    const firstMs = test.clock.nowAt() - 3_600_000;
    const payload = JSON.stringify(readingsFrom(firstMs));
    await client.publishAsync('sandby/v1/readings/bay-1-air', payload, { qos: 1 });
    expect(isCutOff).toBe(true);
    expect(countOf('readings')).toBe(MANY_COUNT);
    const rows = await test.shop.air.readSpan({
      sensorIds: ['bay-1-air'],
      fromAt: firstMs as Instant,
      toAt: (firstMs + MANY_COUNT) as Instant,
      goodOnly: false,
    });
    expect(rows).toHaveLength(MANY_COUNT);
  });
});
