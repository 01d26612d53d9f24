// The scores of forecasts and the bounds of their hits against closed forms and the figures of a library.
import { describe, expect, it } from 'vitest';
import { clopperPearsonBounds, credibleHits, wilsonBounds } from '../../server/domain/binomialBounds.ts';
import {
  crpsOfQuantiles,
  crpsOfWindow,
  intervalScore,
  meanOf,
  pinballLoss,
} from '../../server/domain/scores.ts';
import { normalDensity, normalProbability } from '../../server/engine/index.ts';
import { intervalLogLikelihood } from '../../server/engine/intervalLikelihood.ts';
import reference from '../fixtures/reference/scoring.json' with { type: 'json' };

type Row = [number, number, number, number];

/** The program's score of a normal forecast. */
const crpsOfNormal = (mean: number, sd: number, trueValue: number): number =>
  crpsOfQuantiles({ valueAtZ: (z) => mean + sd * z, trueValue, trueZ: (trueValue - mean) / sd });

/** Gneiting and Raftery 2007, JASA 102:359 (from memory). */
function closedCrpsOfNormal(mean: number, sd: number, trueValue: number): number {
  const z = (trueValue - mean) / sd;
  return sd * (z * (2 * normalProbability(z) - 1) + 2 * normalDensity(z) - 1 / Math.sqrt(Math.PI));
}

/** The program's score of a window whose sides are alike. */
function crpsOfLognormal(meanLog: number, logSd: number, trueMin: number): number {
  const reach = 1.281_551_565_544_600_4 * logSd;
  const [p10Min, p50Min, p90Min] = [-reach, 0, reach].map((by) => Math.exp(meanLog + by)) as [
    number,
    number,
    number,
  ];
  return crpsOfWindow({ window: { p10Min, p50Min, p90Min }, trueMin });
}

