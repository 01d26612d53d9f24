// Damaged and foreign files of many kinds: found by the look through all of a file, and refused at the start where the start
// can see it.
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import { DatabaseSync } from '@photostructure/sqlite';
import { beforeAll, describe, expect, it } from 'vitest';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { checkStoreFile } from '../../../../server/adapters/ledger/sqlite/checkStoreFile.ts';
import { openSqliteStore } from '../../../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import { isDamage } from '../../../../server/adapters/ledger/sqlite/storeDamage.ts';
import { PortFailure } from '../../../../server/application/ports/portFailure.ts';
import { answerOf, entryAfter, factOf, minute, rowOf, viewOf } from '../ledgerFixtures.ts';
import { newFile } from '../temporaryFolder.ts';

const PAGE_BYTES = 4096;
let sound: string;

/** A store of some hundred pages, closed, its file alone. */
beforeAll(async () => {
  sound = join(mkdtempSync(join(tmpdir(), 'sandby-sound-')), 'shop.db');
  const { ledger, air } = openSqliteStore({ file: sound, ledgerIdForNew: 'l1' });
  await air.record(
    Array.from({ length: 8000 }, (_, index) => rowOf({ at: minute(index), measurement: index % 31 })),
  );
  for (let head = 0; head < 200; head += 1) {
    await ledger.append(entryAfter(head, { facts: [factOf(head + 1)], views: [viewOf(`b${head}`)] }));
  }
  await ledger.append(entryAfter(200, { answer: answerOf('k1') }));
  await ledger.close();
});

function copyOfSound(): string {
  const file = newFile();
  copyFileSync(sound, file);
  return file;
}

function withSql(sql: string): string {
  const file = copyOfSound();
  const database = new DatabaseSync(file);
  database.exec(sql);
  database.exec('PRAGMA wal_checkpoint(TRUNCATE)');
  database.close();
  return file;
}

function flipped(pageIndex: number): string {
  const file = copyOfSound();
  const bytes = readFileSync(file);
  for (let index = 0; index < 64; index += 1) {
    const place = pageIndex * PAGE_BYTES + 8 + index * 29;
    bytes.writeUInt8(bytes.readUInt8(place) ^ 0xff, place);
  }
  writeFileSync(file, bytes);
  return file;
}

/** The first page of a table's own tree. */
function rootPageOf(name: string): number {
  const database = new DatabaseSync(sound, { readOnly: true });
  const row = database.prepare('SELECT rootpage AS page FROM sqlite_schema WHERE name = ?').get(name) as {
    page: number;
  };
  database.close();
  return row.page - 1;
}

interface Kind {
  readonly name: string;
  readonly make: () => string;
  readonly kind: 'missing' | 'foreign' | 'damaged';
  readonly says: RegExp;
  /** Whether the start already sees it; what it does not see, the look after the start does. */
  readonly isSeenAtStart: boolean;
}

