// One way to write: all of it or nothing.
import type { DatabaseSyncInstance } from '@photostructure/sqlite';

/** Runs work in a transaction that holds the write lock from its start; what throws leaves nothing behind. */
export function inTransaction<T>(database: DatabaseSyncInstance, work: () => T): T {
  endLeftOver(database);
  database.exec('BEGIN IMMEDIATE');
  try {
    const result = work();
    database.exec('COMMIT');
    return result;
  } catch (cause) {
    rollBack(database);
    throw cause;
  }
}

/**
 * Ends a transaction that failed and could not be rolled back then: it must neither hold up what comes after it nor be read
 * as if it had been committed. To be called before each piece of work, since every transaction is over within one.
 */
export function endLeftOver(database: DatabaseSyncInstance): void {
  if (database.isTransaction) database.exec('ROLLBACK');
}

function rollBack(database: DatabaseSyncInstance): void {
  // Some errors, a full disk among them, have rolled back already.
  if (!database.isTransaction) return;
  try {
    database.exec('ROLLBACK');
  } catch {
    // The first error says more; the next transaction tries again.
  }
}