/** Baran and Lerch 2015. */
function closedCrpsOfLognormal(meanLog: number, logSd: number, trueMin: number): number {
  const w = (Math.log(trueMin) - meanLog) / logSd;
  const spread = normalProbability(w - logSd) + normalProbability(logSd / Math.SQRT2) - 1;
  return trueMin * (2 * normalProbability(w) - 1) - 2 * Math.exp(meanLog + logSd ** 2 / 2) * spread;
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

describe('the score of a whole forecast', () => {
  // SC-1: closed form; its rows checked by quadrature.
  it.each(reference.crps_normal.rows as Row[])(
    'of N(%f, %f) at %f is %f',
    (mean, sd, trueValue, expected) => {
      expect(Math.abs(crpsOfNormal(mean, sd, trueValue) / expected - 1)).toBeLessThan(1e-9);
    },
  );

  it('of N(0, 1) at 0 is the root of two less one over the root of π (SC-1)', () => {
    expect(Math.abs(crpsOfNormal(0, 1, 0) - (Math.SQRT2 - 1) / Math.sqrt(Math.PI))).toBeLessThan(1e-12);
    for (let z = -7; z <= 7; z += 0.37) {
      expect(Math.abs(crpsOfNormal(20, 3, 20 + 3 * z) - closedCrpsOfNormal(20, 3, 20 + 3 * z))).toBeLessThan(
        1e-10,
      );
    }
  });

  // SC-2: closed form; its rows checked by quadrature.
  it.each(reference.crps_lognormal.rows as Row[])(
    'of a lognormal of %f, %f at %f is %f',
    (meanLog, logSd, trueMin, expected) => {
      expect(Math.abs(crpsOfLognormal(meanLog, logSd, trueMin) - expected)).toBeLessThan(1e-7);
    },
  );

  it.each([0.02, 0.13, 0.3, 0.7, 1.2])(
    'of a lognormal keeps to its closed form at spread %f (SC-2)',
    (logSd) => {
      for (const trueMin of [0.5, 6, 14, 19.99, 20, 23, 40, 700]) {
        const expected = closedCrpsOfLognormal(Math.log(20), logSd, trueMin);
        expect(Math.abs(crpsOfLognormal(Math.log(20), logSd, trueMin) / expected - 1)).toBeLessThan(1e-9);
      }
    },
  );
});

describe('the example of a library', () => {
  // SC-3: test-suite of the Python library uncertainty-toolbox (MIT), seen.
  const forecasts = [
    { mean: 1, sd: 0.1, trueValue: 1.5 },
    { mean: 2, sd: 0.5, trueValue: 3 },
    { mean: 3, sd: 1, trueValue: 2 },
  ];
  const levels = Array.from({ length: 99 }, (_, index) => (index + 1) / 100);
  const { library_example: theirs } = reference;
  const averageOver = (score: (forecast: (typeof forecasts)[number]) => number): number =>
    meanOf(forecasts.map(score)) ?? Number.NaN;

  it('has the same mean score', () => {
    const mine = averageOver(({ mean, sd, trueValue }) => crpsOfNormal(mean, sd, trueValue));
    expect(Math.abs(mine - theirs.mean_crps)).toBeLessThan(1e-9);
  });

  it('has the same pinball loss over 99 quantiles', () => {
    const mine = averageOver(({ mean, sd, trueValue }) => {
      const losses = levels.map((probability) =>
        pinballLoss({ probability, forecastValue: mean + sd * normalQuantile(probability), trueValue }),
      );
      return meanOf(losses) ?? Number.NaN;
    });
    expect(Math.abs(mine - theirs['mean_check_score_99_quantiles_0.01_to_0.99'])).toBeLessThan(1e-9);
  });

  it('has the same interval score over 99 levels', () => {
    const mine = averageOver(({ mean, sd, trueValue }) => {
      const scores = levels.map((level) => {
        const reach = sd * normalQuantile(0.5 + level / 2);
        return intervalScore({
          low: mean - reach,
          high: mean + reach,
          missProbability: 1 - level,
          trueValue,
        });
      });
      return meanOf(scores) ?? Number.NaN;
    });
    expect(Math.abs(mine - theirs['mean_interval_score_99_central_levels_0.01_to_0.99'])).toBeLessThan(1e-9);
  });

  it('has the same likelihood, once the density of a time is that of its logarithm', () => {
    const mine = averageOver(({ mean, sd, trueValue }) => {
      const law = { meanLogMin: mean, logSd: sd };
      return -intervalLogLikelihood({ lowLogMin: trueValue, highLogMin: trueValue, ...law }) - trueValue;
    });
    expect(Math.abs(mine - theirs.mean_nll)).toBeLessThan(1e-12);
  });
});

describe('the plain losses', () => {
  // SC-4: definition (Winkler 1972).
  it.each(reference.interval_score.rows as [number, number, number, number, number][])(
    'of the interval %f to %f missing %f at %f are %f',
    (low, high, missProbability, trueValue, expected) => {
      expect(intervalScore({ low, high, missProbability, trueValue })).toBeCloseTo(expected, 12);
    },
  );

  // SC-5: definition.
  it.each(reference.pinball.rows as Row[])(
    'of the quantile %f told as %f at %f are %f',
    (probability, forecastValue, trueValue, expected) => {
      expect(pinballLoss({ probability, forecastValue, trueValue })).toBeCloseTo(expected, 12);
    },
  );
});

describe('the bounds of a count', () => {
  // SC-7: definitions.
  it.each(reference.coverage.clopperPearson95.rows as Row[])(
    'of %i in %i are %f and %f by Clopper and Pearson',
    (hitsCount, triesCount, low, high) => {
      const bounds = clopperPearsonBounds({ hitsCount, triesCount });
      expect(Math.abs(bounds.low - low)).toBeLessThan(1e-8);
      expect(Math.abs(bounds.high - high)).toBeLessThan(1e-8);
    },
  );

  it.each(reference.coverage.wilson95.rows as Row[])(
    'of %i in %i are %f and %f by Wilson (SC-7)',
    (hitsCount, triesCount, low, high) => {
      const bounds = wilsonBounds({ hitsCount, triesCount });
      expect(Math.abs(bounds.low - low)).toBeLessThan(1e-8);
      expect(Math.abs(bounds.high - high)).toBeLessThan(1e-8);
    },
  );

  // SC-8: binomial quantiles by SciPy.
  it.each(reference.coverage.acceptance95.rows as Row[])(
    'in %i tries at %f go from %i to %i',
    (triesCount, probability, low, high) => {
      expect(credibleHits({ probability, triesCount })).toEqual({ low, high });
    },
  );
});
