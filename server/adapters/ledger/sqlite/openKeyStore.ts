// The second file of a shop, for what must not leave it: hashes of tokens and passwords, keys. A copy of the shop has none of it.
import { chmodSync, existsSync } from 'node:fs';
import { join } from 'node:path';
import type { DatabaseSyncInstance } from '@photostructure/sqlite';
import { PortFailure } from '../../../application/ports/portFailure.ts';
import { isRetriableError } from './isRetriableError.ts';
import { KEY_SCHEMA } from './keyMigrations.ts';
import { bringUp } from './migrations.ts';
import { openFile } from './openDatabase.ts';

const FILE_NAME = 'keys.sqlite';
/** Kept from the garbage collector, which would close what only its prepared statements still speak of. */
const held: DatabaseSyncInstance[] = [];
/** For the account that runs the program alone. */
const OWNER_ONLY = '600';

/**
 * Opens or creates the file of keys in a data folder, with a write-ahead log and full sync like the shop's own. Stores
 * for what it holds are made of the database that this gives. Throws PortFailure, whose cause says what is wrong.
 */
export function openKeyStore(dataFolder: string): DatabaseSyncInstance {
  const file = join(dataFolder, FILE_NAME);
  try {
    // Somebody may have brought it here by a copy that forgot who may read it; its log takes the same rights.
    if (existsSync(file)) chmodSync(file, OWNER_ONLY);
    const database = openFile({ file, schema: KEY_SCHEMA, mode: OWNER_ONLY }, (opened) =>
      bringUp(opened, KEY_SCHEMA),
    );
    held.push(database);
    return database;
  } catch (cause) {
    throw new PortFailure('keys', 'open', { isRetriable: isRetriableError(cause), cause });
  }
}