const KINDS: readonly Kind[] = [
  { name: 'no file', make: () => newFile(), kind: 'missing', says: /no such file/, isSeenAtStart: false },
  {
    name: 'a folder',
    make: () => {
      const file = newFile();
      mkdirSync(file);
      return file;
    },
    kind: 'foreign',
    says: /a folder/,
    isSeenAtStart: true,
  },
  {
    name: 'an empty file',
    make: () => {
      const file = newFile();
      writeFileSync(file, '');
      return file;
    },
    kind: 'foreign',
    says: /empty/,
    // A shop begins in one.
    isSeenAtStart: false,
  },
  {
    name: 'a text',
    make: () => {
      const file = newFile();
      writeFileSync(file, 'Readings of January, kept by hand.\n'.repeat(500));
      return file;
    },
    kind: 'foreign',
    says: /no SQLite database/,
    isSeenAtStart: true,
  },
  {
    name: 'a database of another program',
    make: () => {
      const file = newFile();
      const database = new DatabaseSync(file);
      database.exec('CREATE TABLE notes (text); PRAGMA application_id = 7');
      database.close();
      return file;
    },
    kind: 'foreign',
    says: /another program/,
    isSeenAtStart: true,
  },
  {
    name: 'an SQLite database without a table',
    make: () => {
      const file = newFile();
      const database = new DatabaseSync(file);
      database.exec('CREATE TABLE once (a); DROP TABLE once');
      database.close();
      return file;
    },
    kind: 'foreign',
    says: /empty/,
    isSeenAtStart: false,
  },
  {
    name: 'a newer form',
    make: () => withSql('PRAGMA user_version = 99'),
    kind: 'foreign',
    says: /newer version of the program/,
    isSeenAtStart: true,
  },
  {
    name: 'the magic words alone',
    make: () => {
      const file = newFile();
      writeFileSync(file, Buffer.concat([readFileSync(sound).subarray(0, 16), Buffer.alloc(5000)]));
      return file;
    },
    kind: 'damaged',
    says: /damaged|not a database/,
    isSeenAtStart: true,
  },
  {
    name: 'a file cut in its first page',
    make: () => {
      const file = copyOfSound();
      truncateSync(file, 300);
      return file;
    },
    kind: 'damaged',
    says: /damaged|not a database/,
    isSeenAtStart: true,
  },
  {
    name: 'a file cut in the middle',
    make: () => {
      const file = copyOfSound();
      truncateSync(file, PAGE_BYTES * 40);
      return file;
    },
    kind: 'damaged',
    says: /damaged/,
    isSeenAtStart: true,
  },
  {
    name: 'a file cut by one byte',
    make: () => {
      const file = copyOfSound();
      truncateSync(file, readFileSync(file).length - 1);
      return file;
    },
    kind: 'damaged',
    says: /damaged/,
    isSeenAtStart: true,
  },
  {
    name: 'flipped bits in the header',
    make: () => flipped(0),
    // The words by which any SQLite file is known stand there.
    kind: 'foreign',
    says: /no SQLite database/,
    isSeenAtStart: true,
  },
  {
    name: 'flipped bits in the facts',
    make: () => flipped(rootPageOf('facts')),
    kind: 'damaged',
    says: /damaged/,
    isSeenAtStart: true,
  },
  {
    name: 'flipped bits in the readings',
    make: () => flipped(rootPageOf('readings')),
    kind: 'damaged',
    says: /damaged/,
    isSeenAtStart: false,
  },
  {
    name: 'a page of the readings full of zeros',
    make: () => {
      const file = copyOfSound();
      const bytes = readFileSync(file);
      bytes.fill(0, rootPageOf('readings') * PAGE_BYTES, (rootPageOf('readings') + 1) * PAGE_BYTES);
      writeFileSync(file, bytes);
      return file;
    },
    kind: 'damaged',
    says: /damaged/,
    isSeenAtStart: false,
  },
  {
    name: 'a missing table',
    make: () => withSql('DROP TABLE answers'),
    kind: 'damaged',
    says: /answers is missing/,
    isSeenAtStart: true,
  },
  {
    name: 'a table of another make',
    make: () => withSql('DROP TABLE answers; CREATE TABLE answers (key, fingerprint, at, body)'),
    kind: 'damaged',
    says: /answers is not as it should be/,
    isSeenAtStart: true,
  },
  {
    name: 'a ledger without a name',
    make: () => withSql(`DELETE FROM meta`),
    kind: 'damaged',
    says: /no name/,
    isSeenAtStart: true,
  },
  {
    name: 'a missing fact',
    make: () => withSql('DELETE FROM facts WHERE sequence = 77'),
    kind: 'damaged',
    says: /fact 77 is missing/,
    isSeenAtStart: true,
  },
  {
    name: 'the first fact missing',
    make: () => withSql('DELETE FROM facts WHERE sequence = 1'),
    kind: 'damaged',
    says: /fact 1 is missing/,
    isSeenAtStart: true,
  },
  {
    name: 'a fact that is no JSON',
    make: () => withSql(`UPDATE facts SET body = '{"half' WHERE sequence = 12`),
    kind: 'damaged',
    says: /fact 12 cannot be read/,
    isSeenAtStart: true,
  },
  {
    name: 'an open view that is no JSON',
    make: () => withSql(`UPDATE views SET body = 'null or so' WHERE id = 'b7'`),
    kind: 'damaged',
    says: /the view batch b7 cannot be read/,
    isSeenAtStart: true,
  },
  {
    name: 'a kept answer that is no JSON',
    make: () => withSql(`UPDATE answers SET body = ''`),
    kind: 'damaged',
    says: /kept answer/,
    isSeenAtStart: false,
  },
];

describe('a file that is no sound store', () => {
  it.each(KINDS)('$name is told apart', ({ make, kind, says }) => {
    const verdict = checkStoreFile(make());
    expect(verdict.kind).toBe(kind);
    if (verdict.kind !== 'sound') expect(verdict.sentence).toMatch(says);
    expect(JSON.stringify(verdict)).not.toContain(tmpdir());
  });

  it.each(KINDS.filter(({ isSeenAtStart }) => isSeenAtStart))(
    '$name is refused at the start',
    ({ make, kind }) => {
      const file = make();
      let failure: unknown = null;
      try {
        void openSqliteStore({ file, ledgerIdForNew: 'l1', busyTimeoutMs: 20 }).ledger.close();
      } catch (error) {
        failure = error;
      }
      expect(failure).toBeInstanceOf(PortFailure);
      if (kind === 'damaged') expect(isDamage((failure as PortFailure).cause)).toBe(true);
    },
  );
});

it('a sound store is told with what it holds, and is opened', async () => {
  expect(checkStoreFile(sound)).toEqual({
    kind: 'sound',
    holds: {
      formVersion: 2,
      ledgerId: 'l1',
      factCount: 201,
      newestFactAt: minute(201),
      readingCount: 8000,
      newestReadingAt: minute(7999),
    },
  });
  const { ledger } = openSqliteStore({ file: copyOfSound(), ledgerIdForNew: 'l2' });
  expect(await ledger.readHead()).toBe(201);
  await ledger.close();
});
