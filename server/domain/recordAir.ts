// The air that a batch met, in short: at mixing, and between which bounds it stayed while the film cured.
import type { Instant } from '../contract/index.ts';
import { type AirPoint, measurementAt, spliceStays } from './airSeries.ts';
import type { BatchState, Stay } from './batch.ts';
import { FRESH_MAX_MIN } from './filmJob.ts';
import { minutesBetween } from './minutes.ts';

export interface RecordAir {
  /** Null where the bays said nothing. */
  readonly mixingC: number | null;
  readonly whileCuringMinC: number | null;
  readonly whileCuringMaxC: number | null;
  readonly humidityMixingPct: number | null;
}

/** What is known of each bay, in order of time. */
export interface SeriesOfBays {
  /** °C. */
  readonly airOf: (bayId: string) => readonly AirPoint[];
  /** %. */
  readonly humidityOf: (bayId: string) => readonly AirPoint[];
}

/** How long a film cured: until sanding began or the batch was closed, or until now. */
export function curedUntil({ sandingAt, closedAt }: BatchState, nowAt: Instant): Instant {
  return sandingAt ?? closedAt ?? nowAt;
}

/** The air from mixing until an instant, along every bay in which the batch stood. */
export function airOfRecord(
  { stays, mixedAt }: BatchState,
  { airOf, humidityOf }: SeriesOfBays,
  untilAt: Instant,
): RecordAir {
  const first = stays[0] as Stay;
  const met = spliceStays(stays, airOf, mixedAt).filter(({ at }) => at <= untilAt);
  const humidity = spliceStays(stays, humidityOf, mixedAt);
  const measured = met.map(({ measurement }) => measurement);
  return {
    mixingC: isKnownAt(mixedAt, airOf(first.bayId)) ? measurementAt(met, mixedAt) : null,
    whileCuringMinC: met.length === 0 ? null : Math.min(...measured),
    whileCuringMaxC: met.length === 0 ? null : Math.max(...measured),
    humidityMixingPct: isKnownAt(mixedAt, humidityOf(first.bayId)) ? measurementAt(humidity, mixedAt) : null,
  };
}

/** Whether the first bay spoke near enough to the mixing: a value held on from hours away would be an invention. */
function isKnownAt(mixedAt: Instant, series: readonly AirPoint[]): boolean {
  return series.some(({ at }) => Math.abs(minutesBetween(mixedAt, at)) <= FRESH_MAX_MIN);
}
