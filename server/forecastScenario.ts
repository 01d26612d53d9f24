// One scenario from its parsed form to its answer: judged by the engine's own bounds, calibrated, solved, rounded.
import type { Scenario } from './adapters/scenario/scenarioSchema.ts';
import type { Rejection } from './contract/index.ts';
import { aheadOffsetSdK } from './domain/airDoubt.ts';
import {
  BEAD_UNCERTAINTY,
  calibrateCard,
  type CardCalibration,
  type CardConstants,
  DEFAULT_WINDOW_PRIOR,
  estimateWindow,
  type FilmSample,
  judgeJob,
  solveBatch,
} from './engine/index.ts';

export type JudgedScenario =
  | { readonly kind: 'judged'; readonly scenario: Scenario; readonly constants: CardConstants }
  | { readonly kind: 'rejected'; readonly rejection: Rejection };

/** Calibrates a card; the same statement is calibrated once. */
export type Calibrate = (card: Scenario['card']) => CardCalibration;

export interface Forecast {
  readonly name: string | null;
  readonly gelMin: number | null;
  readonly sandMin: number | null;
  readonly coolMin: number | null;
  readonly edgeSandMin: number | null;
  readonly testMin: number | null;
  readonly peakC: number;
  readonly p10Min: number | null;
  readonly p50Min: number | null;
  readonly p90Min: number | null;
  readonly samples: FilmSample[];
}

/**
 * Breakpoints of air, humidity and lamp within the horizon at most: each ends a step, and a film has 20,000 steps
 * (STEPS_MAX), so that none of those computed here ends `unfinished`.
 */
const BREAKPOINTS_COUNT_MAX = 15_000;
/** Past this an engine's film is called stalled. */
const HORIZON_MIN = 720;

/** Whether a scenario can be computed; the first thing that is wrong when it cannot. */
export function judgeScenario(scenario: Scenario, calibrate: Calibrate): JudgedScenario {
  const { card, job } = scenario;
  const calibration = calibrate(card);
  const [first] = [
    ...(calibration.kind === 'rejected' ? calibration.rejections.map((one) => below('card', one)) : []),
    ...judgeJob(job).map((one) => below('job', one)),
    ...judgeBreakpoints(scenario),
    ...judgeChecks(scenario),
  ];
  if (first !== undefined) return { kind: 'rejected', rejection: first };
  if (calibration.kind === 'rejected') throw new Error('a rejected card has a rejection');
  return { kind: 'judged', scenario, constants: calibration.constants };
}

/**
 * The answer to a judged scenario.
 * The first six are the median film in the scenario's own air; the window asks the checks as well. Air after `nowMin` is
 * the forecast that the scenario states and counts as it stands, for film and window: the contract calls the first six
 * the median film alone, and a scenario with and without `nowMin` must agree with what its file expects. `nowMin` only
 * says from when on the air is uncertain, and widens the window by that.
 */
export function forecastScenario({
  scenario,
  constants,
}: {
  scenario: Scenario;
  constants: CardConstants;
}): Forecast {
  const { card, job } = scenario;
  const batch = solveBatch(card, constants, job, { sampleAtMin: scenario.sampleAtMin ?? [] });
  const film = { ...BEAD_UNCERTAINTY, bayOffsetSdK: bayOffsetSdKOf(scenario, batch.testMin) };
  const prior = { ...DEFAULT_WINDOW_PRIOR, film };
  const window = estimateWindow({ card, constants, job, prior, checks: scenario.checks ?? [] });
  return {
    name: scenario.name ?? null,
    gelMin: roundOrNull(batch.gelMin, TIME_DIGITS_COUNT),
    sandMin: roundOrNull(batch.sandMin, TIME_DIGITS_COUNT),
    coolMin: roundOrNull(batch.coolMin, TIME_DIGITS_COUNT),
    edgeSandMin: roundOrNull(batch.edgeSandMin, TIME_DIGITS_COUNT),
    testMin: roundOrNull(batch.testMin, TIME_DIGITS_COUNT),
    peakC: roundTo(batch.peakC, TEMPERATURE_DIGITS_COUNT),
    p10Min: roundOrNull(window.p10Min, TIME_DIGITS_COUNT),
    p50Min: roundOrNull(window.p50Min, TIME_DIGITS_COUNT),
    p90Min: roundOrNull(window.p90Min, TIME_DIGITS_COUNT),
    samples: batch.samples.map(roundSample),
  };
}

