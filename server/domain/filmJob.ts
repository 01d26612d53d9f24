// Turns what is known of a batch into the engine's question: its air from mixing on, its panel, its lamps.
import type { Instant } from '../contract/index.ts';
import { cavityTemperatureC, type FilmJob, type Series } from '../engine/index.ts';
import { airAhead } from './airAhead.ts';
import {
  type AirPoint,
  type BayAir,
  isFresh,
  measurementAt,
  newestReading,
  spliceStays,
  thinSeries,
} from './airSeries.ts';
import type { BatchState } from './batch.ts';
import { instantAfter, minutesBetween } from './minutes.ts';

/** The air of every bay that matters, and which of them have moving air; outside is the yard's air when there is one. */
export interface AirOfBays {
  readonly airOf: (bayId: string) => BayAir;
  readonly isAirMoving: (bayId: string) => boolean;
  readonly outside: readonly AirPoint[];
}

/** The engine's question, with what its answer is explained by. */
export interface FilmQuestion {
  readonly job: FilmJob;
  /** The reading it rests on; null when its bay's first one came after it had left. */
  readonly newestReading: AirPoint | null;
  readonly airNowC: number;
  readonly humidityNowPct: number;
  readonly panelStartC: number;
  readonly isHumidityKnown: boolean;
}

/** How long before mixing the bay's air still matters: the cavity behind the panel lags by 90 minutes. */
export const HISTORY_MIN = 360;
/** A reading older than this no longer speaks for the air now (design MODEL §5). */
export const FRESH_MAX_MIN = 45;
/** Far below what a sensor resolves over a film's life, far above its noise from one minute to the next. */
const THIN_C = 0.05;
const THIN_PCT = 1;
/** Stands in when no sensor of the bay measures it; cards are stated at it (design MODEL §4). */
const ASSUMED_HUMIDITY_PCT = 50;
/** Film and cavity share the panel's heat like their coefficients (design MODEL §3). */
const FRONT_FRACTION = 8 / 14;
const MOVING_FRONT_FRACTION = 15 / 21;

/** Makes the engine's question of a batch; null when its bays have never had a reading. */
export function filmJobFrom(state: BatchState, bays: AirOfBays, nowAt: Instant): FilmQuestion | null {
  const seriesOf = (bayId: string): readonly AirPoint[] => bays.airOf(bayId).air;
  const last = spliceStays(state.stays, seriesOf, state.mixedAt).at(-1);
  if (last === undefined) return null;
  const air = thinSeries(spliceStays(state.stays, ledOn(seriesOf), state.mixedAt), THIN_C);
  const humidityOf = (bayId: string): readonly AirPoint[] => bays.airOf(bayId).humidity;
  const isHumidityKnown = isFresh(newestReading(state.stays, humidityOf), nowAt, FRESH_MAX_MIN);
  const humidity = isHumidityKnown
    ? thinSeries(spliceStays(state.stays, humidityOf, state.mixedAt), THIN_PCT)
    : [{ at: state.mixedAt, measurement: ASSUMED_HUMIDITY_PCT }];
  const cavityStartC = cavityStart(state, bays);
  const isMoving = bays.isAirMoving(state.bayId);
  const share = isMoving ? MOVING_FRONT_FRACTION : FRONT_FRACTION;
  const airStartC = (air[0] as AirPoint).measurement;
  return {
    job: {
      substrate: state.substrate,
      thicknessMm: state.thicknessMm,
      hardenerPct: state.hardenerPct,
      underlayMm: state.underlayMm,
      airC: seriesFrom(air, state.mixedAt),
      humidityPct: seriesFrom(humidity, state.mixedAt),
      cavityStartC,
      ...(state.panelTemperatureC === null ? {} : { panelStartC: state.panelTemperatureC }),
      lampMinWPerM2: lampSpells(state),
      movingAir: isMoving,
    },
    newestReading: newestReading(state.stays, seriesOf),
    airNowC: last.measurement,
    humidityNowPct: (humidity.at(-1) as AirPoint).measurement,
    panelStartC: state.panelTemperatureC ?? share * airStartC + (1 - share) * cavityStartC,
    isHumidityKnown,
  };
}

/** The air of each bay with what is to come after its last reading. */
function ledOn(seriesOf: (bayId: string) => readonly AirPoint[]): (bayId: string) => readonly AirPoint[] {
  return (bayId) => {
    const series = seriesOf(bayId);
    return [...series, ...airAhead(series)];
  };
}

function seriesFrom(points: readonly AirPoint[], zeroAt: Instant): Series {
  return points.map((point) => [minutesBetween(zeroAt, point.at), point.measurement] as const);
}

/** The air behind the panel at mixing: lagging its first known air, or the outdoor cold the car came in with. */
function cavityStart(state: BatchState, bays: AirOfBays): number {
  const series = state.stays.map((stay) => bays.airOf(stay.bayId).air);
  const air = series.find((one) => one.length > 0) as readonly AirPoint[];
  const rolledIn = rolledInFrom(state, bays);
  const fromAt = rolledIn?.at ?? instantAfter(state.mixedAt, -HISTORY_MIN);
  const startC = rolledIn?.measurement ?? (measurementAt(air, fromAt) as number);
  return cavityTemperatureC({
    airC: seriesFrom(thinSeries(air, THIN_C), state.mixedAt),
    fromMin: minutesBetween(state.mixedAt, fromAt),
    toMin: 0,
    startC,
  });
}

/** When the car rolled in and how cold it was: as told, or as the yard's sensor says; null when neither is known. */
function rolledInFrom(state: BatchState, bays: AirOfBays): AirPoint | null {
  if (state.rolledInAt === null || state.rolledInAt > state.mixedAt) return null;
  const measurement = state.outdoorTemperatureC ?? measurementAt(bays.outside, state.rolledInAt);
  return measurement === null ? null : { at: state.rolledInAt, measurement };
}

/** Lamp spells since mixing, cut apart where they overlap: the engine takes one flux at a time. */
function lampSpells(state: BatchState): [number, number, number][] {
  const edges = state.lamps.flatMap((spell) => [spell.fromAt, spell.untilAt]).toSorted((a, b) => a - b);
  const spells: [number, number, number][] = [];
  for (const [index, fromAt] of edges.entries()) {
    const untilAt = edges[index + 1];
    if (untilAt === undefined || untilAt <= fromAt || untilAt <= state.mixedAt) continue;
    const fluxWPerM2 = state.lamps
      .filter((spell) => spell.fromAt <= fromAt && spell.untilAt >= untilAt)
      .reduce((sum, spell) => sum + spell.fluxWPerM2, 0);
    if (fluxWPerM2 === 0) continue;
    const startMin = Math.max(0, minutesBetween(state.mixedAt, fromAt));
    spells.push([startMin, minutesBetween(state.mixedAt, untilAt), fluxWPerM2]);
  }
  return spells;
}
