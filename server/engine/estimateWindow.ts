// From one film to a probability over time: when a batch will be worth testing, and how sure that is.
import type { CardConstants, CardStatement, FilmJob } from './cardStatement.ts';
import { checkLikelihood, type CheckSeen } from './checkLikelihood.ts';
import { BATCH } from './constants.ts';
import { type FilmProbe, type FilmUncertainty, probeFilm } from './filmUncertainty.ts';
import { invariant } from './invariant.ts';
import { normalDensity } from './normal.ts';
import { type Member, SCALE_REACH_SD, solveMembers, solveWarmMembers } from './windowMembers.ts';

/**
 * What is believed of a product in a shop before this batch is looked at.
 */
export interface WindowPrior {
  readonly logTimeScale: number;
  readonly logTimeScaleSd: number;
  /** The card's own when missing. */
  readonly activationMeanKJPerMol?: number;
  readonly activationSdKJPerMol: number;
  /** How far ln time scale moves with one sd of the activation energy: shops that know one air only know both together. */
  readonly logTimeScaleTiltRatio?: number;
  /** From one batch to the next: the median of what is believed, and how uncertain its own logarithm is. */
  readonly logScatterSd: number;
  readonly logScatterLogSd?: number;
  /** What is not measured of one batch; nothing when missing. */
  readonly film?: FilmUncertainty;
}

/**
 * When a batch is worth testing; an instant is null when that much probability lies at "never" (past 12 h).
 */
export interface TestWindow {
  readonly p10Min: number | null;
  readonly p50Min: number | null;
  readonly p90Min: number | null;
  readonly buildP50Min: number | null;
  readonly edgeP50Min: number | null;
  /** The instant by which it is worth testing with this probability, 0 … 1 exclusive. */
  readonly quantileMin: (probability: number) => number | null;
  /** The probability that it is worth testing at an instant. */
  readonly probabilityAtMin: (atMin: number) => number;
}

/**
 * One batch to look ahead for.
 */
export interface WindowQuestion {
  readonly card: CardStatement;
  readonly constants: CardConstants;
  readonly job: FilmJob;
  readonly prior?: WindowPrior;
  readonly checks?: readonly CheckSeen[];
}

/**
 * The belief without any record of the shop: the card is right within 12 %, one batch differs from the next by 13 %,
 * give or take a factor of e^0.35 (design MODEL §5).
 */
export const DEFAULT_WINDOW_PRIOR: WindowPrior = {
  logTimeScale: 0,
  logTimeScaleSd: 0.12,
  activationSdKJPerMol: 8,
  logScatterSd: 0.13,
  logScatterLogSd: 0.35,
};

/** A film that passes 45 °C within so many standard deviations is solved at several degrees of warmth. */
const HOT_REACH_SD = 2.5;
/** Cells of the scale between its outermost nodes. */
const CELLS_COUNT = 240;
const QUANTILE_STEPS_MAX = 60;
/** Of ln minutes. */
const QUANTILE_TOLERANCE = 1e-9;
const HORIZON_LOG_MIN = Math.log(BATCH.horizonMin);

/** One member's times at the borders of the cells, and the probability that has come by then. */
interface Spread {
  readonly summedWeights: Float64Array;
  readonly testLogMin: Float64Array;
  readonly buildLogMin: Float64Array;
  readonly edgeLogMin: Float64Array;
}

type Which = 'testLogMin' | 'buildLogMin' | 'edgeLogMin';

/**
 * The window of a batch [min since mixing].
 * P(test ≤ t) = Σ_j w_j ∫ 1{T_j(x) ≤ t} φ(x) Π P(check | T_j(x)) dx, normalised; x: log of the time scale of product
 * and batch together, j: activation energies, each calibrated to the same card at its own temperature; what is not
 * measured of the batch widens x, and where the film may pass 45 °C it is solved at several degrees of warmth
 * @param question  product, constants and job, judged before; belief and checks by hand
 * @returns quantiles and the distribution itself; deterministic
 * @throws Fault when a standard deviation is not positive (the caller's check)
 * @source design MODEL §5; Gauss–Hermite over E_k, monotone interpolation over the scale
 */
export function estimateWindow(question: WindowQuestion): TestWindow {
  const prior = question.prior ?? DEFAULT_WINDOW_PRIOR;
  const probe = prior.film === undefined ? null : probeFilm(scaled(question, prior), prior.film);
  const isWarm = probe !== null && probe.peakC + HOT_REACH_SD * probe.peakSdK > BATCH.coolC;
  const filmSd = probe === null ? 0 : isWarm ? probe.restLogSd : probe.logSd;
  const logScaleSd = Math.hypot(wholeLogSd(prior), filmSd);
  invariant(logScaleSd > 0 && prior.activationSdKJPerMol > 0, 'a window needs some uncertainty');
  const cellWeights = weighCells(prior, { logScaleSd, filmSd });
  const spread = {
    logScaleMeanRatio: prior.logTimeScale,
    logScaleTiltRatio: prior.logTimeScaleTiltRatio ?? 0,
    logScaleSd,
    activationMeanKJPerMol: prior.activationMeanKJPerMol ?? question.card.activationKJPerMol,
    activationSdKJPerMol: prior.activationSdKJPerMol,
    cellCount: CELLS_COUNT,
  };
  const members =
    probe !== null && isWarm
      ? solveWarmMembers(question, spread, unscaled(question, probe))
      : solveMembers(question, spread);
  const checks = question.checks ?? [];
  const spreads = members.map((member) => spreadOf(member, { cellWeights, checks }));
  const quantile = (which: Which, probability: number): number | null =>
    quantileOf(spreads, which, probability);
  return {
    p10Min: quantile('testLogMin', 0.1),
    p50Min: quantile('testLogMin', 0.5),
    p90Min: quantile('testLogMin', 0.9),
    buildP50Min: quantile('buildLogMin', 0.5),
    edgeP50Min: quantile('edgeLogMin', 0.5),
    quantileMin: (probability) => quantile('testLogMin', probability),
    probabilityAtMin: (atMin) => (atMin > 0 ? probabilityBy(spreads, 'testLogMin', Math.log(atMin)) : 0),
  };
}

