// Thinning in SQLite: a step is one transaction over one series, and the series' own row says how far it has come.
import type { DatabaseSyncInstance } from '@photostructure/sqlite';
import type { AirRow, Quantity, Thinned } from '../../../application/ports/airTable.ts';
import type { Instant } from '../../../contract/index.ts';
import { binStart, planThinning, THIN_ROWS_MAX } from '../thinRows.ts';
import { inTransaction } from './inTransaction.ts';

interface OldSeries {
  readonly sensorId: string;
  readonly quantity: Quantity;
  readonly thinnedAt: Instant;
  /** The oldest of what is newest of it, in one sense or another: from there on nothing is touched. */
  readonly newestAt: Instant;
}

type OldRow = Pick<AirRow, 'at' | 'measurement' | 'trust'> & { readonly isContradicting: 0 | 1 };

/** Makes the step of a migrated database. */
export function makeThinning(database: DatabaseSyncInstance): (beforeAt: Instant) => Thinned {
  const statements = prepareAll(database);
  return (beforeAt) =>
    inTransaction(database, () => {
      const series = statements.next.get(binStart(beforeAt)) as OldSeries | undefined;
      if (series === undefined) return { removedCount: 0, isDone: true };
      const { sensorId, quantity, thinnedAt, newestAt } = series;
      const endAt = binStart(Math.min(beforeAt, newestAt) as Instant);
      const key = [sensorId, quantity] as const;
      const rows = statements.rows.all(...key, thinnedAt, endAt, THIN_ROWS_MAX + 1) as unknown as OldRow[];
      const plan = planThinning(rows, endAt);
      for (const { at, isContradicting, measurement } of plan.gone)
        statements.remove.run(...key, at, isContradicting, measurement);
      for (const { row, measurement } of plan.means) {
        statements.mean.run(measurement, ...key, row.at, row.isContradicting, row.measurement);
      }
      statements.note.run(plan.thinnedAt, ...key);
      return { removedCount: plan.gone.length, isDone: false };
    });
}

const OF_ROW = 'sensor_id = ? AND quantity = ? AND at = ? AND rank = ? AND measurement = ?';

function prepareAll(database: DatabaseSyncInstance) {
  return {
    // A series is listed while there are whole ten minutes before the end that were not looked at.
    next: database.prepare(
      `SELECT sensor_id AS sensorId, quantity, coalesce(thinned_at, 0) AS thinnedAt,
         min(heard_at, coalesce(shown_at, heard_at), coalesce(good_at, heard_at)) AS newestAt
       FROM newest
       WHERE coalesce(thinned_at, 0) < min(?,
         min(heard_at, coalesce(shown_at, heard_at), coalesce(good_at, heard_at)) / 600000 * 600000)
       ORDER BY sensor_id, quantity LIMIT 1`,
    ),
    rows: database.prepare(
      `SELECT at, rank AS isContradicting, measurement, trust FROM readings
       WHERE sensor_id = ? AND quantity = ? AND at >= ? AND at < ? ORDER BY at, rank, measurement LIMIT ?`,
    ),
    remove: database.prepare(`DELETE FROM readings WHERE ${OF_ROW}`),
    mean: database.prepare(`UPDATE readings SET measurement = ?, reason = 'mean' WHERE ${OF_ROW}`),
    note: database.prepare(`UPDATE newest SET thinned_at = ? WHERE sensor_id = ? AND quantity = ?`),
  };
}
