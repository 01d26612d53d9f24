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

/** Even points of ln scale in each pass, and how far the first and the others reach. */
const FIRST_POINTS_COUNT = 31;
const FIRST_REACH_RATIO = 0.9;
const PLACED_POINTS_COUNT = 13;
const LAST_POINTS_COUNT = 9;
const REACH_SD = 4;
/** A belief is never narrower than this. */
const LOG_SCALE_LEAST_SD = 0.004;
const ACTIVATION_LEAST_SD_KJ_PER_MOL = 0.8;
/** After a change the product may be anything near its card. */
const CHANGED_LOG_SCALE_SD = 0.25;

/** One activation energy of the grid with the points of ln scale that are looked at there. */
interface Row {
  readonly activationZ: number;
  readonly centerRatio: number;
  readonly reachRatio: number;
}

interface Grid {
  readonly rows: readonly Row[];
  readonly pointsCount: number;
  readonly scattersZ: readonly number[];
}

/** What is asked: lessons, and what was believed of ln scale before them. */
interface Asked {
  readonly lessons: readonly ScaleLesson[];
  readonly logScaleSd: number;
}

/**
 * The belief about a product after its lessons.
 * Posterior over (ln s, E_k, scatter): normal priors, interval-censored lognormal likelihood along each batch's own
 * air, to the power of the lesson's weight; three passes, each placed in all three by the moments of the one before
 * @param card  the product, for its own activation energy
 * @param lessons  oldest first
 * @returns moments of the posterior: mean and sd of ln s given E_k, of E_k, their tilt, and of ln scatter
 * @source design MODEL §5
 */
export function learnProduct(card: CardStatement, lessons: readonly ScaleLesson[]): ProductBelief {
  const prior = DEFAULT_WINDOW_PRIOR;
  const whole = { lessons, logScaleSd: prior.logTimeScaleSd };
  const placed = place(whole);
  const fromIndex = findChange(lessons, {
    logScaleSd: prior.logTimeScaleSd,
    changedLogScaleSd: CHANGED_LOG_SCALE_SD,
    logScatterSd: prior.logScatterSd,
    logScatterLogSd: SCATTER_LOG_SD,
    activationsZ: pointsAbout(placed.activationZ, CHANGE_ACTIVATION_AXIS),
  });
  if (fromIndex === 0) return beliefFrom(card, refine(whole, placed), fromIndex);
  const since = { lessons: lessons.slice(fromIndex), logScaleSd: CHANGED_LOG_SCALE_SD };
  return beliefFrom(card, refine(since, place(since)), fromIndex);
}

/** Two passes that find where the posterior lies. */
function place(asked: Asked): Moments {
  const first = momentsOf(asked, {
    rows: ACTIVATION_Z.map((activationZ) => ({ activationZ, centerRatio: 0, reachRatio: FIRST_REACH_RATIO })),
    pointsCount: FIRST_POINTS_COUNT,
    scattersZ: [0],
  });
  return momentsOf(asked, {
    rows: placeRows(first, ACTIVATION_Z, (2 * FIRST_REACH_RATIO) / FIRST_POINTS_COUNT),
    pointsCount: PLACED_POINTS_COUNT,
    scattersZ: COARSE_SCATTER_Z,
  });
}

/** The last pass, there. */
function refine(asked: Asked, placed: Moments): Moments {
  return momentsOf(asked, {
    rows: placeRows(placed, pointsAbout(placed.activationZ, ACTIVATION_AXIS), LOG_SCALE_LEAST_SD),
    pointsCount: LAST_POINTS_COUNT,
    scattersZ: pointsAbout(placed.scatterZ, SCATTER_AXIS),
  });
}

/** Mean and standard deviation of one thing. */
interface Moment {
  readonly meanValue: number;
  readonly sd: number;
}

/** One row summed up; its weight is told against its own likeliest point, whose logarithm stands beside it. */
interface RowMoments {
  readonly activationZ: number;
  readonly topLogWeight: number;
  readonly weight: number;
  readonly logScale: Moment;
  readonly scatterZ: Moment;
}

/** Moments of the posterior over all rows. */
interface Moments {
  readonly rows: readonly RowMoments[];
  readonly logScale: Moment;
  readonly activationZ: Moment;
  readonly scatterZ: Moment;
  /** Covariance of ln scale and z of the activation energy. */
  readonly tiltWeight: number;
}

function momentsOf({ lessons, logScaleSd }: Asked, { rows, pointsCount, scattersZ }: Grid): Moments {
  const taught = logScalesOnGrid(
    lessons,
    rows.map(({ activationZ }) => activationZ),
  );
  const summed = rows.map(({ activationZ, centerRatio, reachRatio }, row): RowMoments => {
    const cells: Cell[] = [];
    for (let point = 0; point < pointsCount; point++) {
      const logScale = centerRatio + reachRatio * ((2 * point) / (pointsCount - 1) - 1);
      for (const scatterZ of scattersZ) {
        const scatterLogSd = DEFAULT_WINDOW_PRIOR.logScatterSd * Math.exp(SCATTER_LOG_SD * scatterZ);
        const prior = -(activationZ ** 2 + (logScale / logScaleSd) ** 2 + scatterZ ** 2) / 2;
        const logWeight =
          prior + Math.log(reachRatio) + gridLogLikelihood(taught, row, { logScale, scatterLogSd });
        cells.push({ logScale, scatterZ, logWeight });
      }
    }
    return { activationZ, ...sumRow(cells) };
  });
  return { rows: summed, ...sumRows(summed) };
}

interface Cell {
  readonly logScale: number;
  readonly scatterZ: number;
  readonly logWeight: number;
}

