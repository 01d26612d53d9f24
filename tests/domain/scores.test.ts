// What the scores reward: honest forecasts, narrow ones, and truths where they were expected.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  brierScore,
  coverageOf,
  crpsOfWindow,
  type ForecastWindow,
  intervalScore,
  meanOf,
  pinballLoss,
} from '../../server/domain/scores.ts';

const skewed: ForecastWindow = { p10Min: 16, p50Min: 20, p90Min: 31 };

/** Quantiles of a window at the middles of so many equal shares. */
function quantilesOf(window: ForecastWindow, count: number): number[] {
  const early = Math.log(window.p50Min / window.p10Min) / 1.281_551_565_544_600_4;
  const late = Math.log(window.p90Min / window.p50Min) / 1.281_551_565_544_600_4;
  return Array.from({ length: count }, (_, index) => {
    const z = quantileZ((index + 0.5) / count);
    return window.p50Min * Math.exp(z * (z < 0 ? early : late));
  });
}

/** Hastings' rational form, within 4.5e-4 (Abramowitz, Stegun 1964, 26.2.23; from memory). */
function quantileZ(probability: number): number {
  const t = Math.sqrt(-2 * Math.log(Math.min(probability, 1 - probability)));
  const z =
    t -
    (2.515_517 + t * (0.802_853 + t * 0.010_328)) / (1 + t * (1.432_788 + t * (0.189_269 + t * 0.001_308)));
  return probability < 0.5 ? -z : z;
}

describe('the score of a window', () => {
  it.each([2, 15, 20, 20.001, 27, 300])(
    'is the mean distance less half the mean difference at %f min',
    (trueMin) => {
      // The other definition: E|X − y| − ½ E|X − X′| (Gneiting and Raftery 2007), by 20,000 even quantiles.
      const values = quantilesOf(skewed, 20_000);
      const distance = values.reduce((sum, value) => sum + Math.abs(value - trueMin), 0) / values.length;
      const differences = values.reduce((sum, value, at) => sum + value * (2 * at + 1 - values.length), 0);
      const expected = distance - differences / values.length ** 2;
      expect(Math.abs(crpsOfWindow({ window: skewed, trueMin }) - expected)).toBeLessThan(2e-3);
    },
  );

  it('is the plain error of a sure forecast, on both sides', () => {
    const sure = { p10Min: 20, p50Min: 20, p90Min: 20 };
    for (const trueMin of [12, 20, 29]) {
      expect(crpsOfWindow({ window: sure, trueMin })).toBeCloseTo(Math.abs(trueMin - 20), 9);
    }
    expect(crpsOfWindow({ window: sure, trueMin: 0 })).toBeCloseTo(20, 9);
  });

  it('scales with the unit of time', () => {
    const { p10Min, p50Min, p90Min } = skewed;
    const inSeconds = { p10Min: 60 * p10Min, p50Min: 60 * p50Min, p90Min: 60 * p90Min };
    const score = crpsOfWindow({ window: skewed, trueMin: 25 });
    expect(crpsOfWindow({ window: inSeconds, trueMin: 1500 })).toBeCloseTo(60 * score, 9);
  });

  it('is smallest on average for the window that the truths came from', () => {
    const truths = quantilesOf(skewed, 400);
    const averageOf = (window: ForecastWindow): number =>
      meanOf(truths.map((trueMin) => crpsOfWindow({ window, trueMin }))) ?? Number.NaN;
    const honest = averageOf(skewed);
    for (const other of [
      { ...skewed, p90Min: 36 },
      { ...skewed, p90Min: 27 },
      { ...skewed, p10Min: 13 },
      { ...skewed, p10Min: 18 },
      { p10Min: 17, p50Min: 21.5, p90Min: 33 },
      { p10Min: 14.5, p50Min: 18.5, p90Min: 29 },
    ]) {
      expect(averageOf(other)).toBeGreaterThan(honest + 0.01);
    }
  });
});

describe('the other losses', () => {
  it('weigh a quantile so that it is worth naming honestly', () => {
    const truths = Array.from({ length: 100 }, (_, index) => index + 0.5);
    const lossAt = (forecastValue: number): number =>
      meanOf(truths.map((trueValue) => pinballLoss({ probability: 0.8, forecastValue, trueValue }))) ?? 0;
    fc.assert(
      fc.property(fc.double({ min: -20, max: 120, noNaN: true }), (value) => {
        expect(lossAt(value)).toBeGreaterThanOrEqual(lossAt(80) - 1e-12);
      }),
      { seed: 6 },
    );
    expect(pinballLoss({ probability: 0.8, forecastValue: 5, trueValue: 5 })).toBe(0);
  });

  it('are for an interval the two pinball losses of its ends, doubled and shared', () => {
    for (const trueValue of [3, 10, 14, 20, 26]) {
      const low = pinballLoss({ probability: 0.1, forecastValue: 10, trueValue });
      const high = pinballLoss({ probability: 0.9, forecastValue: 20, trueValue });
      const score = intervalScore({ low: 10, high: 20, missProbability: 0.2, trueValue });
      expect(score).toBeCloseTo((2 / 0.2) * (low + high), 12);
    }
  });

  it('are squares for an event, and a quarter for whoever never decides', () => {
    const events = [true, false, false].map((hasHappened) => ({ probability: 0.5, hasHappened }));
    expect(brierScore(events)).toBe(0.25);
    // Brier 1950 as halved by later practice: one class only.
    expect(
      brierScore([
        { probability: 0.9, hasHappened: true },
        { probability: 0.8, hasHappened: false },
        { probability: 1, hasHappened: true },
      ]),
    ).toBeCloseTo((0.01 + 0.64) / 3, 12);
    expect(brierScore([])).toBeNull();
  });

  it('count a truth at the border of its window as met', () => {
    const scored = [15.99, 16, 20, 31, 31.01].map((trueMin) => ({ window: skewed, trueMin }));
    expect(coverageOf(scored)).toBe(3 / 5);
    expect(coverageOf([])).toBeNull();
  });

  it('have no mean where there is none', () => {
    expect(meanOf([])).toBeNull();
    expect(meanOf([1, 2, 6])).toBe(3);
  });
});
