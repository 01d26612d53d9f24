// A bay's climate for people: its air in even steps, the panel that stands in it, and how far that is from the dew point.
import type { Instant } from '../contract/index.ts';
import { dewPointC } from '../engine/index.ts';
import type { AirPoint } from './airSeries.ts';
import { pointsWithin } from './coldSignal.ts';
import type { Span } from './localHours.ts';
import { instantAfter, minutesBetween } from './minutes.ts';

export interface ClimateSeries {
  readonly air: readonly AirPoint[];
  readonly humidity: readonly AirPoint[];
  /** Panels that a sensor feels; empty in most bays. */
  readonly panel: readonly AirPoint[];
}

/** In columns, null where nothing is known. */
export interface Climate {
  readonly stepMin: number;
  readonly at: readonly Instant[];
  readonly airTemperatureC: readonly (number | null)[];
  readonly relativeHumidityPct: readonly (number | null)[];
  readonly panelTemperatureC: readonly (number | null)[];
  /** Panel above dew point: within 3 K of it filler must not be spread (design MODEL §6). */
  readonly dewDistanceK: readonly (number | null)[];
}

/** The air behind a panel lags the bay's by this [min]; panel and shares as the film has them (design MODEL §3). */
const CAVITY_LAG_MIN = 90;
const FRONT_FRACTION = 8 / 14;
const MOVING_FRONT_FRACTION = 15 / 21;
/** So many steps, in the even minutes that people read. */
const STEPS_COUNT_MAX = 340;
const STEPS_MIN = [5, 10, 15, 30, 60, 120, 240] as const;
const STEP_MAX_MIN = 480;

/** The climate of a span in means of its steps; the series begin before it, so that the panel's lag is known. */
export function climateOf(
  { air, humidity, panel }: ClimateSeries,
  { fromAt, toAt, isAirMoving }: Span & { readonly isAirMoving: boolean },
): Climate {
  const spanMin = minutesBetween(fromAt, toAt);
  const stepMin = STEPS_MIN.find((step) => spanMin / step <= STEPS_COUNT_MAX) ?? STEP_MAX_MIN;
  const starts = Array.from({ length: Math.ceil(spanMin / stepMin) }, (_, index) =>
    instantAfter(fromAt, index * stepMin),
  );
  const trail = panelTrail(air, isAirMoving ? MOVING_FRONT_FRACTION : FRONT_FRACTION);
  const steps = starts.map((startAt) => {
    const step = { fromAt: startAt, toAt: (instantAfter(startAt, stepMin) - 1) as Instant };
    const airC = meanWithin(air, step);
    const humidityPct = meanWithin(humidity, step);
    const panelC = meanWithin(panel, step) ?? meanWithin(trail, step);
    return { airC, humidityPct, panelC, distanceK: distanceK({ airC, humidityPct, panelC }) };
  });
  return {
    stepMin,
    at: starts.map((startAt) => instantAfter(startAt, stepMin / 2)),
    airTemperatureC: steps.map(({ airC }) => airC),
    relativeHumidityPct: steps.map(({ humidityPct }) => humidityPct),
    panelTemperatureC: steps.map(({ panelC }) => panelC),
    dewDistanceK: steps.map((step) => step.distanceK),
  };
}

function meanWithin(series: readonly AirPoint[], span: Span): number | null {
  const points = pointsWithin(series, span);
  const sum = points.reduce((total, { measurement }) => total + measurement, 0);
  return points.length === 0 ? null : sum / points.length;
}

/** A bare panel between the bay's air and the air behind it, which starts as the first air known. */
function panelTrail(air: readonly AirPoint[], share: number): AirPoint[] {
  let cavityC = air[0]?.measurement ?? Number.NaN;
  return air.map(({ at, measurement }, index) => {
    const stepMin = minutesBetween(air[index - 1]?.at ?? at, at);
    cavityC = measurement + (cavityC - measurement) * Math.exp(-stepMin / CAVITY_LAG_MIN);
    return { at, measurement: share * measurement + (1 - share) * cavityC };
  });
}

function distanceK({
  airC,
  humidityPct,
  panelC,
}: Record<'airC' | 'humidityPct' | 'panelC', number | null>): number | null {
  if (airC === null || humidityPct === null || panelC === null || humidityPct <= 0) return null;
  return panelC - dewPointC(airC, humidityPct);
}
