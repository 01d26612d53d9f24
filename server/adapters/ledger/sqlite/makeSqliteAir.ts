// The air table in SQLite: rows lie by sensor, quantity and instant, so that any span is one walk for each.
import type { DatabaseSyncInstance, StatementSyncInstance } from '@photostructure/sqlite';
import type {
  AirRow,
  AirSpan,
  AirTable,
  Quantity,
  RecordOutcome,
  SensorSeen,
} from '../../../application/ports/airTable.ts';
import { QUANTITIES } from '../../../application/ports/airTable.ts';
import type { Instant } from '../../../contract/index.ts';
import { PortFailure } from '../../../application/ports/portFailure.ts';
import { assertRows, keepable, keptMeasurement } from '../checkInput.ts';
import { heardAtOf, isShown, type Newest, sensorSeenFrom } from '../sensorSeen.ts';
import { sortByText } from '../sortByText.ts';
import { inTransaction } from './inTransaction.ts';
import { isRetriableError } from './isRetriableError.ts';
import { makeGroupCommit, TooManyWaiting } from './makeGroupCommit.ts';
import { makeSqliteAttempt } from './makeSqliteAttempt.ts';
import { storeTroubleOf } from './storeTrouble.ts';
import { makeThinning } from './thinSqliteAir.ts';

/** Makes the air table of a migrated database; flush commits what was taken and not yet stored. */
export function makeSqliteAir(database: DatabaseSyncInstance): { air: AirTable; flush: () => void } {
  const attempt = makeSqliteAttempt('air', database);
  const statements = prepareAll(database);
  const thinNext = makeThinning(database);
  const groupCommit = makeGroupCommit((rows) =>
    inTransaction(database, () => rows.map((row) => recordRow(statements, row))),
  );

  function readSpan({ sensorIds, fromAt, toAt, goodOnly }: AirSpan): readonly AirRow[] {
    const statement = goodOnly ? statements.goodSpan : statements.span;
    return readSeries(sensorIds, (series) => statement.all(...series, fromAt, toAt) as Cells[]);
  }

  function readLatest(sensorIds: readonly string[], notAfterAt: Instant): readonly AirRow[] {
    return readSeries(
      sensorIds,
      (series) => statements.latest.all(...series, notAfterAt, ...series) as Cells[],
    );
  }

  function readSensors(): readonly SensorSeen[] {
    const bySensor = new Map<string, Newest[]>();
    for (const row of statements.newest.all() as NewestRow[]) {
      bySensor.set(row.sensorId, [...(bySensor.get(row.sensorId) ?? []), row]);
    }
    return Array.from(bySensor, ([sensorId, newest]) => sensorSeenFrom(sensorId, newest));
  }

  return {
    air: {
      record: async (rows) => {
        assertRows(rows);
        if (rows.length === 0) return [];
        try {
          for (const row of rows) keepable(row.sensorId);
          return await groupCommit.record(rows);
        } catch (cause) {
          const isRetriable = cause instanceof TooManyWaiting || isRetriableError(cause);
          throw new PortFailure('air', 'record', { isRetriable, trouble: storeTroubleOf(cause), cause });
        }
      },
      readSpan: (span) => attempt('readSpan', () => readSpan(span)),
      readLatest: (sensorIds, notAfterAt) => attempt('readLatest', () => readLatest(sensorIds, notAfterAt)),
      readSensors: () => attempt('readSensors', readSensors),
      trustKept: (rows) =>
        attempt('trustKept', () =>
          inTransaction(database, () => rows.filter((row) => trustRow(statements, row)).length),
        ),
      thin: (beforeAt) => attempt('thin', () => thinNext(beforeAt)),
    },
    flush: () => groupCommit.flush(),
  };
}

function recordRow(statements: Statements, row: AirRow): RecordOutcome {
  const { sensorId, quantity, at, recordedAt, trust, reason } = row;
  const measurement = keptMeasurement(row.measurement);
  const first = statements.first.get(sensorId, quantity, at) as { measurement: number } | undefined;
  if (first === undefined) {
    statements.add.run(sensorId, quantity, at, 0, measurement, recordedAt, trust, reason);
    const shown = isShown(row);
    statements.renew.run(
      sensorId,
      quantity,
      heardAtOf(row),
      shown ? at : null,
      shown ? measurement : null,
      trust === 'good' ? at : null,
    );
    return 'recorded';
  }
  if (first.measurement === measurement) return 'repeated';
  const { changes } = statements.add.run(
    sensorId,
    quantity,
    at,
    1,
    measurement,
    recordedAt,
    'aside',
    'contradicted',
  );
  if (changes === 0) return 'repeated';
  // What is set aside shows nothing, and yet the sensor was heard.
  statements.renew.run(sensorId, quantity, heardAtOf(row), null, null, null);
  return 'contradicted';
}

