// The engine's likelihood of a finding against published fits of lognormal times: censored, grouped, to the hour.
import { describe, expect, it } from 'vitest';
import { normalDensity, normalProbability } from '../../server/engine/index.ts';
import devices from '../fixtures/reference/alt-lognormal-meeker-escobar.json' with { type: 'json' };
import synthetic from '../fixtures/reference/interval-lognormal.json' with { type: 'json' };
import handbook from '../fixtures/reference/nist-arrhenius-lognormal.json' with { type: 'json' };
import { fitSurvival, logLikelihoodOf, type SurvivalFit, type SurvivalRow } from './fitSurvival.ts';

/** Within a part of the expected figure. */
function near(value: number | undefined, expected: number | undefined, part: number): void {
  expect(Math.abs((value ?? Number.NaN) / (expected ?? Number.NaN) - 1)).toBeLessThan(part);
}

/** Within half a unit of the last digit that was printed. */
function printed(value: number | undefined, expected: number, digits: number): void {
  expect(Math.abs((value ?? Number.NaN) - expected)).toBeLessThanOrEqual(0.5 * 10 ** -digits + 1e-12);
}

const errorsOf = ({ covarianceValues }: SurvivalFit): number[] =>
  covarianceValues.map((row, at) => Math.sqrt(row[at] ?? Number.NaN));
const exactly = (time: number, covariateValues: readonly number[]): SurvivalRow => ({
  low: time,
  high: time,
  covariateValues,
  count: 1,
});
const withoutCovariates = (rows: readonly SurvivalRow[]): SurvivalRow[] =>
  rows.map((row) => ({ ...row, covariateValues: [] }));

describe('the handbook of engineering statistics', () => {
  const cells = handbook.cells.map(({ tempC, units, failuresH, censoredAtH }) => {
    const x = 1 / (handbook.covariate.k_eV_per_K * (tempC + handbook.covariate.kelvinOffset));
    const survivors = { low: censoredAtH, high: Infinity, count: units - failuresH.length };
    return [...failuresH.map((timeH) => exactly(timeH, [x])), { ...survivors, covariateValues: [x] }];
  });
  const rows = cells.flat();
  const { printed: told, refit } = handbook;

  it('has 175 units', () => {
    expect(rows.reduce((sum, { count }) => sum + count, 0)).toBe(175);
  });

  // ALT-1: NIST/SEMATECH e-Handbook 8.4.2.2, R listing, seen; refit by R.
  it('gives its log-likelihood at its coefficients and its coefficients at the maximum', () => {
    const theirs = { coefficientValues: [refit.intercept, refit.deltaH_eV], scale: refit.sigma };
    expect(Math.abs(logLikelihoodOf(rows, theirs) - refit.logLik)).toBeLessThan(1e-6);
    const fit = fitSurvival(rows);
    near(fit.coefficientValues[0], refit.intercept, 1e-5);
    near(fit.coefficientValues[1], refit.deltaH_eV, 1e-5);
    near(fit.scale, refit.sigma, 1e-5);
    expect(Math.abs(fit.logLikelihoodValue - refit.logLik)).toBeLessThan(1e-6);
    printed(fit.coefficientValues[0], told.intercept, 3);
    printed(fit.coefficientValues[1], told.deltaH_eV, 3);
    printed(fit.scale, told.sigma, 3);
    printed(Math.log(fit.scale), told.lnSigma, 3);
    printed(fit.logLikelihoodValue, told.logLik, 4);
    const alone = fitSurvival(withoutCovariates(rows));
    expect(Math.abs(alone.logLikelihoodValue - refit.logLikInterceptOnly)).toBeLessThan(1e-6);
    printed(alone.logLikelihoodValue, told.logLikInterceptOnly, 0);
  });

  // ALT-2: the same listing's standard errors.
  it('gives its standard errors', () => {
    const fit = fitSurvival(rows);
    const [intercept, deltaH, logSigma] = errorsOf(fit);
    printed(intercept, told.interceptSE, 4);
    printed(deltaH, told.deltaHSE, 4);
    printed(logSigma, told.lnSigmaSE, 4);
    refit.vcov_intercept_deltaH_lnSigma.forEach((row, at) => {
      row.forEach((expected, column) => near(fit.covarianceValues[at]?.[column], expected, 1e-5));
    });
  });

  // ALT-3: the same page's fits of each cell alone, and the test whether one line and one sigma hold for all.
  it('gives its fits of each cell and its likelihood ratio', () => {
    const fits = cells.map((cell) => fitSurvival(withoutCovariates(cell)));
    fits.forEach((fit, at) => {
      near(fit.coefficientValues[0], refit.perCell[at]?.mu, 1e-6);
      near(fit.scale, refit.perCell[at]?.sigma, 1e-6);
      near(fit.logLikelihoodValue, refit.perCell[at]?.logLik, 1e-8);
    });
    [0.89, 0.108, 0.163].forEach((expected, at) => {
      printed(errorsOf(fits[at] as SurvivalFit)[0], expected, at === 0 ? 2 : 3);
    });
    const sum = fits.reduce((total, { logLikelihoodValue }) => total + logLikelihoodValue, 0);
    printed(sum, told.sumPerCellLogLik, 4);
    const ratio = 2 * (sum - fitSurvival(rows).logLikelihoodValue);
    printed(ratio, told.likelihoodRatio, 4);
    // The tail of χ² with three degrees of freedom.
    const root = Math.sqrt(ratio);
    printed(2 * normalProbability(-root) + 2 * root * normalDensity(root), told.pValue, 5);
  });

  // ALT-4: e-Handbook 8.4.2.1, R listing, seen: lines through probability plots, then one through their middles.
  it('gives its graphical estimate by normal quantiles', () => {
    const { graphical } = handbook;
    const middles = handbook.cells.map(({ units, failuresH }) => {
      const quantiles = failuresH.map((_, at) => normalQuantile((at + 1 - 0.3) / (units + 0.4)));
      return lineThrough(quantiles, failuresH.map(Math.log)).intercept;
    });
    middles.forEach((middle, at) => printed(middle, graphical.cellLnT50[at] as number, 6));
    const x = handbook.cells.map(({ tempC }) => 11605 / (tempC + 273.15));
    x.forEach((value, at) => printed(value, graphical.x[at] as number, 5));
    const failures = handbook.cells.map(({ failuresH }) => failuresH.length);
    const { intercept, slope } = lineThrough(x, middles, failures);
    printed(slope, graphical.deltaH_eV, 7);
    printed(intercept, graphical.intercept, 7);
  });
});

