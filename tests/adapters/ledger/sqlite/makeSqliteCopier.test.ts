// Copies of a shop's file: of one moment, one at a time, and nothing left behind.
import { readdirSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { expect, it } from 'vitest';
import { makeSqliteCopier } from '../../../../server/adapters/ledger/sqlite/makeSqliteCopier.ts';
import { openSqliteStore } from '../../../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import { ownStoreWork } from '../../../../server/adapters/ledger/sqlite/storeWork.ts';
import type { StoreCopier, StoreCopy } from '../../../../server/application/ports/storeCopier.ts';
import { entryAfter, minute, rowOf, spanOf } from '../ledgerFixtures.ts';
import { newFile } from '../temporaryFolder.ts';

async function copyOf(copier: StoreCopier): Promise<StoreCopy | null> {
  const copy = await copier.copy();
  if (copy !== null && 'kind' in copy) throw new Error(copy.detail);
  return copy;
}

async function bytesOf(copy: StoreCopy | null): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  for await (const chunk of copy?.content ?? []) chunks.push(chunk);
  copy?.letGo();
  return Buffer.concat(chunks);
}

it('copies while others write, with all that was acknowledged before and the views of the same moment', async () => {
  const file = newFile();
  const { ledger, air, copier } = openSqliteStore({ file, ledgerIdForNew: 'ledger-1' });
  // Some hundred pages, so that the copy takes several turns.
  const rows = Array.from({ length: 20_000 }, (_, index) => rowOf({ at: minute(index) }));
  await air.record(rows);
  await ledger.append(entryAfter(0));
  const copying = copyOf(copier);
  await Promise.resolve();
  await ledger.append(entryAfter(1));
  await air.record([rowOf({ sensorId: 'meanwhile' })]);
  expect(await copier.copy()).toBeNull();
  const copyFile = newFile();
  writeFileSync(copyFile, await bytesOf(await copying));
  const copy = openSqliteStore({ file: copyFile, ledgerIdForNew: 'other' });
  expect(copy.ledger.ledgerId).toBe('ledger-1');
  // Of one moment: before what was written meanwhile, or after it.
  expect(await copy.ledger.readHead()).toBeGreaterThanOrEqual(1);
  expect(await copy.ledger.readHead()).toBeLessThanOrEqual(2);
  expect(await copy.air.readSpan(spanOf('bay-1-air'))).toHaveLength(
    (await air.readSpan(spanOf('bay-1-air'))).length,
  );
  await copy.ledger.close();
  await ledger.close();
});

it('leaves nothing beside the shop, neither of this copy nor of one that a crash cut short', async () => {
  const file = newFile();
  writeFileSync(`${file}.copy`, 'half');
  const { ledger, copier } = openSqliteStore({ file, ledgerIdForNew: 'ledger-1' });
  const names = (): string[] => readdirSync(dirname(file)).filter((name) => name.includes('copy'));
  expect(names()).toEqual([]);
  const copy = await copyOf(copier);
  expect(names()).toEqual(['shop.db.copy']);
  copy?.letGo();
  copy?.letGo();
  expect(names()).toEqual([]);
  await ledger.close();
});

it('names the operation when no copy can be made, and can be asked again', async () => {
  const file = newFile();
  const { ledger, copier } = openSqliteStore({ file, ledgerIdForNew: 'ledger-1' });
  await ledger.close();
  rmSync(file);
  await expect(copier.copy()).rejects.toMatchObject({ port: 'ledger', operation: 'copy' });
  await expect(copier.copy()).rejects.toMatchObject({ port: 'ledger', operation: 'copy' });
});

it('leaves the shop its room: none is begun where the disk is too small for it, and what is missing is said', async () => {
  const file = newFile();
  writeFileSync(file, '');
  // A file that has this size and takes no room; no disk has so much left.
  truncateSync(file, 8 * 2 ** 40);
  let isBegun = false;
  const copy: typeof ownStoreWork.copy = (ask) => {
    isBegun = true;
    return ownStoreWork.copy(ask);
  };
  const copier = makeSqliteCopier({ ...ownStoreWork, copy }, file);
  const answer = await copier.copy();
  expect(answer).toMatchObject({ kind: 'failed', code: 'no-room' });
  expect(JSON.stringify(answer)).toMatch(/the disk has \d+ MB free, a copy needs 87961\d+ MB/);
  expect(isBegun).toBe(false);
  truncateSync(file, 0);
  await copier.copy().catch(() => null);
  expect(isBegun).toBe(true);
});

it('that is not sound is told with its reason and not handed out, and the next one is made', async () => {
  const file = newFile();
  const { ledger } = openSqliteStore({ file, ledgerIdForNew: 'ledger-1' });
  let sentence: string | null = 'the file is damaged: page 7';
  const copier = makeSqliteCopier(
    {
      ...ownStoreWork,
      copy: async (ask) => (sentence === null ? ownStoreWork.copy(ask) : { kind: 'damaged', sentence }),
    },
    file,
  );
  expect(await copier.copy()).toEqual({ kind: 'failed', code: 'damaged', detail: sentence });
  sentence = null;
  (await copyOf(copier))?.letGo();
  await ledger.close();
});