/** The film that is most probable, about which what is not measured is told. */
function scaled(question: WindowQuestion, { logTimeScale }: WindowPrior): WindowQuestion {
  const { job } = question;
  return { ...question, job: { ...job, timeScale: (job.timeScale ?? 1) * Math.exp(logTimeScale) } };
}

/** The same warmth for a film whose time scale the members set themselves. */
function unscaled({ job }: WindowQuestion, { warmed }: FilmProbe): FilmProbe['warmed'] {
  return (z) => {
    const film = warmed(z);
    const { timeScale: _, ...plain } = film.job;
    return { ...film, job: job.timeScale === undefined ? plain : { ...plain, timeScale: job.timeScale } };
  };
}

/** Product and batch together; the mean square of an uncertain scatter is larger than its median's. */
function wholeLogSd({ logTimeScaleSd, logScatterSd, logScatterLogSd = 0 }: WindowPrior): number {
  return Math.hypot(logTimeScaleSd, logScatterSd * Math.exp(logScatterLogSd ** 2));
}

/** Weights of the cells of the scale: normal for each value that the scatter may have. */
function weighCells(
  { logTimeScaleSd, logScatterSd, logScatterLogSd = 0 }: WindowPrior,
  { logScaleSd, filmSd }: { logScaleSd: number; filmSd: number },
): Float64Array {
  const parts = SCATTER_WEIGHTS.map(([z, weight]) => {
    const partSd = Math.hypot(logTimeScaleSd, logScatterSd * Math.exp(z * logScatterLogSd), filmSd);
    return { weight: weight / partSd, ratio: logScaleSd / partSd };
  });
  return Float64Array.from({ length: CELLS_COUNT }, (_, cell) => {
    const z = SCALE_REACH_SD * ((2 * cell + 1) / CELLS_COUNT - 1);
    return parts.reduce((sum, { weight, ratio }) => sum + weight * normalDensity(z * ratio), 0);
  });
}

function spreadOf(
  { weight, buildLogMin, edgeLogMin }: Member,
  { cellWeights, checks }: { cellWeights: Float64Array; checks: readonly CheckSeen[] },
): Spread {
  const testLogMin = buildLogMin.map((buildLog, index) => Math.max(buildLog, edgeLogMin[index] as number));
  const summedWeights = new Float64Array(CELLS_COUNT + 1);
  for (let cell = 0; cell < CELLS_COUNT; cell++) {
    const readyLog = ((testLogMin[cell] as number) + (testLogMin[cell + 1] as number)) / 2;
    let seen = weight * (cellWeights[cell] as number);
    for (const check of checks) seen *= checkLikelihood(check, readyLog);
    summedWeights[cell + 1] = (summedWeights[cell] as number) + seen;
  }
  return { summedWeights, testLogMin, buildLogMin, edgeLogMin };
}

/** Weight of all members that are ready by an instant, over the weight of all; nothing more comes past 12 h. */
function probabilityBy(spreads: readonly Spread[], which: Which, atLogMin: number): number {
  const untilLogMin = Math.min(atLogMin, HORIZON_LOG_MIN);
  let ready = 0;
  let all = 0;
  for (const spread of spreads) {
    ready += weightBy(spread, spread[which], untilLogMin);
    all += spread.summedWeights[CELLS_COUNT] as number;
  }
  return ready / all;
}

function weightBy({ summedWeights }: Spread, readyLogMin: Float64Array, atLogMin: number): number {
  if ((readyLogMin[0] as number) > atLogMin) return 0;
  let left = 0;
  let right = CELLS_COUNT + 1;
  while (right - left > 1) {
    const middle = (left + right) >> 1;
    if ((readyLogMin[middle] as number) <= atLogMin) left = middle;
    else right = middle;
  }
  const before = summedWeights[left] as number;
  if (left === CELLS_COUNT || readyLogMin[right] === Infinity) return before;
  const from = readyLogMin[left] as number;
  const part = (atLogMin - from) / ((readyLogMin[right] as number) - from);
  return before + part * ((summedWeights[right] as number) - before);
}

/** Bisection, every other time at the place where a straight line would meet the probability. */
function quantileOf(spreads: readonly Spread[], which: Which, probability: number): number | null {
  let early = Infinity;
  for (const spread of spreads) {
    early = Math.min(early, spread[which][0] as number);
  }
  let late = HORIZON_LOG_MIN;
  let earlyBy = 0;
  let lateBy = probabilityBy(spreads, which, late);
  if (early === Infinity || lateBy < probability) return null;
  for (let step = 0; step < QUANTILE_STEPS_MAX && late - early > QUANTILE_TOLERANCE; step++) {
    const part = step % 2 === 0 ? 0.5 : (probability - earlyBy) / (lateBy - earlyBy);
    const place = early + (late - early) * part;
    const by = probabilityBy(spreads, which, place);
    if (by < probability) {
      early = place;
      earlyBy = by;
    } else {
      late = place;
      lateBy = by;
    }
  }
  return Math.exp(late);
}

/** Points and weights of Gauss and Hermite for the standard normal density, three points. */
const SCATTER_WEIGHTS = [
  [-Math.sqrt(3), 1 / 6],
  [0, 2 / 3],
  [Math.sqrt(3), 1 / 6],
] as const;
