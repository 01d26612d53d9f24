// Opens the file of a shop: every acknowledged write is on disk, and readers never wait for it.
import { closeSync, existsSync, mkdirSync, openSync } from 'node:fs';
import { dirname } from 'node:path';
import { DatabaseSync, type DatabaseSyncInstance } from '@photostructure/sqlite';
import { assertOurs, migrate } from './migrations.ts';

/** How long a write waits for another process that holds the lock [ms]; the event loop waits with it. */
const BUSY_TIMEOUT_MS = 5000;

export interface OpenOptions {
  readonly file: string;
  /** Taken when the file is new; an old one keeps its own. */
  readonly ledgerIdForNew: string;
  readonly busyTimeoutMs?: number;
}

/** Opens or creates the database, brings it to the newest schema; throws what kept it from that, and holds nothing then. */
export function openDatabase(options: OpenOptions): DatabaseSyncInstance {
  const { file, ledgerIdForNew, busyTimeoutMs = BUSY_TIMEOUT_MS } = options;
  mkdirSync(dirname(file), { recursive: true });
  // Made here, since the system says why it cannot be made and the driver does not.
  if (!existsSync(file)) closeSync(openSync(file, 'a'));
  // On the main thread only: a process that ends while another thread is inside the driver aborts.
  const database = new DatabaseSync(file, { timeout: busyTimeoutMs, enableForeignKeyConstraints: true });
  try {
    // Looks before it writes: what is not ours stays as it is.
    assertOurs(database);
    setUp(database);
    migrate(database, ledgerIdForNew);
    return database;
  } catch (cause) {
    database.close();
    throw cause;
  }
}

function setUp(database: DatabaseSyncInstance): void {
  const mode = database.prepare('PRAGMA journal_mode = WAL').get() as { journal_mode: string };
  if (mode.journal_mode !== 'wal') throw new Error('the place of the file allows no write-ahead log');
  // With a write-ahead log only FULL syncs every commit.
  database.exec('PRAGMA synchronous = FULL');
  // Cuts the log back to 16 MiB after a burst.
  database.exec('PRAGMA journal_size_limit = 16777216');
}
