// A copy of the whole shop by HTTP, made while others write.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeMemoryStore } from '../../../server/adapters/ledger/memory/makeMemoryStore.ts';
import { openSqliteStore } from '../../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import type { StoreCopier } from '../../../server/application/ports/storeCopier.ts';
import { PortFailure } from '../../../server/application/ports/portFailure.ts';
import { getJson } from '../../support/http.ts';
import { serveShop, type ServedShop } from '../../support/serveShop.ts';
import { openTestShop, sayAir, start } from '../../support/testShop.ts';
import { newFile } from '../ledger/temporaryFolder.ts';

let test: ServedShop;
beforeEach(async () => {
  test = await serveShop();
});
afterEach(() => test.close());

describe('a copy of the store', () => {
  it('is refused in words where there is no file', async () => {
    expect(await getJson(test.address, '/backup')).toMatchObject({
      status: 501,
      body: { code: 'no-backup' },
    });
  });

  it('holds all that was stored while it was made, and opens as a shop', async () => {
    test.close();
    const file = newFile();
    test = await serveShop(openSqliteStore({ file, ledgerIdForNew: 'ledger-1' }));
    await sayAir(test, 20);
    await start(test);
    await test.put('/settings', { shop: { name: 'Dent and Sons' } });
    const [response] = await Promise.all([
      fetch(`${test.address}/api/v1/backup`),
      ...Array.from({ length: 20 }, (_, index) =>
        sayAir(test, 20 + index / 10, { at: (test.clock.nowAt() - index * 1000) as never }),
      ),
    ]);
    expect(response.status).toBe(200);
    expect(response.headers.get('content-disposition')).toBe(
      'attachment; filename="sandby-2026-01-12.sqlite"',
    );
    const bytes = new Uint8Array(await response.arrayBuffer());
    expect(bytes.length).toBe(Number(response.headers.get('content-length')));
    const copyFile = newFile();
    writeFileSync(copyFile, bytes);
    const copy = openSqliteStore({ file: copyFile, ledgerIdForNew: 'other' });
    expect(copy.ledger.ledgerId).toBe('ledger-1');
    expect(await copy.ledger.readHead()).toBe(await test.shop.ledger.readHead());
    const opened = await openTestShop({ ledger: copy.ledger, air: copy.air });
    expect(opened.shop.facts.name).toBe('Dent and Sons');
    await copy.ledger.close();
    // The next one can be made as soon as the server has seen that this one was read to its end.
    await expect.poll(async () => (await fetch(`${test.address}/api/v1/backup`)).status).toBe(200);
    await test.shop.ledger.close();
  });

  it('is made one at a time', async () => {
    test.close();
    test = await serveShop({ ...makeMemoryStore(), copier: { copy: () => Promise.resolve(null) } });
    expect(await getJson(test.address, '/backup')).toMatchObject({
      status: 409,
      body: { code: 'backup-running' },
    });
  });

  it('that has no room on the disk is told as a kept one is', async () => {
    test.close();
    const copier: StoreCopier = {
      copy: async () => ({ kind: 'failed', code: 'no-room', detail: 'the disk has 1 MB free' }),
    };
    test = await serveShop({ ...makeMemoryStore(), copier });
    expect(await getJson(test.address, '/backup')).toMatchObject({
      status: 503,
      body: {
        code: 'copy-no-room',
        detail: 'No copy was made: the disk has 1 MB free. What is there is as it was.',
      },
    });
  });

  it('that cannot be made is told without a path', async () => {
    test.close();
    const failure = new PortFailure('ledger', 'copy', {
      isRetriable: true,
      cause: new Error(`no room at ${join('/var', 'shop')}`),
    });
    test = await serveShop({ ...makeMemoryStore(), copier: { copy: () => Promise.reject(failure) } });
    const { status, body } = await getJson(test.address, '/backup');
    expect(status).toBe(503);
    expect(body).toMatchObject({ code: 'backup-failed' });
    expect(JSON.stringify(body)).not.toContain('/var');
  });
});
