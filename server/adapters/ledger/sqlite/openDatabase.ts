// Opens the file of a shop: every acknowledged write is on disk, and readers never wait for it.
import { closeSync, existsSync, mkdirSync, openSync } from 'node:fs';
import { dirname } from 'node:path';
import { DatabaseSync, type DatabaseSyncInstance } from '@photostructure/sqlite';
import { findDamage } from './findDamage.ts';
import { keepBeforeForm } from './keepBeforeForm.ts';
import { assertOurs, migrate, type Schema, SHOP_SCHEMA, tablesOfForm } from './migrations.ts';
import { assertUncut, StoreDamage } from './storeDamage.ts';

/** How long a write waits for another process that holds the lock [ms]; the event loop waits with it, and screens with that. */
const BUSY_TIMEOUT_MS = 500;

export interface OpenOptions {
  readonly file: string;
  /** Taken when the file is new; an old one keeps its own. */
  readonly ledgerIdForNew: string;
  readonly busyTimeoutMs?: number;
}

/**
 * Opens or creates the shop's database and brings it to the newest schema, with a copy of what was there before. Throws
 * what kept it from that, StoreDamage where the file is not whole, and holds nothing then.
 */
export function openDatabase({ ledgerIdForNew, ...options }: OpenOptions): DatabaseSyncInstance {
  assertUncut(options.file);
  return openFile(options, (database) => {
    keepBeforeForm(database, { file: options.file, schema: SHOP_SCHEMA });
    migrate(database, ledgerIdForNew);
    const tables = tablesOfForm(SHOP_SCHEMA.steps.length);
    const damage = findDamage(database, { tables, isWhole: false });
    if (damage !== null) throw new StoreDamage(`the store is damaged: ${damage}`);
  });
}

/**
 * Opens a store that another program works on, for reading only: neither it nor what lies beside it is changed. Throws
 * where it has another form than this program's.
 */
export function openToRead(file: string): DatabaseSyncInstance {
  const database = new DatabaseSync(file, { readOnly: true, timeout: BUSY_TIMEOUT_MS });
  try {
    const version = assertOurs(database);
    const ownVersion = SHOP_SCHEMA.steps.length;
    if (version !== ownVersion)
      throw new Error(`the store has form ${version}, and this program reads form ${ownVersion}`);
    return database;
  } catch (cause) {
    database.close();
    throw cause;
  }
}

/** Opens or creates a file of a schema and lets it be brought up; the file is made readable as the mode says. */
export function openFile(
  options: {
    readonly file: string;
    readonly busyTimeoutMs?: number;
    /** The shop's own when left out. */
    readonly schema?: Schema;
    /** Of a new file; as the system has it when left out. */
    readonly mode?: string;
  },
  bringUpFile: (database: DatabaseSyncInstance) => void,
): DatabaseSyncInstance {
  const { file, busyTimeoutMs = BUSY_TIMEOUT_MS, schema, mode } = options;
  mkdirSync(dirname(file), { recursive: true });
  // Made here, since the system says why it cannot be made and the driver does not.
  if (!existsSync(file)) closeSync(openSync(file, 'a', mode));
  // On the main thread only: a process that ends while another thread is inside the driver aborts.
  const database = new DatabaseSync(file, { timeout: busyTimeoutMs, enableForeignKeyConstraints: true });
  try {
    // Looks before it writes: what is not ours stays as it is.
    assertOurs(database, schema);
    setUp(database);
    bringUpFile(database);
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
  // On macOS a plain sync leaves a commit in the drive's own cache, which a power cut empties; elsewhere this does nothing.
  database.exec('PRAGMA fullfsync = ON');
  // Cuts the log back to 16 MiB after a burst.
  database.exec('PRAGMA journal_size_limit = 16777216');
}
