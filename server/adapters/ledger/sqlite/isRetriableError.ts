// Which SQLite errors may pass by themselves: https://sqlite.org/rescode.html

/** Whether the same work may succeed later: locked, full, read-only or the disk's own trouble. */
export function isRetriableError(cause: unknown): boolean {
  if (!(cause instanceof Error) || !('errcode' in cause) || typeof cause.errcode !== 'number') return false;
  // An extended code carries its kind in the lowest byte.
  return RETRIABLE_CODES.has(cause.errcode & 0xff);
}

const RETRIABLE_CODES: ReadonlySet<number> = new Set([
  5, // SQLITE_BUSY
  6, // SQLITE_LOCKED
  8, // SQLITE_READONLY
  10, // SQLITE_IOERR
  13, // SQLITE_FULL
]);
