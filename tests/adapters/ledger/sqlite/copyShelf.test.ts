// The shelf of copies: only good ones get a name, what is half made goes, and no name leads anywhere else.
import { existsSync, mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { beforeEach, describe, expect, it, onTestFinished } from 'vitest';
import { checkStoreFile } from '../../../../server/adapters/ledger/sqlite/checkStoreFile.ts';
import { copiesIn, makeCopyShelf } from '../../../../server/adapters/ledger/sqlite/makeCopyShelf.ts';
import { openSqliteStore } from '../../../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import {
  notDone,
  ownStoreWork,
  type StoreWork,
} from '../../../../server/adapters/ledger/sqlite/storeWork.ts';
import { type Instant, instantFromIso } from '../../../../server/contract/index.ts';
import { entryAfter, minute, rowOf } from '../ledgerFixtures.ts';
import { newFile } from '../temporaryFolder.ts';

const MADE_AT = instantFromIso('2026-01-12T02:30:00.500Z') as Instant;
const NAME = 'sandby-2026-01-12T02-30-00Z.sqlite';

let file: string;
let folder: string;

beforeEach(async () => {
  file = newFile();
  folder = join(dirname(file), 'copies');
  const { ledger, air } = openSqliteStore({ file, ledgerIdForNew: 'l1' });
  onTestFinished(() => ledger.close());
  await ledger.append(entryAfter(0));
  await air.record([rowOf(), rowOf({ at: minute(1) })]);
});

describe('a kept copy', () => {
  it('stands alone under the name of its instant, sound and read again to the last byte', async () => {
    const shelf = makeCopyShelf({ file, folder }, ownStoreWork);
    expect(await shelf.list()).toEqual([]);
    expect(await shelf.keep(MADE_AT)).toMatchObject({
      kind: 'kept',
      copy: { name: NAME, madeAt: instantFromIso('2026-01-12T02:30:00Z') },
    });
    expect(readdirSync(folder)).toEqual([NAME]);
    expect(checkStoreFile(join(folder, NAME))).toMatchObject({
      kind: 'sound',
      holds: { factCount: 1, readingCount: 2 },
    });
    const copy = await shelf.open(NAME);
    const chunks: Uint8Array[] = [];
    for await (const chunk of copy?.content ?? []) chunks.push(chunk);
    copy?.letGo();
    expect(Buffer.concat(chunks).length).toBe(copy?.sizeBytes);
    expect(existsSync(join(folder, NAME))).toBe(true);
  });

  it('never takes the name of another, and the newest stands first', async () => {
    const shelf = makeCopyShelf({ file, folder }, ownStoreWork);
    await shelf.keep(MADE_AT);
    await shelf.keep(MADE_AT);
    await shelf.keep(instantFromIso('2026-01-11T02:30:00Z') as Instant);
    expect((await shelf.list()).map(({ name }) => name)).toEqual([
      'sandby-2026-01-12T02-30-01Z.sqlite',
      NAME,
      'sandby-2026-01-11T02-30-00Z.sqlite',
    ]);
    expect(copiesIn(folder)).toEqual(await shelf.list());
    await shelf.remove(NAME);
    expect(await shelf.list()).toHaveLength(2);
  });

  it('tells of which ledger it is, and none where it is no store any more', async () => {
    const shelf = makeCopyShelf({ file, folder }, ownStoreWork);
    await shelf.keep(MADE_AT);
    expect(await shelf.ledgerOf(NAME)).toBe('l1');
    expect(readdirSync(folder)).toEqual([NAME]);
    writeFileSync(join(folder, NAME), '');
    expect(await shelf.ledgerOf(NAME)).toBeNull();
    writeFileSync(join(folder, NAME), 'nothing of a store'.repeat(100));
    expect(await shelf.ledgerOf(NAME)).toBeNull();
    rmSync(join(folder, NAME));
    await expect(shelf.ledgerOf(NAME)).rejects.toMatchObject({ port: 'ledger', operation: 'readCopy' });
  });

  it.each([
    '../shop.db',
    '..%2fshop.db',
    'shop.db',
    `${NAME}/..`,
    `x${NAME}`,
    `${NAME}.part`,
    '',
    'sandby-.sqlite',
  ])('is not found, and nothing is removed, under the name "%s"', async (name) => {
    const shelf = makeCopyShelf({ file, folder }, ownStoreWork);
    await shelf.keep(MADE_AT);
    expect(await shelf.open(name)).toBeNull();
    await shelf.remove(name);
    expect(existsSync(file)).toBe(true);
    expect(readdirSync(folder)).toEqual([NAME]);
  });
});

describe('a copy that is not good', () => {
  it.each<[string, StoreWork['copy'], string]>([
    [
      'damaged',
      async ({ target }) => {
        writeFileSync(target, 'half');
        return { kind: 'damaged', sentence: 'the file is damaged: page 7' };
      },
      'damaged',
    ],
    ['cut short', async () => ({ kind: 'failed', code: 'unfinished', sentence: 'cut' }), 'unfinished'],
    [
      'without room',
      async () => notDone(Object.assign(new Error('full /secret/place'), { code: 'ENOSPC' })),
      'no-room',
    ],
    [
      'that SQLite has no room for',
      async () => notDone(Object.assign(new Error('full'), { errcode: 13 })),
      'no-room',
    ],
    ['without a reason', async () => notDone('what'), 'not-written'],
  ])('%s gets no name and leaves nothing', async (_name, copy, code) => {
    const shelf = makeCopyShelf({ file, folder }, { ...ownStoreWork, copy });
    const kept = await shelf.keep(MADE_AT);
    expect(kept).toMatchObject({ kind: 'failed', code });
    expect(JSON.stringify(kept)).not.toContain('/');
    expect(readdirSync(folder)).toEqual([]);
  });

  it('is told where its folder cannot be, without the place', async () => {
    writeFileSync(folder, 'a file in its place');
    const shelf = makeCopyShelf({ file, folder }, ownStoreWork);
    const kept = await shelf.keep(MADE_AT);
    expect(kept).toMatchObject({ kind: 'failed', code: 'not-written' });
    expect(JSON.stringify(kept)).not.toContain('/');
    await expect(shelf.list()).rejects.toMatchObject({ port: 'ledger', operation: 'listCopies' });
    expect(copiesIn(folder)).toEqual([]);
  });

  it('that a crash left half made goes at the next start, and nothing else', () => {
    mkdirSync(folder);
    for (const name of [`${NAME}.part`, `${NAME}.part-journal`, NAME, 'notes.txt', 'own.part'])
      writeFileSync(join(folder, name), '');
    makeCopyShelf({ file, folder }, ownStoreWork);
    expect(readdirSync(folder).toSorted()).toEqual(['notes.txt', 'own.part', NAME].toSorted());
  });
});
