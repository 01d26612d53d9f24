// One quantity of a bay as it comes in: merged over its sensors, and where they speak many times in ten seconds, averaged.
// A film is minutes deep in time and its cavity an hour, so that nothing it could tell is lost; a bay with a hundred sensors
// costs no more than one with one.
import type { Instant } from '../contract/index.ts';
import { type AirPoint, mergeSensors, type SensorPoint } from '../domain/airSeries.ts';

export interface AirTrail {
  /** Takes a reading; false where it is so late that the trail must be made anew. */
  add(point: SensorPoint): boolean;
  /** The series from the last point not after an instant on. */
  seriesFrom(fromAt: Instant): readonly AirPoint[];
  /** Lets go of what is older than the last point before an instant. */
  forgetBefore(fromAt: Instant): void;
}

const BIN_MS = 10_000;
/** So many points in a bin are few: they stay as they are. */
const FEW_COUNT = 4;
/** Readings of many sensors come in no strict order; this far back each is put where it belongs. */
const OPEN_MS = 60_000;

/** Makes a trail of nothing. */
export function makeAirTrail(): AirTrail {
  let done: AirPoint[] = [];
  /** What each sensor said last before the open end. */
  const before = new Map<string, SensorPoint>();
  let open: SensorPoint[] = [];
  let series: readonly AirPoint[] | null = null;

  function closeOldest(): void {
    const binAt = binOf((open[0] as SensorPoint).at);
    const end = open.findIndex(({ at }) => binOf(at) > binAt);
    const bin = open.slice(0, end);
    done.push(...thinBin(mergeAfter(before, bin)));
    for (const point of bin) before.set(point.sensorId, point);
    open = open.slice(end);
  }

  return {
    add(point) {
      const last = done.at(-1);
      if (last !== undefined && binOf(point.at) <= binOf(last.at)) return false;
      series = null;
      const place = open.findLastIndex(({ at }) => at <= point.at) + 1;
      open.splice(place, 0, point);
      while (
        binOf((open[0] as SensorPoint).at) < binOf(((open.at(-1) as SensorPoint).at - OPEN_MS) as Instant)
      )
        closeOldest();
      return true;
    },
    seriesFrom(fromAt) {
      series ??= [...done, ...mergeAfter(before, open)];
      const start = series.findLastIndex(({ at }) => at <= fromAt);
      return start <= 0 ? series : series.slice(start);
    },
    forgetBefore(fromAt) {
      const start = done.findLastIndex(({ at }) => at <= fromAt);
      if (start > 0) done = done.slice(start);
      series = null;
    },
  };
}

function binOf(instantAt: Instant): number {
  return Math.floor(instantAt / BIN_MS);
}

/** Merges what came after what each sensor had said before. */
function mergeAfter(before: ReadonlyMap<string, SensorPoint>, points: readonly SensorPoint[]): AirPoint[] {
  const [first] = points;
  if (first === undefined) return [];
  const known = [...before.values()].toSorted((a, b) => a.at - b.at);
  return mergeSensors([...known, ...points]).filter(({ at }) => at >= first.at);
}

/** Many points of a bin as their mean. */
function thinBin(points: readonly AirPoint[]): readonly AirPoint[] {
  if (points.length <= FEW_COUNT) return points;
  const mean = (read: (point: AirPoint) => number): number =>
    points.reduce((sum, point) => sum + read(point), 0) / points.length;
  return [
    { at: Math.round(mean(({ at }) => at)) as Instant, measurement: mean(({ measurement }) => measurement) },
  ];
}
