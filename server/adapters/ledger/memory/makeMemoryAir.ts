// The air table in memory: one sorted list for each sensor and quantity.
import type {
  AirRow,
  AirSpan,
  AirTable,
  Quantity,
  RecordOutcome,
  SensorSeen,
} from '../../../application/ports/airTable.ts';
import type { Instant } from '../../../contract/index.ts';
import { QUANTITIES } from '../../../application/ports/airTable.ts';
import type { Attempt } from '../attempt.ts';
import { assertRows, keepable, keptMeasurement } from '../checkInput.ts';
import { heardAtOf, isShown, sensorSeenFrom } from '../sensorSeen.ts';
import { sortByText } from '../sortByText.ts';
import { makeThinning, type OldSeries } from './thinMemoryAir.ts';

/** Sorted by instant; of one instant the value that was there first, then the others by size. */
type Series = AirRow[];
type SeriesBySensor = Map<string, Map<Quantity, Series>>;

/** Makes an empty air table. */
export function makeMemoryAir(attempt: Attempt): AirTable {
  const sensors: SeriesBySensor = new Map();
  const thinNext = makeThinning();
  return {
    record: async (rows) => {
      assertRows(rows);
      return attempt('record', () => {
        for (const row of rows) keepable(row.sensorId);
        return rows.map((row) => recordRow(seriesOf(sensors, row), row));
      });
    },
    readSpan: (span) => attempt('readSpan', () => readSpan(sensors, span)),
    readLatest: (sensorIds, notAfterAt) =>
      attempt('readLatest', () =>
        ordered(seriesInOrder(sensors, sensorIds).flatMap((series) => latestGood(series, notAfterAt) ?? [])),
      ),
    readSensors: () =>
      attempt('readSensors', () =>
        sortByText(sensors, ([sensorId]) => sensorId).map(([sensorId, byQuantity]) =>
          seenFrom(sensorId, byQuantity),
        ),
      ),
    trustKept: (rows) => attempt('trustKept', () => rows.filter((row) => trustRow(sensors, row)).length),
    thin: (beforeAt) => attempt('thin', () => thinNext(oldSeriesOf(sensors), beforeAt)),
  };
}

function recordRow(series: Series, row: AirRow): RecordOutcome {
  const start = firstNotBefore(series, row.at);
  let end = start;
  while (series[end]?.at === row.at) end += 1;
  const there = series.slice(start, end);
  const measurement = keptMeasurement(row.measurement);
  if (there.some((other) => other.measurement === measurement)) return 'repeated';
  if (there.length === 0) {
    series.splice(start, 0, { ...row, measurement });
    return 'recorded';
  }
  const smaller = there.slice(1).filter((other) => other.measurement < measurement).length;
  series.splice(start + 1 + smaller, 0, { ...row, measurement, trust: 'aside', reason: 'contradicted' });
  return 'contradicted';
}

/** Only the value that was there first can have been set aside for its sensor. */
function trustRow(sensors: SeriesBySensor, { sensorId, quantity, at }: AirRow): boolean {
  const series = sensors.get(sensorId)?.get(quantity) ?? [];
  const index = firstNotBefore(series, at);
  const row = series[index];
  if (row?.at !== at || row.reason !== 'unknown-sensor') return false;
  series[index] = { ...row, trust: 'good', reason: null };
  return true;
}

function readSpan(sensors: SeriesBySensor, span: AirSpan): readonly AirRow[] {
  return ordered(
    seriesInOrder(sensors, span.sensorIds).flatMap((series) =>
      series
        .slice(firstNotBefore(series, span.fromAt), firstNotBefore(series, span.toAt + 1))
        .filter((row) => row.trust === 'good' || !span.goodOnly),
    ),
  );
}

function latestGood(series: Series, notAfterAt: Instant): AirRow | undefined {
  for (let index = firstNotBefore(series, notAfterAt + 1) - 1; index >= 0; index -= 1) {
    if (series[index]?.trust === 'good') return series[index];
  }
  return undefined;
}

/** The lists of some sensors, by sensor and then by quantity. */
function seriesInOrder(sensors: SeriesBySensor, sensorIds: readonly string[]): readonly Series[] {
  return sortByText(new Set(sensorIds), String).flatMap((sensorId) =>
    sortByText(QUANTITIES, String).flatMap((quantity) => {
      const series = sensors.get(sensorId)?.get(quantity);
      return series === undefined ? [] : [series];
    }),
  );
}

/** Copies, sorted by instant; rows of one instant stay as they come. */
function ordered(rows: readonly AirRow[]): readonly AirRow[] {
  return rows.map((row) => ({ ...row })).sort((left, right) => left.at - right.at);
}

function seenFrom(sensorId: string, byQuantity: Map<Quantity, Series>): SensorSeen {
  return sensorSeenFrom(
    sensorId,
    [...byQuantity].map(([quantity, series]) => {
      const shown = newestShown(series);
      return {
        quantity,
        heardAt: newestHeard(series),
        shownAt: shown?.at ?? null,
        measurement: shown?.measurement ?? null,
      };
    }),
  );
}

function newestHeard(series: Series): Instant {
  return series.reduce((newestAt, row) => Math.max(newestAt, heardAtOf(row)), 0) as Instant;
}

function oldSeriesOf(sensors: SeriesBySensor): OldSeries[] {
  return seriesInOrder(sensors, [...sensors.keys()]).map((rows) => ({
    rows,
    newest: {
      heardAt: newestHeard(rows),
      shownAt: newestShown(rows)?.at ?? null,
      goodAt: rows.findLast(({ trust }) => trust === 'good')?.at ?? null,
    },
  }));
}

/** The newest row that is good or aside and was the first of its instant. */
function newestShown(series: Series): AirRow | undefined {
  return series.findLast((row, index) => isShown(row) && series[index - 1]?.at !== row.at);
}

function seriesOf(sensors: SeriesBySensor, { sensorId, quantity }: AirRow): Series {
  const byQuantity = sensors.get(sensorId) ?? new Map<Quantity, Series>();
  const series = byQuantity.get(quantity) ?? [];
  sensors.set(sensorId, byQuantity.set(quantity, series));
  return series;
}

/** Where an instant's rows begin; readings mostly come in order, so the end is tried first. */
function firstNotBefore(series: Series, instantAt: number): number {
  const last = series.at(-1);
  if (last === undefined || last.at < instantAt) return series.length;
  let low = 0;
  let high = series.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((series[middle]?.at ?? Infinity) < instantAt) low = middle + 1;
    else high = middle;
  }
  return low;
}
