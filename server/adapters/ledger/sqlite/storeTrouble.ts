// What keeps SQLite from its work, as people would say it: https://sqlite.org/rescode.html
import type { StoreTrouble } from '../../../application/ports/portFailure.ts';

/** Names the trouble behind an error; null for any that is no trouble of the disk or the file. */
export function storeTroubleOf(cause: unknown): StoreTrouble | null {
  if (!(cause instanceof Error) || !('errcode' in cause) || typeof cause.errcode !== 'number') return null;
  // An extended code carries its kind in the lowest byte.
  return TROUBLES.get(cause.errcode & 0xff) ?? null;
}

const TROUBLES: ReadonlyMap<number, StoreTrouble> = new Map([
  [5, 'locked'], // SQLITE_BUSY
  [6, 'locked'], // SQLITE_LOCKED
  [8, 'read-only'], // SQLITE_READONLY
  [10, 'disk'], // SQLITE_IOERR
  [11, 'damaged'], // SQLITE_CORRUPT
  [13, 'full'], // SQLITE_FULL
  [26, 'damaged'], // SQLITE_NOTADB
]);
