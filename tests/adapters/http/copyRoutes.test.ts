// Kept copies by HTTP: one more under a key, the list, a download, and why there is none, never with a place on the machine.
import { writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { makeCopyShelf } from '../../../server/adapters/ledger/sqlite/makeCopyShelf.ts';
import { openSqliteStore } from '../../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import { ownStoreWork, type StoreWork } from '../../../server/adapters/ledger/sqlite/storeWork.ts';
import { makeCopyRun } from '../../../server/application/copyRun.ts';
import type { CopiesWire } from '../../../server/contract/index.ts';
import { getJson, postJson } from '../../support/http.ts';
import { serveShop, type ServedShop } from '../../support/serveShop.ts';
import { start } from '../../support/testShop.ts';
import { newFile } from '../ledger/temporaryFolder.ts';

const PLAN = { everyMin: 1440, quietMin: 150, keepCount: 14 };
const NAME = 'sandby-2026-01-12T07-00-00Z.sqlite';
let test: ServedShop;
let folder: string;

async function serve(work: StoreWork = ownStoreWork): Promise<void> {
  const file = newFile();
  folder = join(dirname(file), 'copies');
  const store = openSqliteStore({ file, ledgerIdForNew: 'ledger-1' });
  test = await serveShop({ ...store, copies: makeCopyRun(makeCopyShelf({ file, folder }, work), PLAN) });
}

afterEach(async () => {
  test.close();
  await test.shop.ledger.close();
});

const post = (headers: Record<string, string> = {}) =>
  postJson({ address: test.address, path: '/copies' }, {}, headers);

describe('a copy that is asked for', () => {
  it('is made once for a key, listed, and read as the shop that it is of', async () => {
    await serve();
    await start(test);
    const made = await post({ 'idempotency-key': 'k1' });
    expect(made).toMatchObject({ status: 201, body: { name: NAME, madeAt: '2026-01-12T07:00:00.000Z' } });
    expect(await post({ 'idempotency-key': 'k1' })).toEqual(made);
    const copies = await test.read<CopiesWire>('/copies');
    expect(copies).toMatchObject({
      folder: 'copies',
      everyMin: 1440,
      quietTime: '02:30',
      keepCount: 14,
      making: false,
      nextAt: '2026-01-13T02:30:00.000Z',
      failure: null,
      copies: [{ name: NAME, sizeBytes: made.body['sizeBytes'] }],
    });
    expect(JSON.stringify(copies)).not.toContain(dirname(folder));
    const response = await fetch(`${test.address}/api/v1/copies/${NAME}`);
    expect(response.status).toBe(200);
    expect(response.headers.get('content-disposition')).toBe(`attachment; filename="${NAME}"`);
    const copyFile = newFile();
    writeFileSync(copyFile, new Uint8Array(await response.arrayBuffer()));
    const copy = openSqliteStore({ file: copyFile, ledgerIdForNew: 'other' });
    expect(await copy.ledger.readHead()).toBe(await test.shop.ledger.readHead());
    await copy.ledger.close();
  });

  it('needs a key', async () => {
    await serve();
    const response = await fetch(`${test.address}/api/v1/copies`, { method: 'POST' });
    expect(response.status).toBe(400);
    expect(((await response.json()) as { errors: { path: string }[] }).errors[0]?.path).toBe(
      'Idempotency-Key',
    );
  });

  it('waits for the one that is being made', async () => {
    await serve();
    const statuses = (await Promise.all([post(), post()])).map(({ status }) => status);
    expect(new Set(statuses)).toEqual(new Set([201, 409]));
  });

  it('that fails says why, here and in the list, and leaves health as it was', async () => {
    await serve({
      ...ownStoreWork,
      copy: async () => ({
        kind: 'failed',
        code: 'no-room',
        sentence: 'there is no room for it on the disk',
      }),
    });
    expect(await post()).toMatchObject({ status: 503, body: { code: 'copy-no-room' } });
    expect(await test.read('/copies')).toMatchObject({ failure: { code: 'no-room' }, copies: [] });
    expect(await getJson(test.address, '/health')).toMatchObject({
      status: 200,
      body: { status: 'ok', parts: { copies: expect.stringContaining('no room') as unknown } },
    });
  });
});

describe('a name', () => {
  it.each([
    'nothing',
    '..%2Fshop.db',
    '%2e%2e%2fshop.db',
    `${NAME}%00`,
    NAME,
    'sandby-9999-99-99T99-99-99Z.sqlite',
  ])('that is no copy’s is not found: %s', async (name) => {
    await serve();
    const response = await fetch(`${test.address}/api/v1/copies/${name}`);
    expect(response.status).toBe(404);
    expect(await response.text()).not.toContain(dirname(folder));
  });
});

it('a shop in memory has none, and says so', async () => {
  test = await serveShop();
  expect(await getJson(test.address, '/copies')).toMatchObject({ status: 501, body: { code: 'no-backup' } });
  expect((await post()).status).toBe(501);
});
