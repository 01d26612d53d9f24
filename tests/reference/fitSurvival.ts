// Fits of lognormal times with covariates to what was seen of them: the engine's likelihood and a maximiser of the tests' own.
import { intervalLogLikelihood } from '../../server/engine/intervalLikelihood.ts';

/** So many units of which the same was seen, in any unit of time; zero and infinity stand for an open end. */
export interface SurvivalRow {
  readonly low: number;
  readonly high: number;
  readonly covariateValues: readonly number[];
  readonly count: number;
}

/** ln of the median is the intercept and one slope a covariate; the scale is the standard deviation of ln t. */
export interface SurvivalFit {
  readonly coefficientValues: readonly number[];
  readonly scale: number;
  readonly logLikelihoodValue: number;
  /** Of the coefficients and ln scale, from the second derivatives at the maximum. */
  readonly covarianceValues: readonly (readonly number[])[];
}

type Target = (point: readonly number[]) => number;

/** The log-likelihood of all rows under given coefficients, times counted as they are, not as logarithms. */
export function logLikelihoodOf(
  rows: readonly SurvivalRow[],
  { coefficientValues, scale }: Pick<SurvivalFit, 'coefficientValues' | 'scale'>,
): number {
  const [intercept = 0, ...slopes] = coefficientValues;
  return rows.reduce((sum, { low, high, covariateValues, count }) => {
    const meanLogMin = slopes.reduce(
      (mean, slope, at) => mean + slope * entry(covariateValues, at),
      intercept,
    );
    const seen = { lowLogMin: Math.log(low), highLogMin: Math.log(high) };
    return sum + count * intervalLogLikelihood({ ...seen, meanLogMin, logSd: scale });
  }, 0);
}

/** The fit of largest likelihood, climbed from a line through the middle of the times. */
export function fitSurvival(rows: readonly SurvivalRow[]): SurvivalFit {
  const width = rows[0]?.covariateValues.length ?? 0;
  const columns = Array.from({ length: width }, (_, at) => standardOf(rows, at));
  const standardised = rows.map((row) => ({
    ...row,
    covariateValues: row.covariateValues.map((value, at) => {
      const { mean, sd } = columns[at] ?? { mean: 0, sd: 1 };
      return (value - mean) / sd;
    }),
  }));
  const target: Target = (point) =>
    logLikelihoodOf(standardised, {
      coefficientValues: point.slice(0, -1),
      scale: Math.exp(point.at(-1) ?? 0),
    });
  const summit = climb(target, [meanLogOf(rows), ...columns.map(() => 0), 0]);
  const back = columns.map(({ mean, sd }, at) => ({ mean, sd, at: at + 1 }));
  // Coefficients of the covariates themselves are a linear map of those of the standardised ones.
  const map = summit.map((_, row) =>
    summit.map((__, column) => {
      const own = back.find(({ at }) => at === column);
      if (row === 0 && own !== undefined) return -own.mean / own.sd;
      if (row !== column) return 0;
      return own === undefined ? 1 : 1 / own.sd;
    }),
  );
  const inverse = invert(secondsOf(target, summit).map((row) => row.map((value) => -value)));
  const values = map.map((row) => dot(row, summit));
  return {
    coefficientValues: values.slice(0, -1),
    scale: Math.exp(values.at(-1) ?? 0),
    logLikelihoodValue: target(summit),
    covarianceValues: map.map((row) =>
      map.map((other) =>
        dot(
          row,
          inverse.map((line) => dot(line, other)),
        ),
      ),
    ),
  };
}

/** Newton's method; where the ground is not curved like a summit the step is turned towards the slope. */
function climb(target: Target, start: readonly number[]): number[] {
  let point = [...start];
  let height = target(point);
  for (let step = 0; step < 100; step++) {
    const slopes = firstsOf(target, point);
    const seconds = secondsOf(target, point);
    let next = point;
    let nextHeight = -Infinity;
    for (let damping = 0; damping < 1e12 && !(nextHeight >= height); damping = Math.max(1e-3, damping * 4)) {
      const damped = seconds.map((row, at) =>
        row.map((value, column) => (at === column ? damping : 0) - value),
      );
      const move = invert(damped).map((row) => dot(row, slopes));
      if (dot(move, slopes) < 0) continue;
      next = point.map((value, at) => value + entry(move, at));
      nextHeight = target(next);
    }
    if (!(nextHeight >= height)) return point;
    const moved = Math.hypot(...next.map((value, at) => value - entry(point, at)));
    point = next;
    height = nextHeight;
    if (moved < 1e-9) return point;
  }
  throw new Error('no maximum in 100 steps');
}

/** Central differences of fourth order. */
function firstsOf(target: Target, point: readonly number[]): number[] {
  const step = 2e-3;
  return point.map((_, at) => {
    const by = (offset: number): number => target(shifted(point, [[at, offset * step]]));
    return (8 * (by(1) - by(-1)) - (by(2) - by(-2))) / (12 * step);
  });
}

/** Second differences of fourth order on the diagonal; beside it from the diagonals of the plane. */
function secondsOf(target: Target, point: readonly number[]): number[][] {
  const step = 5e-3;
  const middle = target(point);
  const along = (...ways: readonly (readonly [number, number])[]): number => {
    const by = (offset: number): number =>
      target(
        shifted(
          point,
          ways.map(([at, way]) => [at, way * offset * step]),
        ),
      );
    return (16 * (by(1) + by(-1)) - (by(2) + by(-2)) - 30 * middle) / (12 * step * step);
  };
  return point.map((_, row) =>
    point.map((__, column) =>
      row === column ? along([row, 1]) : (along([row, 1], [column, 1]) - along([row, 1], [column, -1])) / 4,
    ),
  );
}

function shifted(point: readonly number[], moves: readonly (readonly [number, number])[]): number[] {
  const moved = [...point];
  for (const [at, by] of moves) moved[at] = entry(moved, at) + by;
  return moved;
}

/** Gauss and Jordan with the largest pivot. */
function invert(matrix: readonly (readonly number[])[]): number[][] {
  const size = matrix.length;
  const work = matrix.map((row, at) => [...row, ...matrix.map((_, column) => (column === at ? 1 : 0))]);
  for (let column = 0; column < size; column++) {
    const below = work.map((row, at) => (at < column ? -1 : Math.abs(entry(row, column))));
    const best = below.indexOf(Math.max(...below));
    const pivotRow = work[best] ?? [];
    work[best] = work[column] ?? [];
    const scaled = pivotRow.map((value) => value / entry(pivotRow, column));
    work[column] = scaled;
    for (const [at, row] of work.entries()) {
      if (at === column) continue;
      const part = entry(row, column);
      work[at] = row.map((value, place) => value - part * entry(scaled, place));
    }
  }
  return work.map((row) => row.slice(size));
}

function standardOf(rows: readonly SurvivalRow[], at: number): { mean: number; sd: number } {
  const values = rows.map(({ covariateValues }) => entry(covariateValues, at));
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return { mean, sd: Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length) };
}

/** Of the finite ends, whatever was seen of them: near enough to start from. */
function meanLogOf(rows: readonly SurvivalRow[]): number {
  const logs = rows.map(({ low, high }) => Math.log(low > 0 ? low : high));
  return logs.reduce((sum, value) => sum + value, 0) / logs.length;
}

function dot(left: readonly number[], right: readonly number[]): number {
  return left.reduce((sum, value, at) => sum + value * entry(right, at), 0);
}

function entry(values: readonly number[], at: number): number {
  return values[at] ?? Number.NaN;
}
