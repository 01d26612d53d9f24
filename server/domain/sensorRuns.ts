// For how long a sensor has said the same, to the bit: a quiet room may for hours, a stuck sensor does for ever.
import type { Instant } from '../contract/index.ts';
import { minutesBetween } from './minutes.ts';

/** What a sensor said of one instant, as far as it can stick. */
export interface SensorWord {
  readonly at: Instant;
  readonly airTemperatureC?: number | undefined;
  readonly relativeHumidityPct?: number | undefined;
}

/** What is remembered of a sensor; a fold of its readings in order of time, so that it can be made again from them. */
export interface SensorRuns {
  readonly air: Run | null;
  readonly humidity: Run | null;
  /** The first reading of the present run that was one too many; null while the sensor is believed. */
  readonly stuckFromAt: Instant | null;
}

/** One value, said again and again. */
interface Run {
  readonly measurement: number;
  readonly sinceAt: Instant;
  readonly lastAt: Instant;
  readonly count: number;
}

export const NO_RUNS: SensorRuns = { air: null, humidity: null, stuckFromAt: null };

/**
 * Air and humidity both the same for three hours, or air alone for six where no humidity is told. Practice outdoors asks
 * for a change of 0.1 K or 1 % within the hour (REFERENCES QC-3); a closed shop keeps to 0.1 °C for longer than that.
 */
const STUCK_BOTH_MIN = 3 * 60;
const STUCK_ALONE_MIN = 6 * 60;
const STUCK_READINGS_MIN = 20;
/** A sensor that was silent for longer begins anew: nothing is known of what it would have said. */
const SILENT_MAX_MIN = 60;
/** Readings from this long before on tell all there is to know about a run. */
export const RUNS_MIN = STUCK_ALONE_MIN + SILENT_MAX_MIN;

/** What is remembered after one more word; a word about an instant that was spoken of before changes nothing. */
export function extendRuns(runs: SensorRuns, word: SensorWord): SensorRuns {
  if (isOfNeither(word)) return runs;
  const air = extendRun(runs.air, word.at, word.airTemperatureC);
  const humidity = extendRun(runs.humidity, word.at, word.relativeHumidityPct);
  if (isAnother(runs.air, air) || isAnother(runs.humidity, humidity))
    return { air, humidity, stuckFromAt: null };
  const isStuckNow = isStuck({ air, humidity }, word.at);
  return { air, humidity, stuckFromAt: runs.stuckFromAt ?? (isStuckNow ? word.at : null) };
}

/** Whether a word, once remembered, is one of a sensor that is stuck. */
export function isFlat(runs: SensorRuns, word: SensorWord): boolean {
  if (runs.stuckFromAt === null || word.at < runs.stuckFromAt || isOfNeither(word)) return false;
  return !differs(runs.air, word.airTemperatureC) && !differs(runs.humidity, word.relativeHumidityPct);
}

/** Whether a word that came late says that a run was none: then it must be made again from the readings. */
export function breaksRuns({ air, humidity }: SensorRuns, word: SensorWord): boolean {
  return [
    { run: air, measurement: word.airTemperatureC },
    { run: humidity, measurement: word.relativeHumidityPct },
  ].some(({ run, measurement }) => run !== null && word.at < run.lastAt && differs(run, measurement));
}

function extendRun(run: Run | null, at: Instant, measurement: number | undefined): Run | null {
  if (measurement === undefined || (run !== null && at <= run.lastAt)) return run;
  const goesOn = run !== null && run.measurement === measurement && isHeard(run, at);
  if (!goesOn) return { measurement, sinceAt: at, lastAt: at, count: 1 };
  return { ...run, lastAt: at, count: run.count + 1 };
}

function isAnother(before: Run | null, after: Run | null): boolean {
  return before?.sinceAt !== after?.sinceAt;
}

/** A panel's temperature alone says nothing of the air. */
function isOfNeither({ airTemperatureC, relativeHumidityPct }: SensorWord): boolean {
  return airTemperatureC === undefined && relativeHumidityPct === undefined;
}

function differs(run: Run | null, measurement: number | undefined): boolean {
  return run !== null && measurement !== undefined && run.measurement !== measurement;
}

function isHeard(run: Run, nowAt: Instant): boolean {
  return minutesBetween(run.lastAt, nowAt) <= SILENT_MAX_MIN;
}

function isStuck({ air, humidity }: Pick<SensorRuns, 'air' | 'humidity'>, nowAt: Instant): boolean {
  if (air === null || !isHeard(air, nowAt) || air.count < STUCK_READINGS_MIN) return false;
  const lastedMin = (run: Run): number => minutesBetween(run.sinceAt, run.lastAt);
  if (humidity === null || !isHeard(humidity, nowAt)) return lastedMin(air) >= STUCK_ALONE_MIN;
  return Math.min(lastedMin(air), lastedMin(humidity)) >= STUCK_BOTH_MIN;
}
