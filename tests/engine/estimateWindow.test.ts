// The window: ordered, moved the right way by checks, honest about what may never come.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  BEAD_UNCERTAINTY,
  type CheckSeen,
  DEFAULT_WINDOW_PRIOR,
  estimateWindow,
  Fault,
  type FilmJob,
  solveBatch,
  type TestWindow,
  type WindowPrior,
} from '../../server/engine/index.ts';
import { checkLikelihood } from '../../server/engine/checkLikelihood.ts';
import { interpolateRising } from '../../server/engine/interpolateRising.ts';
import { normalDensity, normalProbability } from '../../server/engine/normal.ts';
import { CROWDS_COUNT, crowdOf } from './crowdOf.ts';
import { bodyConstants, bodyFiller, fixed, lampMinWPerM2, lamplessJob, plainJob } from './samples.ts';

function windowOf(change: Partial<FilmJob> = {}, checks: readonly CheckSeen[] = []): TestWindow {
  return estimateWindow({
    card: bodyFiller,
    constants: bodyConstants,
    job: { ...plainJob, ...change },
    checks,
  });
}

const minute = (at: number | null): number => at ?? Infinity;
const few = { ...fixed, numRuns: 40 };

describe('a window', () => {
  it.each([
    [-14, { thicknessMm: 1, lamp: [5, 7, 3000] }, { p10: true, p90: false }],
    [-14, { thicknessMm: 4, lamp: [5, 12, 1500] }, { p10: true, p90: false }],
    [-11, { thicknessMm: 1, lamp: [5, 8, 2000] }, { p10: true, p90: false }],
    [-11, { thicknessMm: 4, lamp: [5, 7, 3000] }, { p10: true, p90: false }],
    [-14, { thicknessMm: 4, lamp: [5, 7, 3000] }, { p10: false, p90: false }],
    [-8, { thicknessMm: 4, lamp: [5, 12, 1500] }, { p10: true, p90: true }],
  ] as const)(
    'at %d °C under a lamp for minutes tells whether a film is ever ready: %j',
    (airC, { thicknessMm, lamp }, isTold) => {
      const frost = { airC: [[0, airC]] as const, thicknessMm, hardenerPct: 1.5 };
      const { p10Min, p90Min } = windowOf({ ...frost, lampMinWPerM2: [lamp] });
      expect({ p10: p10Min !== null, p90: p90Min !== null }).toEqual(isTold);
      expect(minute(p10Min)).toBeLessThanOrEqual(minute(windowOf(frost).p10Min));
    },
  );

  it.each(Array.from({ length: CROWDS_COUNT }, (_, index) => index))(
    'has a chance that never falls with time and agrees with its quantiles, batch %i',
    (index) => {
      const { job, prior, checks } = crowdOf(index);
      const window = estimateWindow({ card: bodyFiller, constants: bodyConstants, job, prior, checks });
      const quantilesMin = [0.05, 0.1, 0.5, 0.8, 0.9].map((probability) =>
        minute(window.quantileMin(probability)),
      );
      expect(quantilesMin).toEqual(quantilesMin.toSorted((a, b) => a - b));
      expect([minute(window.p10Min), minute(window.p50Min), minute(window.p90Min)]).toEqual([
        quantilesMin[1],
        quantilesMin[2],
        quantilesMin[4],
      ]);
    },
  );

  it('has its median at the median film, and its ends ordered around it', () => {
    fc.assert(
      fc.property(lamplessJob, (job) => {
        const window = windowOf(job);
        const { testMin } = solveBatch(bodyFiller, bodyConstants, job);
        expect(minute(window.p10Min)).toBeLessThan(minute(window.p50Min));
        expect(minute(window.p50Min)).toBeLessThan(minute(window.p90Min));
        expect(Math.abs(minute(window.p50Min) / minute(testMin) - 1)).toBeLessThan(0.03);
        expect(minute(window.buildP50Min)).toBeLessThanOrEqual(minute(window.p50Min) * 1.001);
        expect(minute(window.edgeP50Min)).toBeLessThanOrEqual(minute(window.p50Min) * 1.001);
      }),
      few,
    );
  });

  it('is as wide as its scatter says at the temperature of the card', () => {
    const { p10Min, p90Min } = windowOf({ thicknessMm: 0.5 });
    const sd = Math.hypot(DEFAULT_WINDOW_PRIOR.logTimeScaleSd, DEFAULT_WINDOW_PRIOR.logScatterSd);
    // A film that takes longer warms itself a little less, so its time answers a little more than in proportion.
    expect(Math.log(minute(p90Min) / minute(p10Min)) / (2 * 1.2816 * sd)).toBeGreaterThan(0.99);
    expect(Math.log(minute(p90Min) / minute(p10Min)) / (2 * 1.2816 * sd)).toBeLessThan(1.15);
  });

  it('is wider far from the temperature of the card', () => {
    const widthOf = ({ p10Min, p90Min }: TestWindow): number => minute(p90Min) / minute(p10Min);
    expect(widthOf(windowOf({ airC: [[0, 8]] }))).toBeGreaterThan(widthOf(windowOf()) * 1.05);
  });

  it('inverts its own quantiles and never falls', () => {
    const window = windowOf();
    for (const probability of [0.02, 0.1, 0.37, 0.5, 0.8, 0.95]) {
      expect(window.probabilityAtMin(minute(window.quantileMin(probability)))).toBeCloseTo(probability, 6);
    }
    expect(window.quantileMin(0.5)).toBe(window.p50Min);
    expect(window.probabilityAtMin(0)).toBe(0);
    expect(window.probabilityAtMin(1)).toBe(0);
    expect(window.probabilityAtMin(700)).toBe(1);
  });

  it('gives the same answer twice', () => {
    const job = { airC: [[0, 12]] as const };
    const { p10Min, p50Min, p90Min } = windowOf(job);
    windowOf({ thicknessMm: 6 });
    expect(windowOf(job)).toMatchObject({ p10Min, p50Min, p90Min });
  });

  it('takes a belief of its own', () => {
    const prior = { ...DEFAULT_WINDOW_PRIOR, logTimeScale: Math.log(1.3), activationMeanKJPerMol: 50 };
    const window = estimateWindow({ card: bodyFiller, constants: bodyConstants, job: plainJob, prior });
    const { testMin } = solveBatch(bodyFiller, bodyConstants, { ...plainJob, timeScale: 1.3 });
    expect(Math.abs(minute(window.p50Min) / minute(testMin) - 1)).toBeLessThan(0.02);
    const none = { ...DEFAULT_WINDOW_PRIOR, activationSdKJPerMol: 0 };
    expect(() =>
      estimateWindow({ card: bodyFiller, constants: bodyConstants, job: plainJob, prior: none }),
    ).toThrow(Fault);
  });

  it('keeps to the given constants where an unlikely activation energy cannot meet the card', () => {
    const card = { ...bodyFiller, thicknessMm: 6, workingMin: 3.4, sandMin: 17.5 };
    const prior = { ...DEFAULT_WINDOW_PRIOR, activationSdKJPerMol: 60 };
    const window = estimateWindow({ card, constants: bodyConstants, job: plainJob, prior });
    expect(minute(window.p10Min)).toBeLessThan(minute(window.p50Min));
  });
});

