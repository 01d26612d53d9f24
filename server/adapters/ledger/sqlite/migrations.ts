// The tables, version by version: a step is never changed once a shop has run it; a new one is added below it.
import { DatabaseSync, type DatabaseSyncInstance } from '@photostructure/sqlite';
import { inTransaction } from './inTransaction.ts';

/** What makes a file one of ours, and the steps to its newest tables, oldest first. */
export interface Schema {
  /** Stands in the file's header. */
  readonly applicationId: number;
  readonly steps: readonly string[];
}

/** Brings a shop's database to the newest schema; a new one gets its ledger id. */
export function migrate(database: DatabaseSyncInstance, ledgerIdForNew: string): void {
  bringUp(database, SHOP_SCHEMA, () => {
    database.prepare(`INSERT INTO meta (name, value) VALUES ('ledgerId', ?)`).run(ledgerIdForNew);
  });
}

/**
 * Brings a database to the newest tables of a schema, each step a transaction: what interrupts one leaves the form before
 * it. Writes in any case, so that a file that cannot be written is found out at once. Throws when the file is another
 * program's or of a newer schema.
 */
export function bringUp(
  database: DatabaseSyncInstance,
  schema: Schema,
  whenNew: () => void = () => undefined,
): void {
  const { applicationId, steps } = schema;
  const setVersion = (version: number): void => database.exec(`PRAGMA user_version = ${version}`);
  const oldVersion = assertOurs(database, schema);
  for (let version = oldVersion; version > 0 && version < steps.length; version += 1) {
    inTransaction(database, () => {
      database.exec(steps[version] as string);
      setVersion(version + 1);
    });
  }
  inTransaction(database, () => {
    // A new file gets all of its tables at once: half a form is none. Somebody else may have been faster.
    const isNew = assertOurs(database, schema) === 0;
    if (isNew) for (const sql of steps) database.exec(sql);
    if (isNew) whenNew();
    database.exec(`PRAGMA application_id = ${applicationId}`);
    setVersion(steps.length);
  });
}

/** The tables and indexes of a shop's database of some form, as SQLite keeps their words. */
export function tablesOfForm(version: number): readonly { readonly name: string; readonly sql: string }[] {
  const database = new DatabaseSync(':memory:');
  try {
    for (const sql of SHOP_SCHEMA.steps.slice(0, version)) database.exec(sql);
    const rows = database.prepare('SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL').all();
    return rows as { name: string; sql: string }[];
  } finally {
    database.close();
  }
}

/** The version of an own or an empty database; throws for any other. Changes nothing. */
export function assertOurs(database: DatabaseSyncInstance, schema: Schema = SHOP_SCHEMA): number {
  const { applicationId, version, objects } = database
    .prepare(
      `SELECT application_id AS applicationId, user_version AS version,
         (SELECT count(*) FROM sqlite_schema) AS objects
       FROM pragma_application_id, pragma_user_version`,
    )
    .get() as { applicationId: number; version: number; objects: number };
  const isEmpty = applicationId === 0 && version === 0 && objects === 0;
  if (!isEmpty && applicationId !== schema.applicationId) {
    throw new Error('the file is the database of another program');
  }
  if (version > schema.steps.length) {
    throw new Error(
      `the database has schema ${version}, this program knows schemas up to ${schema.steps.length}: ` +
        'it was written by a newer version of the program',
    );
  }
  return version;
}

const VERSION_1 = `
CREATE TABLE meta (
  name TEXT NOT NULL PRIMARY KEY,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE facts (
  sequence INTEGER PRIMARY KEY CHECK (sequence > 0),
  type TEXT NOT NULL,
  version INTEGER NOT NULL,
  at INTEGER NOT NULL,
  recorded_at INTEGER NOT NULL,
  by TEXT,
  batch_id TEXT,
  bay_id TEXT,
  body TEXT NOT NULL
) STRICT;
CREATE INDEX facts_by_batch ON facts (batch_id) WHERE batch_id IS NOT NULL;

CREATE TABLE views (
  kind TEXT NOT NULL,
  id TEXT NOT NULL,
  is_open INTEGER NOT NULL CHECK (is_open IN (0, 1)),
  body TEXT NOT NULL,
  PRIMARY KEY (kind, id)
) STRICT, WITHOUT ROWID;
CREATE INDEX views_open ON views (kind, id) WHERE is_open = 1;

CREATE TABLE answers (
  key TEXT NOT NULL PRIMARY KEY,
  fingerprint TEXT NOT NULL,
  at INTEGER NOT NULL,
  body TEXT NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX answers_by_at ON answers (at);

-- One row for each value of an identity. Rank 0 is the value that was there first, rank 1 one that contradicts it.
CREATE TABLE readings (
  sensor_id TEXT NOT NULL,
  quantity TEXT NOT NULL,
  at INTEGER NOT NULL,
  rank INTEGER NOT NULL CHECK (rank IN (0, 1)),
  measurement REAL NOT NULL,
  recorded_at INTEGER NOT NULL,
  trust TEXT NOT NULL,
  reason TEXT,
  PRIMARY KEY (sensor_id, quantity, at, rank, measurement)
) STRICT, WITHOUT ROWID;

-- The newest of each sensor and quantity: heard in any row, shown in one that is good or aside, good in a good one.
CREATE TABLE newest (
  sensor_id TEXT NOT NULL,
  quantity TEXT NOT NULL,
  heard_at INTEGER NOT NULL,
  shown_at INTEGER,
  measurement REAL,
  good_at INTEGER,
  PRIMARY KEY (sensor_id, quantity)
) STRICT, WITHOUT ROWID;
`;

/** Until when a series is made of means: old readings are thinned from there on. */
const VERSION_2 = `ALTER TABLE newest ADD COLUMN thinned_at INTEGER`;

/** The shop's own file: "SAND". */
export const SHOP_SCHEMA: Schema = { applicationId: 0x53_41_4e_44, steps: [VERSION_1, VERSION_2] };
