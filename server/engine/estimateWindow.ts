// From one film to a probability over time: when a batch will be worth testing, and how sure that is.
import type { CardConstants, CardStatement, FilmJob } from './cardStatement.ts';
import type { CheckSeen } from './checkLikelihood.ts';
import { BATCH } from './constants.ts';
import { type FilmUncertainty, type FilmWarmth, probeFilm } from './filmUncertainty.ts';
import { invariant } from './invariant.ts';
import { normalDensity } from './normal.ts';
import { type CellTimes, type Pile, pileUp, probabilityBy, quantileMin } from './pileUp.ts';
import { solveWarmMembers } from './warmMembers.ts';
import { SCALE_REACH_SD, solveMembers } from './windowMembers.ts';

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
const HOT_REACH_SD = 1.9;
/** Cells of the scale between its outermost nodes; fewer where there are many members. */
const CELLS_COUNT = 240;
const WARM_CELLS_COUNT = 48;

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
  const warmth = isWarm ? probe.findWarmth() : null;
  const filmSd = warmth?.restLogSd ?? probe?.logSd ?? 0;
  const logScaleSd = Math.hypot(wholeLogSd(prior), filmSd);
  invariant(logScaleSd > 0 && prior.activationSdKJPerMol > 0, 'a window needs some uncertainty');
  const cellCount = warmth === null ? CELLS_COUNT : WARM_CELLS_COUNT;
  const cellWeights = weighCells(prior, { logScaleSd, filmSd, cellCount });
  const spread = {
    logScaleMeanRatio: prior.logTimeScale,
    logScaleTiltRatio: prior.logTimeScaleTiltRatio ?? 0,
    logScaleSd,
    activationMeanKJPerMol: prior.activationMeanKJPerMol ?? question.card.activationKJPerMol,
    activationSdKJPerMol: prior.activationSdKJPerMol,
    cellCount,
  };
  const members =
    warmth === null
      ? solveMembers(question, spread)
      : solveWarmMembers(question, spread, unscaled(question, warmth));
  const checks = question.checks ?? [];
  const pileOf = (which: CellTimes): Pile => pileUp(members, cellWeights, { which, checks });
  const test = pileOf('testLogMin');
  return {
    p10Min: quantileMin(test, 0.1),
    p50Min: quantileMin(test, 0.5),
    p90Min: quantileMin(test, 0.9),
    buildP50Min: quantileMin(pileOf('buildLogMin'), 0.5),
    edgeP50Min: quantileMin(pileOf('edgeLogMin'), 0.5),
    quantileMin: (probability) => quantileMin(test, probability),
    probabilityAtMin: (atMin) => (atMin > 0 ? probabilityBy(test, Math.log(atMin)) : 0),
  };
}

/** The film that is most probable, about which what is not measured is told. */
function scaled(question: WindowQuestion, { logTimeScale }: WindowPrior): WindowQuestion {
  const { job } = question;
  return { ...question, job: { ...job, timeScale: (job.timeScale ?? 1) * Math.exp(logTimeScale) } };
}

/** The same warmth for a film whose time scale the members set themselves. */
function unscaled({ job }: WindowQuestion, { warmed }: FilmWarmth): FilmWarmth['warmed'] {
  return (z, secondZ) => {
    const film = warmed(z, secondZ);
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
  { logScaleSd, filmSd, cellCount }: { logScaleSd: number; filmSd: number; cellCount: number },
): Float64Array {
  const parts = SCATTER_WEIGHTS.map(([z, weight]) => {
    const partSd = Math.hypot(logTimeScaleSd, logScatterSd * Math.exp(z * logScatterLogSd), filmSd);
    return { weight: weight / partSd, ratio: logScaleSd / partSd };
  });
  return Float64Array.from({ length: cellCount }, (_, cell) => {
    const z = SCALE_REACH_SD * ((2 * cell + 1) / cellCount - 1);
    return parts.reduce((sum, { weight, ratio }) => sum + weight * normalDensity(z * ratio), 0);
  });
}

/** Points and weights of Gauss and Hermite for the standard normal density, three points. */
const SCATTER_WEIGHTS = [
  [-Math.sqrt(3), 1 / 6],
  [0, 2 / 3],
  [Math.sqrt(3), 1 / 6],
] as const;