describe('a window after checks', () => {
  it('is never earlier after gums and never later after powders', () => {
    fc.assert(
      fc.property(lamplessJob, fc.double({ min: 0.5, max: 1.6, noNaN: true }), (job, part) => {
        const before = windowOf(job);
        const atMin = part * minute(before.p50Min);
        const gums = windowOf(job, [{ atMin, outcome: 'gums' }]);
        const powders = windowOf(job, [{ atMin, outcome: 'powders' }]);
        expect(minute(gums.p50Min)).toBeGreaterThanOrEqual(minute(before.p50Min) - 1e-9);
        expect(minute(powders.p50Min)).toBeLessThanOrEqual(minute(before.p50Min) + 1e-9);
        for (const window of [gums, powders]) {
          expect(minute(window.p10Min)).toBeLessThan(minute(window.p50Min));
          expect(minute(window.p50Min)).toBeLessThan(minute(window.p90Min));
        }
      }),
      few,
    );
  });

  it('stays wide, never empty, when two of them contradict', () => {
    const both = windowOf({}, [
      { atMin: 16, outcome: 'powders' },
      { atMin: 24, outcome: 'gums' },
    ]);
    expect(minute(both.p90Min) / minute(both.p10Min)).toBeGreaterThan(1.5);
    expect(both.p50Min).toBeGreaterThan(12);
    expect(both.p50Min).toBeLessThan(30);
  });

  it('gives a tester 3 of 100 mistakes and 5 % in time', () => {
    const ready = Math.log(20);
    expect(checkLikelihood({ atMin: 20, outcome: 'powders' }, ready)).toBeCloseTo(0.5, 12);
    expect(checkLikelihood({ atMin: 200, outcome: 'gums' }, ready)).toBeCloseTo(0.03, 12);
    expect(checkLikelihood({ atMin: 0, outcome: 'powders' }, ready)).toBeCloseTo(0.03, 12);
    expect(checkLikelihood({ atMin: 20, outcome: 'gums' }, Infinity)).toBeCloseTo(0.97, 12);
    const oneSdLater = checkLikelihood({ atMin: 20 * Math.exp(0.05), outcome: 'powders' }, ready);
    expect(oneSdLater).toBeCloseTo(0.03 + 0.94 * 0.841_344_746, 8);
  });
});

