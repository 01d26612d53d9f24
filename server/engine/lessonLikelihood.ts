// How probable what was seen of a batch is, for a time scale, an activation energy and a scatter.
import { quickNormalProbability } from './quickNormal.ts';
import { LESSON_ENERGIES_Z } from './windowMembers.ts';

/**
 * What was seen of one batch, told in ln time scale (readLesson) at the activation energies of a window's members.
 */
export interface ScaleLesson {
  /** 0 … 1, less for an old batch. */
  readonly weight: number;
  /** Of ln scale: what is not measured of the batch, and its tester's error. */
  readonly withinLogSd: number;
  /** What may have happened, with shares that sum to 1: the true scale lies between low and high. */
  readonly branches: readonly LessonBranch[];
}

/**
 * One reading of a lesson; a missing end is open.
 */
export interface LessonBranch {
  readonly share: number;
  readonly lowLogScales: readonly number[] | null;
  readonly highLogScales: readonly number[] | null;
}

/** A lesson with its ends told at the activation energies of a grid. */
interface GridLesson {
  readonly weight: number;
  readonly withinLogSd: number;
  /** How probable it is if the batch was plainly misjudged; the same whatever the product is. */
  readonly mistakenWeights: readonly number[];
  readonly branches: readonly {
    readonly share: number;
    readonly lowLogScales: readonly number[];
    readonly highLogScales: readonly number[];
  }[];
}

/** So many batches are plainly misjudged; then their scale may be anything near the card's. */
const MISTAKE_FRACTION = 0.03;
const MISTAKEN_LOG_SD = 0.6;

/**
 * Lessons told at the activation energies of a grid.
 * @param lessons  told at those of a window's members
 * @param activationZ  [1] standard deviations from the card's own, within ±2.8
 * @returns lessons with a value for each activation energy of the grid
 * @source own: straight lines between the members
 */
export function logScalesOnGrid(
  lessons: readonly ScaleLesson[],
  activationZ: readonly number[],
): readonly GridLesson[] {
  const told = (logScales: LessonBranch['lowLogScales'], open: number): number[] =>
    activationZ.map((z) => (logScales === null ? open : between(logScales, z)));
  return lessons.map(({ weight, withinLogSd, branches }) => {
    const toldBranches = branches.map(({ share, lowLogScales, highLogScales }) => ({
      share,
      lowLogScales: told(lowLogScales, -Infinity),
      highLogScales: told(highLogScales, Infinity),
    }));
    const mistakenWeights = activationZ.map((_, row) =>
      toldBranches.reduce((sum, branch) => sum + mistakenWeight(branch, row), 0),
    );
    return { weight, withinLogSd, mistakenWeights, branches: toldBranches };
  });
}

function mistakenWeight(
  { share, lowLogScales, highLogScales }: GridLesson['branches'][number],
  rowIndex: number,
): number {
  const [low, high] = [lowLogScales[rowIndex] as number, highLogScales[rowIndex] as number];
  const seen = quickNormalProbability(high / MISTAKEN_LOG_SD) - quickNormalProbability(low / MISTAKEN_LOG_SD);
  return share * MISTAKE_FRACTION * seen;
}

/**
 * ln likelihood of all lessons at one point of the grid [1].
 * Σ w ln(0.97 Σ share (Φ((high − ln s)/σ) − Φ((low − ln s)/σ)) + 0.03 of the same about the card), σ² = scatter² + within²
 * @param lessons  told on the grid
 * @param rowIndex  [1] which activation energy of the grid
 * @param point  ln of the time scale, and the scatter of one batch to the next
 * @returns ln likelihood [1], ≤ 0
 * @source design MODEL §5; the interval kernel of intervalLikelihood
 */
export function gridLogLikelihood(
  lessons: readonly GridLesson[],
  rowIndex: number,
  { logScale, scatterLogSd }: { logScale: number; scatterLogSd: number },
): number {
  let sum = 0;
  for (const { weight, withinLogSd, mistakenWeights, branches } of lessons) {
    const logSd = Math.sqrt(scatterLogSd * scatterLogSd + withinLogSd * withinLogSd);
    let seen = mistakenWeights[rowIndex] as number;
    for (const { share, lowLogScales, highLogScales } of branches) {
      const low = lowLogScales[rowIndex] as number;
      const high = highLogScales[rowIndex] as number;
      const likely =
        quickNormalProbability((high - logScale) / logSd) - quickNormalProbability((low - logScale) / logSd);
      seen += share * (1 - MISTAKE_FRACTION) * likely;
    }
    sum += weight * Math.log(Math.max(seen, SEEN_LEAST_FRACTION));
  }
  return sum;
}

/** A lesson that nothing explains rules nothing out. */
const SEEN_LEAST_FRACTION = 1e-6;

/** A value between those of a window's members; open next to one that is. */
function between(logScales: readonly number[], z: number): number {
  const right = Math.max(
    1,
    LESSON_ENERGIES_Z.findIndex((memberZ) => memberZ >= z),
  );
  const [leftLog, rightLog] = [logScales[right - 1] as number, logScales[right] as number];
  const leftZ = LESSON_ENERGIES_Z[right - 1] as number;
  const part = (z - leftZ) / ((LESSON_ENERGIES_Z[right] as number) - leftZ);
  return leftLog + part * (rightLog - leftLog);
}
