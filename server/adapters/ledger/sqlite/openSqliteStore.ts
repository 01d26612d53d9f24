// The store of a real shop: one SQLite file with ledger and air table, written by one process.
import type { DatabaseSyncInstance } from '@photostructure/sqlite';
import type { AirTable } from '../../../application/ports/airTable.ts';
import type { Ledger } from '../../../application/ports/ledger.ts';
import { PortFailure } from '../../../application/ports/portFailure.ts';
import type { StoreCopier } from '../../../application/ports/storeCopier.ts';
import { isRetriableError } from './isRetriableError.ts';
import { makeSqliteAir } from './makeSqliteAir.ts';
import { makeSqliteCopier } from './makeSqliteCopier.ts';
import { makeSqliteLedger } from './makeSqliteLedger.ts';
import { openDatabase, type OpenOptions } from './openDatabase.ts';
import { ownStoreWork, type StoreWork } from './storeWork.ts';

/**
 * Opens or creates the file; closing the ledger closes both. Copies are made by the work given, in this process when none
 * is. Throws PortFailure, whose cause says what is wrong.
 */
export function openSqliteStore(
  options: OpenOptions,
  work: StoreWork = ownStoreWork,
): {
  ledger: Ledger;
  air: AirTable;
  copier: StoreCopier;
} {
  try {
    const database = openDatabase(options);
    return { ...makeSqliteStore(database), copier: makeSqliteCopier(work, options.file) };
  } catch (cause) {
    throw new PortFailure('ledger', 'open', { isRetriable: isRetriableError(cause), cause });
  }
}

/** Makes the store of a database that openDatabase gave; it owns the database from then on. */
export function makeSqliteStore(database: DatabaseSyncInstance): { ledger: Ledger; air: AirTable } {
  const { air, flush } = makeSqliteAir(database);
  return { ledger: makeSqliteLedger({ database, beforeClose: flush }), air };
}