/** A belief learned anywhere in the range in which learning ends, over a batch dosed by bead. */
const learned: fc.Arbitrary<WindowPrior> = fc.record({
  logTimeScale: between(-0.25, 0.3),
  logTimeScaleSd: between(0.02, 0.12),
  activationMeanKJPerMol: between(38, 56),
  activationSdKJPerMol: between(2, 8),
  logTimeScaleTiltRatio: between(-0.05, 0.02),
  logScatterSd: between(0.06, 0.2),
  logScatterLogSd: between(0.05, 0.35),
  film: fc.constant(BEAD_UNCERTAINTY),
});
const belief = fc.oneof(fc.constant({ ...DEFAULT_WINDOW_PRIOR, film: BEAD_UNCERTAINTY }), learned);
/** Some jobs stay cool, some heat themselves, some stand under a lamp. */
const anyJob: fc.Arbitrary<FilmJob> = fc
  .tuple(lamplessJob, fc.option(lampMinWPerM2, { nil: [], freq: 2 }))
  .map(([job, lamps]) => ({ ...job, lampMinWPerM2: lamps }));

function between(min: number, max: number): fc.Arbitrary<number> {
  return fc.double({ min, max, noNaN: true });
}

function believedWindow(job: FilmJob, prior: WindowPrior, checks: readonly CheckSeen[] = []): TestWindow {
  return estimateWindow({ card: bodyFiller, constants: bodyConstants, job, prior, checks });
}

function expectOrdered({ p10Min, p50Min, p90Min, probabilityAtMin }: TestWindow): void {
  // Null stands for "never", and nothing comes after it.
  if (p50Min !== null) expect(p10Min).toBeLessThan(p50Min);
  if (p90Min !== null) expect(p50Min).toBeLessThan(p90Min);
  for (const atMin of [p10Min, p50Min, p90Min]) {
    expect(atMin === null || (atMin > 0 && atMin <= 720)).toBe(true);
  }
  expect(probabilityAtMin(720)).toBeGreaterThanOrEqual(0);
  expect(probabilityAtMin(720)).toBeLessThanOrEqual(1);
}

