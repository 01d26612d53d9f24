// One way to write: all of it or nothing.
import type { DatabaseSyncInstance } from '@photostructure/sqlite';

/** Runs work in a transaction that holds the write lock from its start; what throws leaves nothing behind. */
export function inTransaction<T>(database: DatabaseSyncInstance, work: () => T): T {
  // One that could not be rolled back when it failed must not hold up everything after it.
  if (database.isTransaction) database.exec('ROLLBACK');
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

function rollBack(database: DatabaseSyncInstance): void {
  // Some errors, a full disk among them, have rolled back already.
  if (!database.isTransaction) return;
  try {
    database.exec('ROLLBACK');
  } catch {
    // The first error says more; the next transaction tries again.
  }
}
