// The tables, version by version: a step is never changed once a shop has run it; a new one is added below it.
import type { DatabaseSyncInstance } from '@photostructure/sqlite';
import { inTransaction } from './inTransaction.ts';

/** Marks the file as ours: "SAND" in the header's application id. */
const APPLICATION_ID = 0x53_41_4e_44;

/**
 * Brings a database to the newest schema; a new one gets its ledger id. Writes in any case, so that a file that cannot
 * be written is found out at once. Throws when the file is another program's or of a newer schema.
 */
export function migrate(database: DatabaseSyncInstance, ledgerIdForNew: string): void {
  inTransaction(database, () => {
    const version = assertOurs(database);
    for (const step of MIGRATIONS.slice(version)) database.exec(step);
    if (version === 0) {
      database.prepare(`INSERT INTO meta (name, value) VALUES ('ledgerId', ?)`).run(ledgerIdForNew);
    }
    database.exec(`PRAGMA application_id = ${APPLICATION_ID}`);
    database.exec(`PRAGMA user_version = ${MIGRATIONS.length}`);
  });
}

/** The version of an own or an empty database; throws for any other. Changes nothing. */
export function assertOurs(database: DatabaseSyncInstance): number {
  const { applicationId, version, objects } = database
    .prepare(
      `SELECT application_id AS applicationId, user_version AS version,
         (SELECT count(*) FROM sqlite_schema) AS objects
       FROM pragma_application_id, pragma_user_version`,
    )
    .get() as { applicationId: number; version: number; objects: number };
  const isEmpty = applicationId === 0 && version === 0 && objects === 0;
  if (!isEmpty && applicationId !== APPLICATION_ID) {
    throw new Error('the file is the database of another program');
  }
  if (version > MIGRATIONS.length) {
    throw new Error(
      `the database has schema ${version}, this program knows schemas up to ${MIGRATIONS.length}: ` +
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

const MIGRATIONS: readonly string[] = [VERSION_1];
