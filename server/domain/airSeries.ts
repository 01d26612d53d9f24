// The air of bays as series: merged over sensors, cut to where a batch stood, thinned to what matters to a film.
import type { Instant } from '../contract/index.ts';
import type { Stay } from './batch.ts';
import { instantAfter, minutesBetween } from './minutes.ts';

/** One measured value at an instant; the unit is the series' own. */
export interface AirPoint {
  readonly at: Instant;
  readonly measurement: number;
}

/** The trusted air of one bay, each series in order of time. */
export interface BayAir {
  /** °C. */
  readonly air: readonly AirPoint[];
  /** %. */
  readonly humidity: readonly AirPoint[];
  /** By how much the air ahead of this bay has been wrong an hour on; the design's figure when nobody asked. */
  readonly aheadErrorSdK?: number;
}

/** The same from one sensor, before they are merged. */
export interface SensorPoint extends AirPoint {
  readonly sensorId: string;
}

/** Two sensors of a bay are averaged while both are younger than this. */
const MERGE_AGE_MIN = 10;

/** Merges the sensors of a bay: at each reading, the mean of what each said last within ten minutes. */
export function mergeSensors(points: readonly SensorPoint[]): AirPoint[] {
  const newest = new Map<string, SensorPoint>();
  const merged: AirPoint[] = [];
  for (const point of points) {
    newest.set(point.sensorId, point);
    let sum = 0;
    let count = 0;
    for (const one of newest.values()) {
      if (minutesBetween(one.at, point.at) > MERGE_AGE_MIN) continue;
      sum += one.measurement;
      count += 1;
    }
    const measurement = sum / count;
    if (merged.at(-1)?.at === point.at) merged.pop();
    merged.push({ at: point.at, measurement });
  }
  return merged;
}

/** The value at an instant: linear between points, constant outside; null for an empty series. */
export function measurementAt(series: readonly AirPoint[], instantAt: Instant): number | null {
  const after = series.findIndex((point) => point.at >= instantAt);
  const last = series.at(-1);
  if (last === undefined) return null;
  if (after === -1) return last.measurement;
  const right = series[after] as AirPoint;
  const left = series[after - 1];
  if (left === undefined || right.at === instantAt) return right.measurement;
  const share = (instantAt - left.at) / (right.at - left.at);
  return left.measurement + share * (right.measurement - left.measurement);
}

/**
 * The air that a batch met: for each stay the bay's series from arrival to departure, with a step where it moved.
 * A bay without any reading leaves its stay out.
 */
export function spliceStays(
  stays: readonly Stay[],
  seriesOf: (bayId: string) => readonly AirPoint[],
  fromAt: Instant,
): AirPoint[] {
  const spliced: AirPoint[] = [];
  for (const [index, stay] of stays.entries()) {
    const series = seriesOf(stay.bayId);
    const startAt = instantAfterLast(spliced, index === 0 ? fromAt : stay.fromAt);
    const endAt = stays[index + 1]?.fromAt ?? null;
    const first = measurementAt(series, startAt);
    if (first === null || (endAt !== null && endAt <= startAt)) continue;
    spliced.push({ at: startAt, measurement: first });
    spliced.push(...series.filter((point) => point.at > startAt && (endAt === null || point.at < endAt)));
    if (endAt !== null) spliced.push({ at: endAt, measurement: measurementAt(series, endAt) as number });
  }
  return spliced;
}

/** A move is a step: the new bay's first value stands one millisecond after the old one's last. */
function instantAfterLast(series: readonly AirPoint[], instantAt: Instant): Instant {
  const last = series.at(-1);
  return last !== undefined && last.at >= instantAt ? ((last.at + 1) as Instant) : instantAt;
}

/**
 * Leaves out every point that a straight line between its neighbours that stay meets within a tolerance.
 * A sensor that speaks each second would otherwise cost a solver step each second.
 */
export function thinSeries(series: readonly AirPoint[], tolerance: number): AirPoint[] {
  const kept: AirPoint[] = [];
  let slopeMin = Number.NEGATIVE_INFINITY;
  let slopeMax = Number.POSITIVE_INFINITY;
  for (const [index, point] of series.entries()) {
    const anchor = kept.at(-1);
    const previous = series[index - 1];
    if (anchor === undefined || previous === undefined) {
      kept.push(point);
      continue;
    }
    const low = slopeBetween(anchor, point, -tolerance);
    const high = slopeBetween(anchor, point, tolerance);
    const slope = slopeBetween(anchor, point, 0);
    if (slope < slopeMin || slope > slopeMax) {
      kept.push(previous);
      slopeMin = slopeBetween(previous, point, -tolerance);
      slopeMax = slopeBetween(previous, point, tolerance);
    } else {
      slopeMin = Math.max(slopeMin, low);
      slopeMax = Math.min(slopeMax, high);
    }
  }
  const last = series.at(-1);
  if (last !== undefined && kept.at(-1) !== last) kept.push(last);
  return kept;
}

function slopeBetween(anchor: AirPoint, point: AirPoint, offset: number): number {
  return (point.measurement + offset - anchor.measurement) / (point.at - anchor.at);
}

/**
 * The newest reading that a batch lives on: of the bay it stands in, or of the last bay before that had one
 * while it stood there. A spliced series also holds values that were only held on from an older reading.
 */
export function newestReading(
  stays: readonly Stay[],
  seriesOf: (bayId: string) => readonly AirPoint[],
): AirPoint | null {
  const index = stays.findLastIndex((stay) => seriesOf(stay.bayId).length > 0);
  const stay = stays[index];
  if (stay === undefined) return null;
  const leftAt = stays[index + 1]?.fromAt ?? null;
  return seriesOf(stay.bayId).findLast((point) => leftAt === null || point.at <= leftAt) ?? null;
}

/** Whether a reading is there and no older than some minutes at an instant. */
export function isFresh(reading: AirPoint | null, nowAt: Instant, ageMaxMin: number): boolean {
  return reading !== null && instantAfter(reading.at, ageMaxMin) >= nowAt;
}