function sumRow(cells: readonly Cell[]): Omit<RowMoments, 'activationZ'> {
  const topLogWeight = cells.reduce((most, { logWeight }) => Math.max(most, logWeight), -Infinity);
  const weights = cells.map(({ logWeight }) => Math.exp(logWeight - topLogWeight));
  return {
    topLogWeight,
    weight: sumOf(weights),
    logScale: momentOf(weights, (index) => ({ meanValue: (cells[index] as Cell).logScale, sd: 0 })),
    scatterZ: momentOf(weights, (index) => ({ meanValue: (cells[index] as Cell).scatterZ, sd: 0 })),
  };
}

function sumRows(rows: readonly RowMoments[]): Omit<Moments, 'rows'> {
  const topLogWeight = Math.max(...rows.map((row) => row.topLogWeight));
  const weights = rows.map((row) => row.weight * Math.exp(row.topLogWeight - topLogWeight));
  const rowAt = (index: number): RowMoments => rows[index] as RowMoments;
  const logScale = momentOf(weights, (index) => rowAt(index).logScale);
  const activationZ = momentOf(weights, (index) => ({ meanValue: rowAt(index).activationZ, sd: 0 }));
  const product = (index: number): number =>
    (rowAt(index).logScale.meanValue - logScale.meanValue) *
    (rowAt(index).activationZ - activationZ.meanValue);
  return {
    logScale,
    activationZ,
    scatterZ: momentOf(weights, (index) => rowAt(index).scatterZ),
    tiltWeight: momentOf(weights, (index) => ({ meanValue: product(index), sd: 0 })).meanValue,
  };
}

/** Mean and standard deviation over weighed parts that have their own. */
function momentOf(weights: readonly number[], partAt: (index: number) => Moment): Moment {
  const all = sumOf(weights);
  const over = (valueOf: (part: Moment) => number): number =>
    weights.reduce((sum, weight, index) => sum + weight * valueOf(partAt(index)), 0) / all;
  const meanValue = over((part) => part.meanValue);
  return { meanValue, sd: Math.sqrt(over((part) => part.sd ** 2 + (part.meanValue - meanValue) ** 2)) };
}

function sumOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}

/** How an axis of the grid finds its place: how many sds it reaches, no less than, and no further out than. */
interface Axis {
  readonly pointsCount: number;
  readonly reachSd: number;
  readonly reachLeastZ: number;
  readonly endZ: number;
}

function pointsAbout({ meanValue, sd }: Moment, { pointsCount, reachSd, reachLeastZ, endZ }: Axis): number[] {
  const reachZ = Math.max(reachSd * sd, reachLeastZ);
  const fromZ = Math.max(-endZ, meanValue - reachZ);
  const toZ = Math.min(endZ, meanValue + reachZ);
  return Array.from(
    { length: pointsCount },
    (_, index) => fromZ + ((toZ - fromZ) * index) / (pointsCount - 1),
  );
}

/** Each row of the next pass lies about the mean that the rows beside it had, and no closer than they could see. */
function placeRows({ rows }: Moments, activationsZ: readonly number[], leastSd: number): Row[] {
  return activationsZ.map((activationZ) => {
    const right = Math.max(
      1,
      rows.findIndex((row) => row.activationZ >= activationZ),
    );
    const [left, next] = [rows[right - 1] as RowMoments, rows[right] as RowMoments];
    const part = (activationZ - left.activationZ) / (next.activationZ - left.activationZ);
    const sd = Math.max(left.logScale.sd, next.logScale.sd, leastSd);
    return {
      activationZ,
      centerRatio: left.logScale.meanValue + part * (next.logScale.meanValue - left.logScale.meanValue),
      reachRatio: REACH_SD * sd,
    };
  });
}

function beliefFrom(
  card: CardStatement,
  { logScale, activationZ, scatterZ, tiltWeight }: Moments,
  fromIndex: number,
): ProductBelief {
  const prior = DEFAULT_WINDOW_PRIOR;
  const tilt = tiltWeight / Math.max(activationZ.sd, 1e-9);
  return {
    logTimeScale: logScale.meanValue,
    logTimeScaleSd: Math.max(LOG_SCALE_LEAST_SD, Math.sqrt(Math.max(0, logScale.sd ** 2 - tilt ** 2))),
    activationMeanKJPerMol: card.activationKJPerMol + activationZ.meanValue * prior.activationSdKJPerMol,
    activationSdKJPerMol: Math.max(
      ACTIVATION_LEAST_SD_KJ_PER_MOL,
      activationZ.sd * prior.activationSdKJPerMol,
    ),
    logTimeScaleTiltRatio: tilt,
    logScatterSd: prior.logScatterSd * Math.exp(SCATTER_LOG_SD * scatterZ.meanValue),
    logScatterLogSd: SCATTER_LOG_SD * scatterZ.sd,
    fromIndex,
  };
}

const SCATTER_LOG_SD = DEFAULT_WINDOW_PRIOR.logScatterLogSd as number;
const ACTIVATION_Z: readonly number[] = [-2.8, -1.87, -0.93, 0, 0.93, 1.87, 2.8];
const ACTIVATION_AXIS: Axis = { pointsCount: 7, reachSd: 3, reachLeastZ: 0.8, endZ: 2.8 };
const CHANGE_ACTIVATION_AXIS: Axis = { pointsCount: 3, reachSd: 1.2, reachLeastZ: 0.35, endZ: 2.8 };
const COARSE_SCATTER_Z: readonly number[] = [-1.8, -0.6, 0.6, 1.8];
const SCATTER_AXIS: Axis = { pointsCount: 5, reachSd: 2.6, reachLeastZ: 1.2, endZ: 2.4 };