describe('the book of reliability data', () => {
  const covariateOf = (tempC: number): number => 11605 / (tempC + 273.15);
  const rowsA = devices.deviceA.timesH.flatMap(({ tempC, failures, censoredAt5000 }) => {
    const covariateValues = [covariateOf(tempC)];
    return [
      ...failures.map((timeH) => exactly(timeH, covariateValues)),
      { low: 5000, high: Infinity, covariateValues, count: censoredAt5000 },
    ];
  });
  const rowsIc = devices.icDevice.rows.map(({ n, lo, hi, tempC }) => ({
    low: lo,
    high: hi ?? Infinity,
    covariateValues: [covariateOf(tempC)],
    count: n,
  }));

  // ALT-5: Meeker & Escobar 1998, example 19.5 (data 2nd), fitted by R; the book's own digits from memory.
  // ALT-6: example 19.11, grouped times (data 2nd), fitted by R; printed standard errors and ratio seen.
  it.each([
    ['ALT-5', rowsA, devices.deviceA.refit_R_survreg, devices.deviceA.book_from_memory],
    ['ALT-6', rowsIc, devices.icDevice.refit_R_survreg, devices.icDevice.book_from_memory],
  ] as const)('is met by likelihood, coefficients and standard errors in %s', (_, rows, refit, book) => {
    const theirs = { coefficientValues: [refit.b0, refit.b1], scale: refit.sigma };
    expect(Math.abs(logLikelihoodOf(rows, theirs) - refit.logLik)).toBeLessThan(1e-6);
    const fit = fitSurvival(rows);
    near(fit.coefficientValues[0], refit.b0, 1e-5);
    near(fit.coefficientValues[1], refit.b1, 1e-5);
    near(fit.scale, refit.sigma, 1e-5);
    expect(Math.abs(fit.logLikelihoodValue - refit.logLik)).toBeLessThan(1e-6);
    errorsOf(fit).forEach((value, at) => near(value, refit.se_b0_b1_lnSigma[at], 1e-4));
    near(fit.coefficientValues[0], book.b0, 1e-3);
    near(fit.coefficientValues[1], book.b1, 1e-3);
    near(fit.scale, book.sigma, 1e-2);
    near(fit.logLikelihoodValue, book.logLik, 1e-4);
  });

  it('is met by the printed errors of ALT-6, and by its ratio of one sigma against one for each cell', () => {
    const { perCell_R_survreg: perCell, printed_seen: told } = devices.icDevice;
    const fit = fitSurvival(rowsIc);
    const [intercept = 0, slope = 0, logSigma = 0] = errorsOf(fit);
    printed(intercept, told.se_b0, 1);
    printed(slope, told.se_b1, 2);
    printed(logSigma * fit.scale, told.se_sigma, 2);
    const sums = ([250, 300] as const).map((tempC) => {
      const cell = rowsIc.filter(({ covariateValues: [x] }) => x === covariateOf(tempC));
      const alone = fitSurvival(withoutCovariates(cell));
      near(alone.coefficientValues[0], perCell[tempC].mu, 1e-6);
      near(alone.scale, perCell[tempC].sigma, 1e-6);
      near(alone.logLikelihoodValue, perCell[tempC].logLik, 1e-6);
      return alone.logLikelihoodValue;
    });
    const ratio = 2 * ((sums[0] ?? 0) + (sums[1] ?? 0) - fit.logLikelihoodValue);
    printed(ratio, told.commonSigmaLikelihoodRatio, 1);
    printed(ratio, 4.72, 2);
  });
});