/** The panel against its bay, and air that is only foretold from nowMin on, as an even offset that moves the film as much. */
function bayOffsetSdKOf({ nowMin }: Scenario, testMin: number | null): number {
  const { bayOffsetSdK } = BEAD_UNCERTAINTY;
  const untilMin = testMin ?? HORIZON_MIN;
  if (nowMin === undefined || nowMin >= untilMin) return bayOffsetSdK;
  const aheadMin = untilMin - nowMin;
  return Math.hypot(bayOffsetSdK, (aheadMin / untilMin) * aheadOffsetSdK({ aheadMin }));
}

/** Makes a calibration that remembers. */
export function makeCalibrate(): Calibrate {
  const known = new Map<string, CardCalibration>();
  return (card) => {
    const key = JSON.stringify({ ...card, name: undefined });
    const calibration = known.get(key) ?? calibrateCard(card);
    known.set(key, calibration);
    return calibration;
  };
}

function below(field: 'card' | 'job', rejection: Rejection): Rejection {
  return { ...rejection, path: `${field}.${rejection.path}` };
}

function judgeBreakpoints({ job }: Scenario): Rejection[] {
  const atMin = [
    ...job.airC.map(([pointMin]) => pointMin),
    ...job.humidityPct.map(([pointMin]) => pointMin),
    ...(job.lampMinWPerM2 ?? []).flatMap(([fromMin, toMin]) => [fromMin, toMin]),
  ];
  const count = atMin.filter((pointMin) => pointMin > 0 && pointMin < HORIZON_MIN).length;
  if (count <= BREAKPOINTS_COUNT_MAX) return [];
  const reason = `has ${count} points of air, humidity and lamp within ${HORIZON_MIN} min`;
  return [{ path: 'job', reason, allowed: `at most ${BREAKPOINTS_COUNT_MAX}` }];
}

/** A check that has not happened yet was seen by nobody. */
function judgeChecks({ checks = [], nowMin }: Scenario): Rejection[] {
  if (nowMin === undefined) return [];
  return checks.flatMap(({ atMin }, index) =>
    atMin <= nowMin
      ? []
      : [
          {
            path: `checks.${index}.atMin`,
            reason: `is minute ${atMin}, after nowMin`,
            allowed: `minute ${nowMin} or earlier`,
          },
        ],
  );
}

function roundSample(sample: FilmSample): FilmSample {
  return {
    atMin: sample.atMin,
    frontC: roundTo(sample.frontC, TEMPERATURE_DIGITS_COUNT),
    backC: roundTo(sample.backC, TEMPERATURE_DIGITS_COUNT),
    panelC: roundTo(sample.panelC, TEMPERATURE_DIGITS_COUNT),
    minConversion: roundTo(sample.minConversion, CONVERSION_DIGITS_COUNT),
    maxConversion: roundTo(sample.maxConversion, CONVERSION_DIGITS_COUNT),
  };
}

function roundOrNull(value: number | null, digitCount: number): number | null {
  return value === null ? null : roundTo(value, digitCount);
}

function roundTo(value: number, digitCount: number): number {
  return Number(value.toFixed(digitCount));
}

/** Digits after the point, as many as the reference file gives. */
const TIME_DIGITS_COUNT = 4;
const TEMPERATURE_DIGITS_COUNT = 3;
const CONVERSION_DIGITS_COUNT = 5;
