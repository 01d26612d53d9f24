// Whether a product changed under its name: when the batches since some day speak of another time scale than before.
import { gridLogLikelihood, type ScaleLesson, logScalesOnGrid } from './lessonLikelihood.ts';

/** A change is expected once in so many batches (chosen), and shows after this many on either side. */
const CHANGE_EVERY_COUNT = 150;
const SIDE_LEAST_COUNT = 4;
/** More probable than not, 0.7 against 0.3, before what was learned is given up. */
const ODDS_LEAST_RATIO = 0.7 / 0.3;

/**
 * What is believed of a product that may have changed.
 */
export interface ChangeBelief {
  readonly logScaleSd: number;
  readonly changedLogScaleSd: number;
  readonly logScatterSd: number;
  readonly logScatterLogSd: number;
  /** Which activation energies are tried, in sds from the card's own: those that all lessons together speak for. */
  readonly activationsZ: readonly number[];
}

/**
 * Index of the first lesson after the last probable change [1]; 0 when there was none.
 * Evidence of one time scale for all against one before and another after each lesson, on a grid, both with the same
 * scatter, whatever it is: a product that scatters much does not change with each few batches
 * @param lessons  oldest first
 * @param belief  prior sd of ln time scale, before and after a change, the usual scatter, and activation energies
 * @returns index, 0 … lessons − 4
 * @source own: Bayesian comparison of one change against none, a change once in 150 batches
 */
export function findChange(lessons: readonly ScaleLesson[], belief: ChangeBelief): number {
  const count = lessons.length;
  if (count < 2 * SIDE_LEAST_COUNT) return 0;
  const told = logScalesOnGrid(lessons, belief.activationsZ);
  const byScatter = SCATTERS_Z.map((scatterZ) => {
    const scatterLogSd = belief.logScatterSd * Math.exp(belief.logScatterLogSd * scatterZ);
    return { priorLog: -(scatterZ ** 2) / 2, ...evidencesOf(told, scatterLogSd, belief) };
  });
  const oneLog = logOfSum(
    byScatter.map(({ priorLog, beforeValues }) => priorLog + (beforeValues[count] as number)),
  );
  const oddsLogs: number[] = [];
  for (let index = SIDE_LEAST_COUNT; index <= count - SIDE_LEAST_COUNT; index++) {
    const twoLog = logOfSum(
      byScatter.map(
        ({ priorLog, beforeValues, afterValues }) =>
          priorLog + (beforeValues[index] as number) + (afterValues[index] as number),
      ),
    );
    oddsLogs.push(twoLog - oneLog - Math.log(CHANGE_EVERY_COUNT));
  }
  if (logOfSum(oddsLogs) < Math.log(ODDS_LEAST_RATIO)) return 0;
  return SIDE_LEAST_COUNT + oddsLogs.indexOf(Math.max(...oddsLogs));
}

/** ln evidence of the lessons before and from each index on, each with a time scale of its own, for one scatter. */
function evidencesOf(
  told: ReturnType<typeof logScalesOnGrid>,
  scatterLogSd: number,
  { logScaleSd, changedLogScaleSd, activationsZ }: ChangeBelief,
): { beforeValues: number[]; afterValues: number[] } {
  const byLesson = told.map((lesson) =>
    Float64Array.from({ length: activationsZ.length * SCALES_COUNT }, (_, cell) => {
      const logScale = LOG_SCALES[cell % SCALES_COUNT] as number;
      return gridLogLikelihood([lesson], Math.floor(cell / SCALES_COUNT), { logScale, scatterLogSd });
    }),
  );
  const evidencesFrom = (rowValues: readonly Float64Array[], sd: number): number[] => {
    const priorValues = activationsZ.flatMap(() => LOG_SCALES.map((logScale) => -((logScale / sd) ** 2) / 2));
    return evidencesAlong(rowValues, priorValues);
  };
  return {
    beforeValues: evidencesFrom(byLesson, logScaleSd),
    afterValues: evidencesFrom(byLesson.toReversed(), changedLogScaleSd).toReversed(),
  };
}

/** ln evidence of the first 0, 1, 2 … rows against the prior alone. */
function evidencesAlong(rowValues: readonly Float64Array[], priorValues: readonly number[]): number[] {
  const sums = Float64Array.from(priorValues);
  const priorLog = logOfSum(sums);
  const evidences = [0];
  for (const row of rowValues) {
    for (let cell = 0; cell < sums.length; cell++)
      sums[cell] = (sums[cell] as number) + (row[cell] as number);
    evidences.push(logOfSum(sums) - priorLog);
  }
  return evidences;
}

/** ln of the sum of values told by their ln, however large. */
function logOfSum(logValues: Float64Array | readonly number[]): number {
  let top = -Infinity;
  for (const log of logValues) top = Math.max(top, log);
  let sum = 0;
  for (const log of logValues) sum += Math.exp(log - top);
  return top + Math.log(sum);
}

const SCATTERS_Z: readonly number[] = [-0.9, 0.9];
/** From −0.72 to 0.72. */
const SCALES_COUNT = 49;
const SCALE_STEP_RATIO = 0.03;
const LOG_SCALES = Array.from(
  { length: SCALES_COUNT },
  (_, index) => (index - (SCALES_COUNT - 1) / 2) * SCALE_STEP_RATIO,
);
