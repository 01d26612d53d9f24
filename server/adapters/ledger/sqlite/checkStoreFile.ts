// Looks through a whole file: is it a shop's store, of a form that this program knows, and not damaged anywhere?
// Takes seconds for a year, so it is never done in the server's own process.
import { closeSync, existsSync, fstatSync, openSync, readSync } from 'node:fs';
import { DatabaseSync, type DatabaseSyncInstance } from '@photostructure/sqlite';
import type { Instant } from '../../../contract/index.ts';
import { findDamage } from './findDamage.ts';
import { assertOurs, tablesOfForm } from './migrations.ts';

/** What a sound store holds. */
export interface StoreHolds {
  readonly formVersion: number;
  readonly ledgerId: string;
  readonly factCount: number;
  readonly newestFactAt: Instant | null;
  readonly readingCount: number;
  readonly newestReadingAt: Instant | null;
}

export type StoreVerdict =
  | { readonly kind: 'sound'; readonly holds: StoreHolds }
  /** One sentence without a path; foreign: no store of this program, or of a newer one. */
  | { readonly kind: 'missing' | 'foreign' | 'damaged'; readonly sentence: string };

/** Checks a file that nobody else has open for writing, or that is a live store. Changes nothing in it. */
export function checkStoreFile(file: string): StoreVerdict {
  const strange = lookAtHeader(file);
  if (strange !== null) return strange;
  let database: DatabaseSyncInstance;
  try {
    database = new DatabaseSync(file, { readOnly: true, timeout: BUSY_TIMEOUT_MS });
  } catch (cause) {
    return { kind: 'damaged', sentence: `the file cannot be opened: ${messageOf(cause)}` };
  }
  try {
    return lookInside(database);
  } catch (cause) {
    return { kind: 'damaged', sentence: `the file is damaged: ${messageOf(cause)}` };
  } finally {
    database.close();
  }
}

const BUSY_TIMEOUT_MS = 5000;
const MAGIC = 'SQLite format 3\0';

/** What can be told of a file before SQLite looks at it; null when nothing speaks against it. */
function lookAtHeader(file: string): StoreVerdict | null {
  if (!existsSync(file)) return { kind: 'missing', sentence: 'there is no such file' };
  const handle = openSync(file, 'r');
  try {
    const found = fstatSync(handle);
    if (!found.isFile()) return { kind: 'foreign', sentence: 'it is a folder, not a file' };
    if (found.size === 0) return { kind: 'foreign', sentence: 'the file is empty' };
    const head = Buffer.alloc(MAGIC.length);
    readSync(handle, head, { length: head.length, position: 0 });
    if (head.toString('latin1') !== MAGIC) {
      return { kind: 'foreign', sentence: 'the file is no SQLite database' };
    }
    return null;
  } finally {
    closeSync(handle);
  }
}

function lookInside(database: DatabaseSyncInstance): StoreVerdict {
  let formVersion: number;
  try {
    formVersion = assertOurs(database);
  } catch (cause) {
    if (cause instanceof Error && 'errcode' in cause) throw cause;
    return { kind: 'foreign', sentence: messageOf(cause) };
  }
  if (formVersion === 0) return { kind: 'foreign', sentence: 'the database is empty' };
  const damage = findDamage(database, { tables: tablesOfForm(formVersion), isWhole: true });
  if (damage !== null) return { kind: 'damaged', sentence: `the file is damaged: ${damage}` };
  return { kind: 'sound', holds: readHolds(database, formVersion) };
}

function readHolds(database: DatabaseSyncInstance, formVersion: number): StoreHolds {
  const row = database
    .prepare(
      `SELECT (SELECT value FROM meta WHERE name = 'ledgerId') AS ledgerId,
         (SELECT count(*) FROM facts) AS factCount, (SELECT max(recorded_at) FROM facts) AS newestFactAt,
         (SELECT count(*) FROM readings) AS readingCount, (SELECT max(heard_at) FROM newest) AS newestReadingAt`,
    )
    .get() as Omit<StoreHolds, 'formVersion'>;
  return { formVersion, ...row };
}

function messageOf(cause: unknown): string {
  return cause instanceof Error ? cause.message : String(cause);
}
