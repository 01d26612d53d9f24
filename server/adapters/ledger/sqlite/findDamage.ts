// What is wrong with a database, in one sentence: a part of it that takes no time, and all of it.
import type { DatabaseSyncInstance } from '@photostructure/sqlite';

/** A table or index as its own words say it. */
export interface TableForm {
  readonly name: string;
  readonly sql: string;
}

export interface DamageQuestion {
  readonly tables: readonly TableForm[];
  /** Every page, every body; else the newest facts, the open views and the gaplessness alone. */
  readonly isWhole: boolean;
}

/** As many of the newest facts are read at each start: a year of them takes a tenth of a second. */
const NEWEST_FACTS_COUNT = 60_000;

/** Names the first damage found; null when there is none. SQLite's own errors are thrown on. */
export function findDamage(
  database: DatabaseSyncInstance,
  { tables, isWhole }: DamageQuestion,
): string | null {
  const torn = isWhole ? findTornPage(database) : null;
  return (
    torn ??
    findStrangeTable(database, tables) ??
    findGap(database) ??
    findBadFact(database, isWhole ? null : NEWEST_FACTS_COUNT) ??
    findBadView(database, isWhole) ??
    (isWhole ? findBadAnswer(database) : null)
  );
}

function findTornPage(database: DatabaseSyncInstance): string | null {
  const row = database.prepare('PRAGMA integrity_check(1)').get() as { integrity_check: string };
  return row.integrity_check === 'ok' ? null : row.integrity_check.replaceAll(/\s+/g, ' ');
}

function findStrangeTable(database: DatabaseSyncInstance, tables: readonly TableForm[]): string | null {
  const rows = database.prepare(`SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL`).all();
  const found = new Map((rows as unknown as TableForm[]).map(({ name, sql }) => [name, sql]));
  for (const { name, sql } of tables) {
    if (!found.has(name)) return `the table or index ${name} is missing`;
    if (found.get(name) !== sql) return `the table or index ${name} is not as it should be`;
  }
  const named: unknown = database.prepare(`SELECT value FROM meta WHERE name = 'ledgerId'`).get();
  return named === undefined ? 'the ledger has no name' : null;
}

function findGap(database: DatabaseSyncInstance): string | null {
  const { count, head } = database
    .prepare('SELECT count(*) AS count, coalesce(max(sequence), 0) AS head FROM facts')
    .get() as { count: number; head: number };
  if (count === head) return null;
  const { sequence } = database
    .prepare(
      `SELECT min(before) AS sequence FROM (
         SELECT sequence - 1 AS before FROM facts
         WHERE sequence > 1 AND NOT EXISTS (SELECT 1 FROM facts AS other WHERE other.sequence = facts.sequence - 1))`,
    )
    .get() as { sequence: number };
  return `fact ${sequence} is missing`;
}

function findBadFact(database: DatabaseSyncInstance, newestCount: number | null): string | null {
  const fromSequence =
    newestCount === null ? '0' : `(SELECT coalesce(max(sequence), 0) FROM facts) - ${newestCount}`;
  const row = database
    .prepare(`SELECT sequence FROM facts WHERE sequence > ${fromSequence} AND NOT json_valid(body) LIMIT 1`)
    .get() as { sequence: number } | undefined;
  return row === undefined ? null : `fact ${row.sequence} cannot be read`;
}

function findBadView(database: DatabaseSyncInstance, isWhole: boolean): string | null {
  const which = isWhole ? '' : 'is_open = 1 AND';
  const row = database
    .prepare(`SELECT kind, id FROM views WHERE ${which} NOT json_valid(body) LIMIT 1`)
    .get() as { kind: string; id: string } | undefined;
  return row === undefined ? null : `the view ${row.kind} ${row.id} cannot be read`;
}

function findBadAnswer(database: DatabaseSyncInstance): string | null {
  const row: unknown = database.prepare('SELECT key FROM answers WHERE NOT json_valid(body) LIMIT 1').get();
  return row === undefined ? null : 'a kept answer cannot be read';
}