describe('a window with all that is not measured, and a belief', () => {
  it('is never earlier after gums, never later after powders, and ordered', () => {
    fc.assert(
      fc.property(anyJob, belief, between(0.4, 1.8), (job, prior, part) => {
        const before = believedWindow(job, prior);
        expectOrdered(before);
        const atMin = part * (before.p50Min ?? 300);
        const gums = believedWindow(job, prior, [{ atMin, outcome: 'gums' }]);
        const powders = believedWindow(job, prior, [{ atMin, outcome: 'powders' }]);
        expectOrdered(gums);
        expectOrdered(powders);
        expect(minute(gums.p50Min)).toBeGreaterThanOrEqual(minute(before.p50Min) - 1e-9);
        expect(minute(powders.p50Min)).toBeLessThanOrEqual(minute(before.p50Min) + 1e-9);
      }),
      few,
    );
  });

  it('stays a window whatever checks contradict each other', () => {
    const check: fc.Arbitrary<CheckSeen> = fc.record({
      atMin: fc.oneof(fc.constantFrom(0, 1e-9, 5000), between(0, 720)),
      outcome: fc.constantFrom('gums' as const, 'powders' as const),
    });
    const checks = fc.oneof(
      fc.array(check, { maxLength: 6 }),
      check.map((one) => Array.from({ length: 6 }, () => one)),
    );
    fc.assert(
      fc.property(anyJob, belief, checks, (job, prior, seen) => {
        const window = believedWindow(job, prior, seen);
        expectOrdered(window);
        for (const probability of [0.001, 0.3, 0.8, 0.999]) {
          const atMin = window.quantileMin(probability);
          const by = window.probabilityAtMin(atMin ?? 720);
          if (atMin === null) expect(by).toBeLessThan(probability);
          else expect(by).toBeCloseTo(probability, 6);
        }
      }),
      few,
    );
  });
});

describe('a window of a film that may stall', () => {
  it('has no quantile where "never" begins', () => {
    const window = windowOf({ airC: [[0, -8]], hardenerPct: 1 });
    expect(window.p10Min).not.toBeNull();
    expect(window.p90Min).toBeNull();
    expect(window.probabilityAtMin(720)).toBeLessThan(0.9);
  });

  it('has none at all when every member stalls', () => {
    expect(windowOf({ airC: [[0, -40]] })).toMatchObject({
      p10Min: null,
      p50Min: null,
      p90Min: null,
      edgeP50Min: null,
    });
  });
});

describe('a rising curve', () => {
  const grid = { count: 61, max: 100 };

  it('goes through its points and never falls between them', () => {
    const curve = interpolateRising([0, 1, 2, 3], [1, 2, 2, 7], grid);
    expect([curve[0], curve[20], curve[40], curve[60]]).toEqual([1, 2, 2, 7]);
    curve.forEach((value, index) => expect(value).toBeGreaterThanOrEqual(curve[index - 1] ?? 1));
  });

  it('lifts a falling point to the one before it', () => {
    const curve = interpolateRising([0, 1, 2, 3], [1, 3, 2, 4], grid);
    expect(curve[40]).toBe(3);
  });

  it('goes on straight past its last point until the largest value, and is infinite from there', () => {
    const curve = interpolateRising([0, 1, 2, 3], [90, 98, Infinity, Infinity], grid);
    expect(curve[24]).toBeCloseTo(99.6, 9);
    expect(curve[26]).toBe(Infinity);
    expect(interpolateRising([0, 1], [Infinity, Infinity], grid)[0]).toBe(Infinity);
  });
});

describe('a rising curve that ends', () => {
  it('ends half way to the first point that has none, unless it would have reached the largest value', () => {
    const curve = interpolateRising([0, 1, 2, 3], [20, 22, Infinity, Infinity], { count: 61, max: 100 });
    expect([curve[30], curve[31]]).toEqual([23, Infinity]);
    expect([...interpolateRising([0, 1], [5, Infinity], { count: 4, max: 9 })]).toEqual([
      5,
      5,
      Infinity,
      Infinity,
    ]);
  });
});

describe('the normal distribution', () => {
  // Abramowitz & Stegun, table 26.1 (memory), and the tail by its asymptotic series.
  it.each([
    [0, 0.5],
    [1, 0.841_344_746_068_543],
    [-1.959_963_984_540_054, 0.025],
    [3, 0.998_650_101_968_37],
    [-8, 6.220_960_574_271_785e-16],
  ])('below %f has the tabled probability', (z, probability) => {
    expect(Math.abs(normalProbability(z) / probability - 1)).toBeLessThan(1e-7);
  });

  it('has nothing beyond 37 deviations', () => {
    expect([normalProbability(38), normalProbability(-38)]).toEqual([1, 0]);
    expect(normalDensity(0)).toBeCloseTo(0.398_942_280_401, 12);
  });
});
