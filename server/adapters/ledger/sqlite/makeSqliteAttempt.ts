// Work on the shop's database as a port does it: nothing that an earlier work left half done is seen by it.
import type { DatabaseSyncInstance } from '@photostructure/sqlite';
import type { PortName } from '../../../application/ports/portFailure.ts';
import { type Attempt, makeAttempt } from '../attempt.ts';
import { endLeftOver } from './inTransaction.ts';
import { isRetriableError } from './isRetriableError.ts';
import { storeTroubleOf } from './storeTrouble.ts';

/** Names the port of a database once. */
export function makeSqliteAttempt(port: PortName, database: DatabaseSyncInstance): Attempt {
  const attempt = makeAttempt(port, isRetriableError, storeTroubleOf);
  return (operation, work) =>
    attempt(operation, () => {
      if (database.isOpen) endLeftOver(database);
      return work();
    });
}
