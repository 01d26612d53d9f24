// What was seen of a closed batch, told as time scales: with which scale its film would have been ready just then.
import { TESTER_LOG_SD } from './checkLikelihood.ts';
import { DEFAULT_WINDOW_PRIOR } from './estimateWindow.ts';
import { type FilmUncertainty, probeFilm } from './filmUncertainty.ts';
import { type MemberQuestion, SCALE_REACH_SD, solveCurves } from './windowMembers.ts';

/**
 * Instants of one batch [min since mixing] as time scales, and how far they are blurred.
 */
export interface LessonReading {
  /** One row for each instant asked: ln time scale at the activation energies of a window's members. */
  readonly logScales: readonly (readonly number[])[];
  /** Of ln scale: what is not measured of the batch, and the tester's error. */
  readonly withinLogSd: number;
}

/** Scales are followed to either side as far as this. */
const REACH_LOG_SCALE = 1.2;
const CELLS_COUNT = 240;
/** Stands for a scale beyond that reach: facts are JSON, which knows no infinity. */
const OPEN_LOG_SCALE = 9;
/** To either side, for a slope. */
const LEAN_LOG_MIN = 0.08;

/**
 * Reads what instants of a batch say of its time scale.
 * Each row has ln of the scale with which the batch is ready at that instant, for z = ∓2.8, ∓1.4, 0 standard deviations
 * of 8 kJ/mol about the card's own activation energy; ∓9 where no scale of e^∓1.2 … would do
 * @param question  product, constants and job without a time scale of its own, judged before
 * @param instantsMin  [min] since mixing, > 0; the last one is where the blur is told
 * @param film  what is not measured of the batch
 * @returns rows of five values, and the blur of ln scale [1]
 * @source own: the window's interpolation (windowMembers), read backwards
 */
export function readLesson(
  question: MemberQuestion,
  instantsMin: readonly number[],
  film: FilmUncertainty,
): LessonReading {
  const curvesLogMin = solveCurves(question, {
    logScaleMeanRatio: 0,
    logScaleTiltRatio: 0,
    logScaleSd: REACH_LOG_SCALE / SCALE_REACH_SD,
    activationMeanKJPerMol: question.card.activationKJPerMol,
    activationSdKJPerMol: DEFAULT_WINDOW_PRIOR.activationSdKJPerMol,
    cellCount: CELLS_COUNT,
  });
  const rowAt = (atMin: number): number[] => curvesLogMin.map((curve) => scaleLogAt(curve, Math.log(atMin)));
  const lastMin = instantsMin.at(-1) as number;
  const { logSd } = probeFilm(question, film);
  return {
    logScales: instantsMin.map(rowAt),
    withinLogSd: Math.hypot(logSd, TESTER_LOG_SD) * scalePerTime(curvesLogMin, Math.log(lastMin)),
  };
}

/**
 * How far ln scale moves with ln time about an instant: 1 for a film that heats itself little, much under a lamp. Where
 * cooling decides, all scales are ready within moments: the slope is then that of the whole curve.
 */
function scalePerTime(curvesLogMin: readonly Float64Array[], atLogMin: number): number {
  const middle = curvesLogMin[(curvesLogMin.length - 1) / 2] as Float64Array;
  const lastLogMin = middle.findLast((log) => log < Infinity) ?? -Infinity;
  const lowLogMin = Math.max(atLogMin - LEAN_LOG_MIN, middle[0] as number);
  const highLogMin = Math.min(atLogMin + LEAN_LOG_MIN, lastLogMin);
  if (highLogMin <= lowLogMin) return 1;
  const reached = (log: number): number =>
    Math.min(REACH_LOG_SCALE, Math.max(-REACH_LOG_SCALE, scaleLogAt(middle, log)));
  return Math.max(1, (reached(highLogMin) - reached(lowLogMin)) / (highLogMin - lowLogMin));
}

/** The curve rises with the scale: bisection finds the cell, a straight line the place in it. */
function scaleLogAt(readyLogMin: Float64Array, atLogMin: number): number {
  if ((readyLogMin[0] as number) > atLogMin) return -OPEN_LOG_SCALE;
  if ((readyLogMin[CELLS_COUNT] as number) <= atLogMin) return OPEN_LOG_SCALE;
  let left = 0;
  let right = CELLS_COUNT;
  while (right - left > 1) {
    const middle = (left + right) >> 1;
    if ((readyLogMin[middle] as number) <= atLogMin) left = middle;
    else right = middle;
  }
  const from = readyLogMin[left] as number;
  const to = readyLogMin[right] as number;
  const part = to === Infinity ? 1 : (atLogMin - from) / (to - from);
  return REACH_LOG_SCALE * ((2 * (left + part)) / CELLS_COUNT - 1);
}
