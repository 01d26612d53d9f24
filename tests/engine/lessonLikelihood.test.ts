// How probable what was seen is: the kernel as R has it, and what mistakes, branches and weights make of it.
import { describe, expect, it } from 'vitest';
import { normalProbability, type ScaleLesson } from '../../server/engine/index.ts';
import { intervalLogLikelihood } from '../../server/engine/intervalLikelihood.ts';
import { gridLogLikelihood, logScalesOnGrid } from '../../server/engine/lessonLikelihood.ts';
import synthetic from '../fixtures/reference/interval-lognormal.json' with { type: 'json' };

const MEMBERS_Z = [-2.8, -1.4, 0, 1.4, 2.8];
const { coef, scale, loglik, vcovRowMajor } = synthetic.fits.A_rows_1_to_30_no_exact;
const [intercept = 0, energyKJPerMol = 0, hardener = 0] = coef;

/** Told at R's energy and two steps of 8 kJ/mol to either side: a row's covariate is what its z adds. */
const once = (synthetic.rows as [number, number, number, number, number | null][])
  .slice(0, 30)
  .map(([, airC, hardenerPct, lowMin, highMin]): ScaleLesson => {
    const cold = (1 / (airC + 273.15) - 1 / 293.15) / 8.314_462_618e-3;
    const told = (atMin: number): number[] =>
      MEMBERS_Z.map(
        (z) =>
          Math.log(atMin) -
          intercept -
          hardener * Math.log(hardenerPct / 2) -
          (energyKJPerMol + 8 * z) * cold,
      );
    const lowLogScales = lowMin === 0 ? null : told(lowMin);
    const highLogScales = highMin === null ? null : told(highMin);
    return { weight: 1, withinLogSd: 0, branches: [{ share: 1, lowLogScales, highLogScales }] };
  });

/** ln likelihood of the rows with the share of plain mistakes (3 %, about the card within 0.6) taken out again. */
function kernelLog(logScale: number, activationZ: number, scatterLogSd: number): number {
  const grid = logScalesOnGrid(once, [activationZ]);
  return grid.reduce((sum, lesson) => {
    const { lowLogScales, highLogScales } = lesson.branches[0] as (typeof lesson.branches)[number];
    const mistaken =
      normalProbability(Number(highLogScales[0]) / 0.6) - normalProbability(Number(lowLogScales[0]) / 0.6);
    const seen = Math.exp(gridLogLikelihood([lesson], 0, { logScale, scatterLogSd }));
    return sum + Math.log((seen - 0.03 * mistaken) / 0.97);
  }, 0);
}