describe('findings of every kind', () => {
  const covariatesOf = (tempC: number, hardenerPct: number): number[] => [
    1 / (8.314_462_618e-3 * (tempC + 273.15)) - 1 / (8.314_462_618e-3 * 293.15),
    Math.log(hardenerPct / 2),
  ];
  const rows = (synthetic.rows as [number, number, number, number, number | null][]).map(
    ([, tempC, hardenerPct, low, high]) => ({
      low,
      high: high ?? Infinity,
      covariateValues: covariatesOf(tempC, hardenerPct),
      count: 1,
    }),
  );
  const { A_rows_1_to_30_no_exact: fitA, B_all_36_rows: fitB } = synthetic.fits;
  const quantileZs = [-1.281_551_565_544_600_4, 0, 1.281_551_565_544_600_4];

  it('are left, right and between, and exact in the last six rows', () => {
    const kinds = rows.map(({ low, high }) =>
      low === high ? 'exact' : low === 0 ? 'left' : high === Infinity ? 'right' : 'between',
    );
    const countOf = (kind: string): number => kinds.filter((each) => each === kind).length;
    expect(['left', 'right', 'between', 'exact'].map(countOf)).toEqual([2, 7, 21, 6]);
  });

  // INT-1, INT-2: rows of our own, fitted by R survival 3.5-3, survreg(Surv(…, type = "interval2")); SciPy agrees.
  it.each([
    ['INT-1', rows.slice(0, 30), fitA],
    ['INT-2', rows, fitB],
  ] as const)('are met by likelihood, coefficients, covariance and quantiles in %s', (_, some, theirs) => {
    const point = { coefficientValues: theirs.coef, scale: theirs.scale };
    expect(Math.abs(logLikelihoodOf(some, point) - theirs.loglik)).toBeLessThan(1e-8);
    const fit = fitSurvival(some);
    fit.coefficientValues.forEach((value, at) => near(value, theirs.coef[at], 1e-6));
    near(fit.scale, theirs.scale, 1e-6);
    expect(Math.abs(fit.logLikelihoodValue - theirs.loglik)).toBeLessThan(1e-8);
    errorsOf(fit).forEach((value, at) => near(value, theirs.se[at], 1e-5));
    fit.covarianceValues.flat().forEach((value, at) => near(value, theirs.vcovRowMajor[at], 1e-4));
    synthetic.quantilesAt.forEach(({ tempC, hardenerPct }, at) => {
      const row = [1, ...covariatesOf(tempC, hardenerPct)];
      const middleLog = row.reduce(
        (sum, value, column) => sum + value * (fit.coefficientValues[column] ?? 0),
        0,
      );
      quantileZs.forEach((z, column) => {
        near(Math.exp(middleLog + z * fit.scale), theirs.quantiles[at]?.[column], 1e-6);
        const gradient = [...row, z * fit.scale];
        near(errorAlong(fit, gradient), theirs.lnQuantilesSe[at]?.[column], 1e-5);
      });
    });
    const alone = fitSurvival(withoutCovariates(some));
    near(alone.coefficientValues[0], theirs.null.intercept, 1e-6);
    near(alone.scale, theirs.null.scale, 1e-6);
    expect(Math.abs(alone.logLikelihoodValue - theirs.null.loglik)).toBeLessThan(1e-8);
  });
});

function errorAlong({ covarianceValues }: SurvivalFit, gradient: readonly number[]): number {
  const variance = covarianceValues.flatMap((line, at) =>
    line.map((value, column) => (gradient[at] ?? 0) * value * (gradient[column] ?? 0)),
  );
  return Math.sqrt(variance.reduce((sum, value) => sum + value, 0));
}

/** By halving. */
function normalQuantile(probability: number): number {
  let low = -9;
  let high = 9;
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (normalProbability(middle) < probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Weighted least squares. */
function lineThrough(
  x: readonly number[],
  y: readonly number[],
  weights: readonly number[] = x.map(() => 1),
): { intercept: number; slope: number } {
  const meanOf = (values: readonly number[]): number =>
    values.reduce((sum, value, at) => sum + value * (weights[at] ?? 0), 0) /
    weights.reduce((sum, weight) => sum + weight, 0);
  const meanX = meanOf(x);
  const meanY = meanOf(y);
  const slope =
    meanOf(x.map((value, at) => (value - meanX) * ((y[at] ?? 0) - meanY))) /
    meanOf(x.map((value) => (value - meanX) ** 2));
  return { intercept: meanY - slope * meanX, slope };
}
