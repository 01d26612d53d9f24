// A store that cannot write says so, keeps nothing by half, and goes on when the trouble is over.
import { DatabaseSync, type DatabaseSyncInstance } from '@photostructure/sqlite';
import { beforeEach, describe, expect, it, onTestFinished } from 'vitest';
import { openDatabase } from '../../../../server/adapters/ledger/sqlite/openDatabase.ts';
import { makeSqliteStore } from '../../../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import type { AirRow } from '../../../../server/application/ports/airTable.ts';
import { PortFailure } from '../../../../server/application/ports/portFailure.ts';
import type { Sequence } from '../../../../server/domain/facts.ts';
import { answerOf, entryAfter, factOf, minute, rowOf, spanOf, viewOf } from '../ledgerFixtures.ts';
import type { Store } from '../ledgerSuite.ts';
import { newFile } from '../temporaryFolder.ts';

interface Trouble {
  readonly name: string;
  readonly message: string;
  /** Brings the trouble about; what it gives back ends it. */
  readonly begin: (database: DatabaseSyncInstance, file: string) => () => void;
}

const TROUBLES: readonly Trouble[] = [
  { name: 'locked by another process', message: 'database is locked', begin: lock },
  { name: 'read-only', message: 'attempt to write a readonly database', begin: makeReadOnly },
  { name: 'on a full disk', message: 'database or disk is full', begin: fill },
];

function lock(_database: DatabaseSyncInstance, file: string): () => void {
  const other = new DatabaseSync(file);
  other.exec('BEGIN IMMEDIATE');
  return () => other.close();
}

function makeReadOnly(database: DatabaseSyncInstance): () => void {
  database.exec('PRAGMA query_only = 1');
  return () => database.exec('PRAGMA query_only = 0');
}

function fill(database: DatabaseSyncInstance): () => void {
  // The least there can be is what there is.
  database.exec('PRAGMA max_page_count = 1');
  return () => database.exec('PRAGMA max_page_count = 1000000');
}

/** Enough to need a page more. */
const LONG = 'long '.repeat(4000);
const manyRows: readonly AirRow[] = Array.from({ length: 500 }, (_, index) => rowOf({ at: minute(index) }));

let database: DatabaseSyncInstance;
let file: string;
let store: Store;

beforeEach(async () => {
  file = newFile();
  database = openDatabase({ file, ledgerIdForNew: 'l1', busyTimeoutMs: 20 });
  store = makeSqliteStore(database);
  onTestFinished(() => store.ledger.close());
  await store.ledger.append(entryAfter(0, { views: [viewOf('b1')], answer: answerOf('k1') }));
});

async function failureOf(work: Promise<unknown>): Promise<PortFailure> {
  const outcome: unknown = await work.then(
    () => 'it worked',
    (failure: unknown) => failure,
  );
  expect(outcome).toBeInstanceOf(PortFailure);
  return outcome as PortFailure;
}

describe.each(TROUBLES)('a store $name', ({ message, begin }) => {
  it('rejects every call of a commit and records them once the trouble is over', async () => {
    const end = begin(database, file);
    const calls = [store.air.record(manyRows), store.air.record([rowOf({ sensorId: 's2' })])];
    for (const failure of await Promise.all(calls.map(failureOf))) {
      expect(failure).toMatchObject({ port: 'air', operation: 'record', isRetriable: true });
      expect((failure.cause as Error).message).toBe(message);
    }
    expect(await store.air.readSpan(spanOf('bay-1-air', 's2'))).toEqual([]);
    expect(await store.air.readSensors()).toEqual([]);
    end();
    expect(new Set(await store.air.record(manyRows))).toEqual(new Set(['recorded']));
    expect(await store.air.readSpan(spanOf('bay-1-air'))).toEqual(manyRows);
  });

  it('keeps no part of an entry and takes it once the trouble is over', async () => {
    const entry = entryAfter(1, {
      views: [viewOf('b2'), { ...viewOf('b3'), body: LONG }],
      answer: { ...answerOf('k2'), body: LONG },
    });
    const end = begin(database, file);
    const failure = await failureOf(store.ledger.append(entry));
    expect(failure).toMatchObject({ port: 'ledger', operation: 'append', isRetriable: true });
    expect((failure.cause as Error).message).toBe(message);
    expect(await store.ledger.readHead()).toBe(1);
    expect(await store.ledger.readView('batch', 'b2')).toBeNull();
    expect(await store.ledger.readAnswer('k2')).toBeNull();
    end();
    expect(await store.ledger.append(entry)).toEqual({ kind: 'appended', sequence: 2 });
  });

  it('keeps the old views when new ones cannot be put in their place', async () => {
    const end = begin(database, file);
    const replacement = [viewOf('b2'), { ...viewOf('b3'), body: LONG }];
    expect(await failureOf(store.ledger.replaceViews(replacement))).toMatchObject({ isRetriable: true });
    expect(await store.ledger.readViews('batch', { openOnly: false })).toEqual([viewOf('b1')]);
    end();
    await store.ledger.replaceViews(replacement);
    expect(await store.ledger.readViews('batch', { openOnly: false })).toEqual(replacement);
    expect(database.prepare('PRAGMA integrity_check').get()).toEqual({ integrity_check: 'ok' });
  });
});

it('reads while another process holds the lock for writing', async () => {
  const end = lock(database, file);
  expect(await store.ledger.readHead()).toBe(1);
  end();
});

it('says that a fact is missing where one is', async () => {
  await store.ledger.append(entryAfter(1, { facts: [factOf(2), factOf(3)] }));
  database.exec('DELETE FROM facts WHERE sequence = 2');
  const failure = await failureOf(store.ledger.readFacts({ afterSequence: 0 as Sequence, limit: 10 }));
  expect(failure).toMatchObject({ operation: 'readFacts', isRetriable: false });
  expect((failure.cause as Error).message).toBe('fact 3 stands where fact 2 belongs');
});