/** Only the value that was there first can have been set aside for its sensor. */
function trustRow(statements: Statements, { sensorId, quantity, at }: AirRow): boolean {
  if (statements.trust.run(sensorId, quantity, at).changes === 0) return false;
  statements.goodSince.run(at, sensorId, quantity);
  return true;
}

/** Reads every series of some sensors, by sensor and then by quantity, and sorts the rows by instant. */
function readSeries(
  sensorIds: readonly string[],
  read: (series: readonly [string, Quantity]) => readonly Cells[],
): readonly AirRow[] {
  const quantities = sortByText(QUANTITIES, String);
  const rows = sortByText(new Set(sensorIds), String).flatMap((sensorId) =>
    quantities.flatMap((quantity) =>
      read([sensorId, quantity]).map(([at, measurement, recordedAt, trust, reason]): AirRow => {
        return { sensorId, quantity, at, measurement, recordedAt, trust, reason };
      }),
    ),
  );
  // Rows of one instant stay as they come.
  return rows.sort((left, right) => left.at - right.at);
}

/** The cells of a row beside its series: read as an array, which takes a third of the time of an object. */
type Cells = readonly [Instant, number, Instant, AirRow['trust'], AirRow['reason']];
type NewestRow = Newest & { readonly sensorId: string };
type Statements = ReturnType<typeof prepareAll>;

const OF_SERIES = `SELECT at, measurement, recorded_at, trust, reason FROM readings
  WHERE sensor_id = ? AND quantity = ?`;

/** The statements whose plans matter after a year of readings. */
export const AIR_SQL = {
  span: `${OF_SERIES} AND at BETWEEN ? AND ? ORDER BY at, rank, measurement`,
  goodSpan: `${OF_SERIES} AND at BETWEEN ? AND ? AND trust = 'good' ORDER BY at, rank, measurement`,
  // Begins at the newest good row: a sensor that never sent one is not walked through.
  latest: `${OF_SERIES} AND trust = 'good'
    AND at <= min(?, (SELECT good_at FROM newest WHERE sensor_id = ? AND quantity = ?))
    ORDER BY at DESC LIMIT 1`,
  first: `SELECT measurement FROM readings WHERE sensor_id = ? AND quantity = ? AND at = ? AND rank = 0`,
} as const;

function prepareAll(database: DatabaseSyncInstance) {
  return {
    first: database.prepare(AIR_SQL.first),
    add: database.prepare(
      `INSERT INTO readings (sensor_id, quantity, at, rank, measurement, recorded_at, trust, reason)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING`,
    ),
    renew: database.prepare(
      `INSERT INTO newest (sensor_id, quantity, heard_at, shown_at, measurement, good_at)
       VALUES (?, ?, ?, ?, ?, ?)
       ON CONFLICT (sensor_id, quantity) DO UPDATE SET
         heard_at = max(heard_at, excluded.heard_at),
         shown_at = coalesce(max(shown_at, excluded.shown_at), shown_at, excluded.shown_at),
         measurement = iif(
           shown_at IS NULL OR excluded.shown_at > shown_at, coalesce(excluded.measurement, measurement), measurement),
         good_at = coalesce(max(good_at, excluded.good_at), good_at, excluded.good_at)`,
    ),
    trust: database.prepare(
      `UPDATE readings SET trust = 'good', reason = NULL
       WHERE sensor_id = ? AND quantity = ? AND at = ? AND rank = 0 AND reason = 'unknown-sensor'`,
    ),
    goodSince: database.prepare(
      `UPDATE newest SET good_at = max(coalesce(good_at, 0), ?) WHERE sensor_id = ? AND quantity = ?`,
    ),
    newest: database.prepare(
      `SELECT sensor_id AS sensorId, quantity, heard_at AS heardAt, shown_at AS shownAt, measurement
       FROM newest ORDER BY sensor_id, quantity`,
    ),
    span: prepareCells(database, AIR_SQL.span),
    goodSpan: prepareCells(database, AIR_SQL.goodSpan),
    latest: prepareCells(database, AIR_SQL.latest),
  };
}

function prepareCells(database: DatabaseSyncInstance, sql: string): StatementSyncInstance {
  const statement = database.prepare(sql);
  statement.setReturnArrays(true);
  return statement;
}