// INT-1: thirty rows of our own, fitted by R survival 3.5-3, survreg(Surv(…, type = "interval2")).
describe('the kernel', () => {
  it('gives R’s log-likelihood at R’s coefficients', () => {
    expect(Math.abs(kernelLog(0, 0, scale) - loglik)).toBeLessThan(1e-6);
  });

  it('is largest there, and curved as R’s covariance says', () => {
    const at = ([scaleOff, energyOff, sdOff]: readonly number[]): number =>
      kernelLog(scaleOff ?? 0, (energyOff ?? 0) / 8, scale * Math.exp(sdOff ?? 0));
    const steps = [0.02, 2, 0.05];
    const top = at([0, 0, 0]);
    const moved = (axis: number, way: number): number =>
      at(steps.map((step, index) => (index === axis ? way * step : 0)));
    steps.forEach((step, axis) => {
      const slope = (moved(axis, 1) - moved(axis, -1)) / (2 * step);
      const bend = (moved(axis, 1) + moved(axis, -1) - 2 * top) / step ** 2;
      // How far the maximum lies, by Newton, in R's standard errors of each.
      const place = axis === 2 ? 3 : axis;
      const error = Math.sqrt(Number(vcovRowMajor[5 * place]));
      expect(Math.abs(slope / bend)).toBeLessThan(0.03 * error);
      expect(bend).toBeLessThan(0);
      // Alone, each is known at least as well as beside the others.
      expect(1 / Math.sqrt(-bend)).toBeLessThan(error * 1.02);
    });
  });

  it.each([
    [-0.3, 0.2, 0.05, 0.1],
    [-0.01, 0.01, -0.02, 0.13],
    [0.2, 0.5, 0, 0.2],
    [-Infinity, 0.1, 0.05, 0.13],
    [0.1, Infinity, 0.05, 0.13],
  ])('between %f and %f about %f is that of the interval likelihood', (low, high, logScale, logSd) => {
    const all = (value: number): number[] | null =>
      Number.isFinite(value) ? MEMBERS_Z.map(() => value) : null;
    const lesson: ScaleLesson = {
      weight: 1,
      withinLogSd: 0.6 * logSd,
      branches: [{ share: 1, lowLogScales: all(low), highLogScales: all(high) }],
    };
    const ours = gridLogLikelihood(logScalesOnGrid([lesson], [0.4]), 0, {
      logScale,
      scatterLogSd: 0.8 * logSd,
    });
    const of = (meanLogMin: number, sd: number): number =>
      Math.exp(intervalLogLikelihood({ lowLogMin: low, highLogMin: high, meanLogMin, logSd: sd }));
    expect(Math.abs(ours - Math.log(0.97 * of(logScale, logSd) + 0.03 * of(0, 0.6)))).toBeLessThan(1e-7);
  });
});

describe('a lesson on the grid', () => {
  const point = { logScale: 0.1, scatterLogSd: 0.13 };
  const branch = { share: 1, lowLogScales: [-1, -0.4, -0.1, 0.2, 0.6], highLogScales: null };
  const lesson: ScaleLesson = { weight: 1, withinLogSd: 0.05, branches: [branch] };
  const likelihoodOf = (lessons: readonly ScaleLesson[], z = 0): number =>
    gridLogLikelihood(logScalesOnGrid(lessons, [z]), 0, point);

  it('is told at energies between its own by straight lines', () => {
    const told = logScalesOnGrid([lesson], [-2.799, ...MEMBERS_Z, 0.7]);
    const lows = told[0]?.branches[0]?.lowLogScales;
    branch.lowLogScales.forEach((low, index) => expect(lows?.[index + 1]).toBeCloseTo(low, 12));
    expect(lows?.[6]).toBeCloseTo(-0.1 + (0.3 * 0.7) / 1.4, 12);
    expect(lows?.[0]).toBeCloseTo(-1, 3);
    expect(told[0]?.branches[0]?.highLogScales).toEqual(Array(7).fill(Infinity));
  });

  it('counts by its weight, several by their sum', () => {
    const whole = likelihoodOf([lesson]);
    expect(likelihoodOf([{ ...lesson, weight: 0.25 }])).toBeCloseTo(whole / 4, 12);
    expect(likelihoodOf([lesson, lesson])).toBeCloseTo(2 * whole, 12);
    expect(likelihoodOf([])).toBe(0);
  });

  it('may have been this or that, by their shares', () => {
    const other = { ...branch, lowLogScales: null, highLogScales: [0, 0, 0, 0, 0] };
    const both = {
      ...lesson,
      branches: [
        { ...branch, share: 0.3 },
        { ...other, share: 0.7 },
      ],
    };
    const alone = (one: ScaleLesson['branches'][number]): number =>
      Math.exp(likelihoodOf([{ ...lesson, branches: [one] }]));
    expect(Math.exp(likelihoodOf([both]))).toBeCloseTo(0.3 * alone(branch) + 0.7 * alone(other), 12);
  });

  it('that nothing explains rules nothing out', () => {
    const beyond = [9, 9, 9, 9, 9];
    expect(
      likelihoodOf([{ ...lesson, branches: [{ share: 1, lowLogScales: beyond, highLogScales: null }] }]),
    ).toBeCloseTo(Math.log(1e-6), 9);
  });
});
