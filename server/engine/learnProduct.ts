// What closed batches teach of a product: time scale, activation energy and scatter, on a grid that finds its place.
import { findChange } from './findChange.ts';
import { gridLogLikelihood, type ScaleLesson, logScalesOnGrid } from './lessonLikelihood.ts';
import type { CardStatement } from './cardStatement.ts';
import { DEFAULT_WINDOW_PRIOR, type WindowPrior } from './estimateWindow.ts';

/**
 * What is believed of a product after its lessons, for windows to start from.
 */
export interface ProductBelief extends Required<Omit<WindowPrior, 'film'>> {
  /** Index of the first lesson that still teaches: those before it speak of another product under the same name. */
  readonly fromIndex: number;
}

/** Even points of ln scale in each pass, and how far the first reaches. */
const FIRST_POINTS_COUNT = 37;
const FIRST_REACH_RATIO = 0.9;
const POINTS_COUNT = 17;
const REACH_SD = 4;
/** A belief is never narrower than this. */
const LOG_SCALE_LEAST_SD = 0.004;
const ACTIVATION_LEAST_SD_KJ_PER_MOL = 0.8;
/** After a change the product may be anything near its card. */
const CHANGED_LOG_SCALE_SD = 0.25;

/** One activation energy of the grid with the points of ln scale that are looked at there. */
interface Row {
  readonly centerRatio: number;
  readonly reachRatio: number;
}

/**
 * The belief about a product after its lessons.
 * Posterior over (ln s, E_k, scatter): normal priors, interval-censored lognormal likelihood along each batch's own
 * air, to the power of the lesson's weight; three passes, each placed by the moments of the one before
 * @param card  the product, for its own activation energy
 * @param lessons  oldest first
 * @returns moments of the posterior: mean and sd of ln s given E_k, of E_k, their tilt, and of ln scatter
 * @source design MODEL §5
 */
export function learnProduct(card: CardStatement, lessons: readonly ScaleLesson[]): ProductBelief {
  const prior = DEFAULT_WINDOW_PRIOR;
  const fromIndex = findChange(lessons, {
    logScaleSd: prior.logTimeScaleSd,
    changedLogScaleSd: CHANGED_LOG_SCALE_SD,
    logScatterSd: prior.logScatterSd,
  });
  const taught = logScalesOnGrid(lessons.slice(fromIndex), ACTIVATION_Z);
  const logScaleSd = fromIndex === 0 ? prior.logTimeScaleSd : CHANGED_LOG_SCALE_SD;
  let rows: Row[] = ACTIVATION_Z.map(() => ({ centerRatio: 0, reachRatio: FIRST_REACH_RATIO }));
  const ask = (pointsCount: number, scattersZ: readonly number[]): Moments =>
    momentsOf({ rows, taught, logScaleSd }, pointsCount, scattersZ);
  rows = placeRows(ask(FIRST_POINTS_COUNT, [0]), (2 * FIRST_REACH_RATIO) / FIRST_POINTS_COUNT);
  rows = placeRows(ask(POINTS_COUNT, [0]), LOG_SCALE_LEAST_SD);
  return beliefFrom(card, ask(POINTS_COUNT, SCATTER_Z), fromIndex);
}

/** Moments of the posterior: of ln scale in each row, and of everything over all rows. */
interface Moments {
  readonly rowMeanRatios: readonly number[];
  readonly rowSdRatios: readonly number[];
  readonly logScale: number;
  readonly logScaleSd: number;
  readonly activationZ: number;
  readonly activationSd: number;
  /** Covariance of ln scale and z of the activation energy. */
  readonly tiltWeight: number;
  readonly scatterZ: number;
  readonly scatterSd: number;
}

interface Posterior {
  readonly rows: readonly Row[];
  readonly taught: ReturnType<typeof logScalesOnGrid>;
  readonly logScaleSd: number;
}

