// Every statement of the ledger, prepared once.
import type { DatabaseSyncInstance } from '@photostructure/sqlite';

const FACT_COLUMNS = `sequence, type, version, at, recorded_at AS recordedAt, by, batch_id AS batchId,
  bay_id AS bayId, body`;

/** The statements whose plans matter once there are many facts. */
export const LEDGER_SQL = {
  head: `SELECT coalesce(max(sequence), 0) AS head FROM facts`,
  facts: `SELECT ${FACT_COLUMNS} FROM facts WHERE sequence > ? ORDER BY sequence LIMIT ?`,
  factsOfBatch: `SELECT ${FACT_COLUMNS} FROM facts WHERE batch_id = ? AND sequence > ? ORDER BY sequence LIMIT ?`,
  // The index is named, since the planner would rather walk through all that was ever closed.
  openViews: `SELECT id, is_open AS isOpen, body FROM views INDEXED BY views_open
    WHERE kind = ? AND is_open = 1 ORDER BY id`,
  forgetAnswers: `DELETE FROM answers WHERE at < ?`,
} as const;

export type LedgerStatements = ReturnType<typeof prepareLedger>;

/** Prepares them for a migrated database. */
export function prepareLedger(database: DatabaseSyncInstance) {
  return {
    ledgerId: database.prepare(`SELECT value FROM meta WHERE name = 'ledgerId'`),
    head: database.prepare(LEDGER_SQL.head),
    addFact: database.prepare(
      `INSERT INTO facts (sequence, type, version, at, recorded_at, by, batch_id, bay_id, body)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    ),
    facts: database.prepare(LEDGER_SQL.facts),
    factsOfBatch: database.prepare(LEDGER_SQL.factsOfBatch),
    putView: database.prepare(
      `INSERT INTO views (kind, id, is_open, body) VALUES (?, ?, ?, ?)
       ON CONFLICT (kind, id) DO UPDATE SET is_open = excluded.is_open, body = excluded.body`,
    ),
    view: database.prepare(`SELECT body FROM views WHERE kind = ? AND id = ?`),
    views: database.prepare(`SELECT id, is_open AS isOpen, body FROM views WHERE kind = ? ORDER BY id`),
    openViews: database.prepare(LEDGER_SQL.openViews),
    dropViews: database.prepare(`DELETE FROM views`),
    // No upsert: a second answer to the same key would mean that something was done twice.
    addAnswer: database.prepare(`INSERT INTO answers (key, fingerprint, at, body) VALUES (?, ?, ?, ?)`),
    answer: database.prepare(`SELECT key, fingerprint, at, body FROM answers WHERE key = ?`),
    forgetAnswers: database.prepare(LEDGER_SQL.forgetAnswers),
    takeRoom: database.prepare(
      `INSERT INTO meta (name, value) VALUES ('room', printf('%.*c', ?, '.'))
       ON CONFLICT (name) DO UPDATE SET value = excluded.value`,
    ),
    giveRoom: database.prepare(`DELETE FROM meta WHERE name = 'room'`),
  };
}
