// Whether a product changed under its name: when the batches since some day speak of another time scale than before.
import { gridLogLikelihood, type ScaleLesson, logScalesOnGrid } from './lessonLikelihood.ts';

/** A change is expected once in so many batches (chosen), and shows after this many on either side. */
const CHANGE_EVERY_COUNT = 150;
const SIDE_LEAST_COUNT = 4;
/** More probable than not, and by some margin, before what was learned is given up. */
const PROBABILITY_LEAST = 0.7;

/**
 * Index of the first lesson after the last probable change [1]; 0 when there was none.
 * Evidence of one time scale for all against one before and another after each lesson, on a coarse grid
 * @param lessons  oldest first
 * @param belief  prior sd of ln time scale, before and after a change, and the usual scatter
 * @returns index, 0 … lessons − 4
 * @source own: Bayesian comparison of one change against none, a change once in 150 batches
 */
export function findChange(
  lessons: readonly ScaleLesson[],
  belief: { readonly logScaleSd: number; readonly changedLogScaleSd: number; readonly logScatterSd: number },
): number {
  const count = lessons.length;
  if (count < 2 * SIDE_LEAST_COUNT) return 0;
  const told = logScalesOnGrid(lessons, ACTIVATION_Z);
  const byLesson = told.map((lesson) =>
    POINTS.map(({ row, logScale }) =>
      gridLogLikelihood([lesson], row, { logScale, scatterLogSd: belief.logScatterSd }),
    ),
  );
  const before = sumsOf(byLesson);
  const after = sumsOf(byLesson.toReversed()).toReversed();
  const oneLog = evidenceOf(before[count] as number[], belief.logScaleSd);
  let odds = 0;
  let best = { index: 0, odds: 0 };
  for (let index = SIDE_LEAST_COUNT; index <= count - SIDE_LEAST_COUNT; index++) {
    const twoLog =
      evidenceOf(before[index] as number[], belief.logScaleSd) +
      evidenceOf(after[index] as number[], belief.changedLogScaleSd);
    const own = Math.exp(twoLog - oneLog) / CHANGE_EVERY_COUNT;
    odds += own;
    if (own > best.odds) best = { index, odds: own };
  }
  return odds / (1 + odds) >= PROBABILITY_LEAST ? best.index : 0;
}

/** Sums over the first 0, 1, 2 … rows. */
function sumsOf(rowValues: readonly (readonly number[])[]): number[][] {
  const sums: number[][] = [POINTS.map(() => 0)];
  for (const row of rowValues) {
    const last = sums.at(-1) as number[];
    sums.push(row.map((value, index) => value + (last[index] as number)));
  }
  return sums;
}

/** ln of the mean likelihood under the prior. */
function evidenceOf(logValues: readonly number[], logScaleSd: number): number {
  const priors = POINTS.map(({ row, logScale }) =>
    Math.exp(-((ACTIVATION_Z[row] as number) ** 2 + (logScale / logScaleSd) ** 2) / 2),
  );
  const top = Math.max(...logValues);
  const all = priors.reduce((sum, prior) => sum + prior, 0);
  return (
    top +
    Math.log(
      logValues.reduce((sum, log, index) => sum + (priors[index] as number) * Math.exp(log - top), 0) / all,
    )
  );
}

const ACTIVATION_Z: readonly number[] = [-1.8, -0.9, 0, 0.9, 1.8];
/** ln time scales from −0.72 to 0.72. */
const SCALES_COUNT = 37;
const SCALE_STEP_RATIO = 0.04;
const POINTS = ACTIVATION_Z.flatMap((_, row) =>
  Array.from({ length: SCALES_COUNT }, (__, index) => ({
    row,
    logScale: (index - (SCALES_COUNT - 1) / 2) * SCALE_STEP_RATIO,
  })),
);