function momentsOf(
  { rows, taught, logScaleSd }: Posterior,
  pointsCount: number,
  scattersZ: readonly number[],
): Moments {
  const cells: { row: number; logScale: number; scatterZ: number; log: number }[] = [];
  for (const [row, { centerRatio, reachRatio }] of rows.entries()) {
    const activationZ = ACTIVATION_Z[row] as number;
    for (let point = 0; point < pointsCount; point++) {
      const logScale = centerRatio + reachRatio * ((2 * point) / (pointsCount - 1) - 1);
      for (const scatterZ of scattersZ) {
        const scatterLogSd = DEFAULT_WINDOW_PRIOR.logScatterSd * Math.exp(SCATTER_LOG_SD * scatterZ);
        const prior = -(activationZ ** 2 + (logScale / logScaleSd) ** 2 + scatterZ ** 2) / 2;
        const log = prior + Math.log(reachRatio) + gridLogLikelihood(taught, row, { logScale, scatterLogSd });
        cells.push({ row, logScale, scatterZ, log });
      }
    }
  }
  const top = cells.reduce((most, { log }) => Math.max(most, log), -Infinity);
  const weighed = cells.map((cell) => ({ ...cell, weight: Math.exp(cell.log - top) }));
  const mean = meanOver(weighed);
  const logScale = mean((cell) => cell.logScale);
  const activationZ = mean((cell) => ACTIVATION_Z[cell.row] as number);
  const scatterZ = mean((cell) => cell.scatterZ);
  const byRow = rows.map((_, row) => weighed.filter((cell) => cell.row === row));
  const rowMeanRatios = byRow.map((own) => meanOver(own)((cell) => cell.logScale));
  return {
    rowMeanRatios,
    rowSdRatios: byRow.map((own, row) =>
      Math.sqrt(meanOver(own)((cell) => (cell.logScale - (rowMeanRatios[row] as number)) ** 2)),
    ),
    logScale,
    logScaleSd: Math.sqrt(mean((cell) => (cell.logScale - logScale) ** 2)),
    activationZ,
    activationSd: Math.sqrt(mean((cell) => ((ACTIVATION_Z[cell.row] as number) - activationZ) ** 2)),
    tiltWeight: mean(
      (cell) => (cell.logScale - logScale) * ((ACTIVATION_Z[cell.row] as number) - activationZ),
    ),
    scatterZ,
    scatterSd: Math.sqrt(mean((cell) => (cell.scatterZ - scatterZ) ** 2)),
  };
}

/** Each row of the next pass lies about its own mean, and no closer than the pass before could see. */
function placeRows({ rowMeanRatios, rowSdRatios }: Moments, leastSd: number): Row[] {
  return rowMeanRatios.map((centerRatio, row) => ({
    centerRatio,
    reachRatio: REACH_SD * Math.max(rowSdRatios[row] as number, leastSd),
  }));
}

function meanOver<T extends { readonly weight: number }>(
  cells: readonly T[],
): (valueOf: (cell: T) => number) => number {
  const all = cells.reduce((sum, { weight }) => sum + weight, 0);
  return (valueOf) => cells.reduce((sum, cell) => sum + cell.weight * valueOf(cell), 0) / all;
}

function beliefFrom(card: CardStatement, moments: Moments, fromIndex: number): ProductBelief {
  const prior = DEFAULT_WINDOW_PRIOR;
  const { logScale, logScaleSd, activationZ, activationSd, tiltWeight } = moments;
  const tilt = tiltWeight / Math.max(activationSd, 1e-9);
  return {
    logTimeScale: logScale,
    logTimeScaleSd: Math.max(LOG_SCALE_LEAST_SD, Math.sqrt(Math.max(0, logScaleSd ** 2 - tilt ** 2))),
    activationMeanKJPerMol: card.activationKJPerMol + activationZ * prior.activationSdKJPerMol,
    activationSdKJPerMol: Math.max(ACTIVATION_LEAST_SD_KJ_PER_MOL, activationSd * prior.activationSdKJPerMol),
    logTimeScaleTiltRatio: tilt,
    logScatterSd: prior.logScatterSd * Math.exp(SCATTER_LOG_SD * moments.scatterZ),
    logScatterLogSd: SCATTER_LOG_SD * moments.scatterSd,
    fromIndex,
  };
}

const SCATTER_LOG_SD = DEFAULT_WINDOW_PRIOR.logScatterLogSd ?? 0;
const ACTIVATION_Z: readonly number[] = [-2.8, -2.1, -1.4, -0.7, 0, 0.7, 1.4, 2.1, 2.8];
const SCATTER_Z: readonly number[] = [-2.4, -1.6, -0.8, 0, 0.8, 1.6, 2.4];
