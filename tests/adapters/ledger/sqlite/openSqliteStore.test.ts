// What a file keeps from one start to the next, and which files are refused.
import { chmodSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { DatabaseSync, type DatabaseSyncInstance } from '@photostructure/sqlite';
import { expect, it, onTestFinished } from 'vitest';
import { PortFailure } from '../../../../server/application/ports/portFailure.ts';
import { bringUp, SHOP_SCHEMA } from '../../../../server/adapters/ledger/sqlite/migrations.ts';
import { openDatabase, openToRead } from '../../../../server/adapters/ledger/sqlite/openDatabase.ts';
import {
  makeSqliteStore,
  openSqliteStore,
} from '../../../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import type { Sequence } from '../../../../server/domain/facts.ts';
import { answerOf, entryAfter, factOf, minute, rowOf, spanOf, viewOf } from '../ledgerFixtures.ts';
import type { Store } from '../ledgerSuite.ts';
import { newFile } from '../temporaryFolder.ts';

/** The failure that opening this file ends with. */
function failureOf(file: string): PortFailure {
  let store: Store;
  try {
    store = openSqliteStore({ file, ledgerIdForNew: 'l1', busyTimeoutMs: 20 });
  } catch (failure) {
    if (failure instanceof PortFailure && failure.operation === 'open') return failure;
    throw failure;
  }
  void store.ledger.close();
  throw new Error('the file was opened');
}

/** What the failure's cause says. */
function refusalOf(file: string): string {
  return (failureOf(file).cause as Error).message;
}

function withRaw(file: string, work: (database: DatabaseSyncInstance) => void): void {
  const database = new DatabaseSync(file);
  try {
    work(database);
  } finally {
    database.close();
  }
}

it('keeps everything over a restart, also the name it was given first', async () => {
  const file = newFile();
  const first = openSqliteStore({ file, ledgerIdForNew: 'l1' });
  await first.ledger.append(entryAfter(0, { views: [viewOf('b1')], answer: answerOf('k1') }));
  await first.air.record([rowOf(), rowOf({ measurement: 13 })]);
  const sensors = await first.air.readSensors();
  await first.ledger.close();

  const second = openSqliteStore({ file, ledgerIdForNew: 'l2' });
  onTestFinished(() => second.ledger.close());
  expect(second.ledger.ledgerId).toBe('l1');
  expect(await second.ledger.readFacts({ afterSequence: 0 as Sequence, limit: 10 })).toEqual([factOf(1)]);
  expect(await second.ledger.readViews('batch', { openOnly: true })).toEqual([viewOf('b1')]);
  expect(await second.ledger.readAnswer('k1')).toEqual(answerOf('k1'));
  expect(await second.air.readSpan(spanOf('bay-1-air'))).toHaveLength(2);
  expect(await second.air.readSensors()).toEqual(sensors);
  expect(await second.air.record([rowOf()])).toEqual(['repeated']);
  expect(await second.ledger.append(entryAfter(1))).toEqual({ kind: 'appended', sequence: 2 });
});

it('stores what was taken before it closes', async () => {
  const file = newFile();
  const store = openSqliteStore({ file, ledgerIdForNew: 'l1' });
  const recordings = [store.air.record([rowOf()]), store.air.record([rowOf({ at: minute(1) })])];
  await store.ledger.close();
  expect(await Promise.all(recordings)).toEqual([['recorded'], ['recorded']]);
  withRaw(file, (database) => {
    expect(database.prepare('SELECT count(*) AS count FROM readings').get()).toEqual({ count: 2 });
  });
});

it('makes the folder when there is none', async () => {
  const file = join(dirname(newFile()), 'data', 'shop', 'shop.db');
  const store = openSqliteStore({ file, ledgerIdForNew: 'l1' });
  await store.ledger.close();
  expect(readFileSync(file).subarray(0, 15).toString()).toBe('SQLite format 3');
});

it('reads a store that another one works on, what is written meanwhile too, and writes nothing', async () => {
  const file = newFile();
  const { ledger } = openSqliteStore({ file, ledgerIdForNew: 'l1' });
  onTestFinished(() => ledger.close());
  await ledger.append(entryAfter(0));
  const beside = makeSqliteStore(openToRead(file)).ledger;
  expect(await beside.readHead()).toBe(1);
  await ledger.append(entryAfter(1));
  expect(await beside.readHead()).toBe(2);
  await expect(beside.append(entryAfter(2))).rejects.toMatchObject({ trouble: 'read-only' });
  await beside.close();
  expect(await ledger.readHead()).toBe(2);
});

it('reads no store of another form than its own, and leaves it as it is', () => {
  const file = newFile();
  const older = new DatabaseSync(file);
  onTestFinished(() => older.close());
  bringUp(older, { ...SHOP_SCHEMA, steps: SHOP_SCHEMA.steps.slice(0, 1) });
  const own = SHOP_SCHEMA.steps.length;
  expect(() => openToRead(file)).toThrow(`the store has form 1, and this program reads form ${own}`);
  expect(older.prepare('PRAGMA user_version').get()).toEqual({ user_version: 1 });
  expect(readdirSync(dirname(file)).filter((name) => name.includes('before-form'))).toEqual([]);
});

it('syncs every commit, waits for locks and checks types and keys', () => {
  const database = openDatabase({ file: newFile(), ledgerIdForNew: 'l1' });
  onTestFinished(() => database.close());
  const settingOf = (name: string) =>
    Object.values(database.prepare(`PRAGMA ${name}`).get() as Record<string, unknown>)[0];
  const FULL = 2;
  expect(settingOf('journal_mode')).toBe('wal');
  expect(settingOf('synchronous')).toBe(FULL);
  expect(settingOf('fullfsync')).toBe(1);
  expect(settingOf('busy_timeout')).toBe(500);
  expect(settingOf('foreign_keys')).toBe(1);
  const looseTables = database
    .prepare(`SELECT name FROM pragma_table_list WHERE strict = 0 AND name NOT LIKE 'sqlite%'`)
    .all();
  expect(looseTables).toEqual([]);
});

it('refuses a database of a newer schema and leaves it as it is', async () => {
  const file = newFile();
  await openSqliteStore({ file, ledgerIdForNew: 'l1' }).ledger.close();
  withRaw(file, (database) => database.exec('PRAGMA user_version = 99'));
  const before = readFileSync(file);
  expect(refusalOf(file)).toMatch(/^the database has schema 99, this program knows schemas up to \d+: /);
  expect(readFileSync(file).equals(before)).toBe(true);
});

it('refuses the database of another program and leaves it as it is', () => {
  const file = newFile();
  withRaw(file, (database) => database.exec('CREATE TABLE notes (text)'));
  const before = readFileSync(file);
  expect(refusalOf(file)).toBe('the file is the database of another program');
  expect(readFileSync(file).equals(before)).toBe(true);
});

it('refuses a file that is no database', () => {
  const file = newFile();
  writeFileSync(file, 'Readings of January, kept by hand.\n'.repeat(200));
  expect(refusalOf(file)).toBe('file is not a database');
});

it('refuses a folder in place of the file, and a file in place of the folder', () => {
  const folder = newFile();
  mkdirSync(folder);
  expect(refusalOf(folder)).toContain('unable to open database file');
  const file = newFile();
  writeFileSync(file, '');
  expect(refusalOf(join(file, 'shop.db'))).toMatch(/^(EEXIST|ENOTDIR)/);
});

it('refuses a folder that it may not write to', () => {
  const file = newFile();
  chmodSync(dirname(file), 0o555);
  expect(asNobody(() => refusalOf(file))).toMatch(/^EACCES: permission denied/);
});

it('refuses a file that it may not write to', async () => {
  const file = newFile();
  await openSqliteStore({ file, ledgerIdForNew: 'l1' }).ledger.close();
  chmodSync(file, 0o444);
  chmodSync(dirname(file), 0o777);
  expect(asNobody(() => refusalOf(file))).toBe('attempt to write a readonly database');
});

it('calls a lock held by another process at the start worth another try', () => {
  const file = newFile();
  withRaw(file, (database) => {
    database.exec('PRAGMA journal_mode = WAL; BEGIN IMMEDIATE');
    expect(failureOf(file)).toMatchObject({ port: 'ledger', operation: 'open', isRetriable: true });
  });
});

/** Works as a user to whom file permissions apply: root passes over them. */
function asNobody<T>(work: () => T): T {
  if (process.geteuid?.() !== 0) return work();
  process.seteuid?.(65_534);
  try {
    return work();
  } finally {
    process.seteuid?.(0);
  }
}
