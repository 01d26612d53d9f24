// What lessons teach of a product: it is found again when it made them, and nothing absurd comes of absurd ones.
import { describe, expect, it } from 'vitest';
import { learnProduct, type ProductBelief, type ScaleLesson } from '../../server/engine/index.ts';
import synthetic from '../fixtures/reference/interval-lognormal.json' with { type: 'json' };
import { drawsFrom } from '../support/domainFixtures.ts';
import { bodyFiller } from './samples.ts';

/** A product as it truly is. */
interface Truth {
  readonly logScale: number;
  readonly activationKJPerMol: number;
  readonly scatterLogSd: number;
}

const CARDS_OWN: Truth = { logScale: 0, activationKJPerMol: 46, scatterLogSd: 0.13 };
const WITHIN_LOG_SD = 0.08;
const BRACKET = 0.15;
/** Where a lesson is told, in standard deviations of 8 kJ/mol about the card's own energy. */
const MEMBERS_Z = [-2.8, -1.4, 0, 1.4, 2.8];

/** Arrhenius' covariate, 0 at the card's 20 °C. */
const coldOf = (airC: number): number => (1 / (airC + 273.15) - 1 / 293.15) / 8.314_462_618e-3;

/** The same scale at each energy: the colder it was, the more a higher energy explains. */
const toldAt = (logScale: number, airC: number): number[] =>
  MEMBERS_Z.map((z) => logScale - 8 * z * coldOf(airC));

/** One batch of a product in some air, tested when it had gummed and again a bracket later. */
function lessonOf(lowLogScale: number, airC: number, more: Partial<ScaleLesson> = {}): ScaleLesson {
  return {
    weight: 1,
    withinLogSd: WITHIN_LOG_SD,
    branches: [
      {
        share: 1,
        lowLogScales: toldAt(lowLogScale, airC),
        highLogScales: toldAt(lowLogScale + BRACKET, airC),
      },
    ],
    ...more,
  };
}

function lessonsOf(truth: Truth, count: number, { seed = 1, airs = [12, 26] } = {}): ScaleLesson[] {
  const draws = drawsFrom(seed);
  return Array.from({ length: count }, (_, index) => {
    const airC = airs[index % airs.length] as number;
    const tilted = (truth.activationKJPerMol - 46) * coldOf(airC);
    const own = truth.logScale + tilted + Math.hypot(truth.scatterLogSd, WITHIN_LOG_SD) * draws.normal();
    return lessonOf(own - BRACKET * draws.even(), airC);
  });
}

const learn = (lessons: readonly ScaleLesson[]): ProductBelief => learnProduct(bodyFiller, lessons);
/** Of ln scale, whatever the energy. */
const logScaleSdOf = (belief: ProductBelief): number =>
  Math.hypot(belief.logTimeScaleSd, belief.logTimeScaleTiltRatio);

describe('a product', () => {
  it('of which nothing was seen is what its card says', () => {
    const belief = learn([]);
    expect(belief.logTimeScale).toBeCloseTo(0, 9);
    expect(belief.logTimeScaleTiltRatio).toBeCloseTo(0, 9);
    expect(belief.activationMeanKJPerMol).toBeCloseTo(46, 9);
    // MODEL §5's priors, within the accuracy of the grid.
    const near = (value: number, prior: number): void =>
      expect(Math.abs(value / prior - 1)).toBeLessThan(0.03);
    near(belief.logTimeScaleSd, 0.12);
    near(belief.activationSdKJPerMol, 8);
    near(belief.logScatterSd, 0.13);
    near(belief.logScatterLogSd, 0.35);
    expect(belief.fromIndex).toBe(0);
  });

  it.each<Truth>([
    CARDS_OWN,
    { logScale: 0.2, activationKJPerMol: 50, scatterLogSd: 0.1 },
    { logScale: -0.15, activationKJPerMol: 38, scatterLogSd: 0.2 },
    { logScale: 0.05, activationKJPerMol: 58, scatterLogSd: 0.16 },
  ])('of $logScale, $activationKJPerMol kJ/mol and $scatterLogSd is found in its batches', (truth) => {
    for (const [count, seed] of [
      [20, 21],
      [80, 22],
      [200, 23],
      [200, 24],
    ] as const) {
      const belief = learn(lessonsOf(truth, count, { seed, airs: [9, 15, 21, 28] }));
      const offBySds = [
        (belief.logTimeScale - truth.logScale) / logScaleSdOf(belief),
        (belief.activationMeanKJPerMol - truth.activationKJPerMol) / belief.activationSdKJPerMol,
        Math.log(belief.logScatterSd / truth.scatterLogSd) / belief.logScatterLogSd,
      ];
      for (const off of offBySds) expect(Math.abs(off)).toBeLessThan(3);
    }
  });

  it('is known the better the more batches there were', () => {
    const beliefs = [0, 10, 40, 160].map((count) => learn(lessonsOf(CARDS_OWN, count)));
    for (const sdOf of [
      logScaleSdOf,
      (belief: ProductBelief) => belief.activationSdKJPerMol,
      (belief: ProductBelief) => belief.logScatterLogSd,
    ]) {
      const sds = beliefs.map(sdOf);
      expect(sds).toEqual(sds.toSorted((a, b) => b - a));
      expect(new Set(sds).size).toBe(4);
    }
    expect(logScaleSdOf(beliefs[3] as ProductBelief)).toBeLessThan(0.03);
  });

  it('whose batches are much alike, or much apart, is believed to be so', () => {
    const scatterOf = (scatterLogSd: number): number =>
      learn(lessonsOf({ ...CARDS_OWN, scatterLogSd }, 100)).logScatterSd;
    expect(scatterOf(0.05)).toBeLessThan(0.1);
    expect(scatterOf(0.3)).toBeGreaterThan(0.2);
  });

  it('is known from one cold air only as scale and energy together, from two airs apart', () => {
    const truth = { ...CARDS_OWN, logScale: 0.1 };
    const cold = learn(lessonsOf(truth, 80, { airs: [8] }));
    // At 8 °C, 8 kJ/mol explain as much as 14 % of time do.
    expect(cold.logTimeScaleTiltRatio).toBeLessThan(-0.05);
    expect(cold.activationSdKJPerMol).toBeGreaterThan(5);
    expect(cold.logTimeScaleSd).toBeLessThan(0.05);
    const both = learn(lessonsOf(truth, 80, { airs: [8, 24] }));
    expect(Math.abs(both.logTimeScaleTiltRatio)).toBeLessThan(0.02);
    expect(both.activationSdKJPerMol).toBeLessThan(3.5);
  });

  // INT-1: thirty rows of our own, fitted by R survival 3.5-3, survreg(Surv(…, type = "interval2")). Told often enough
  // that priors hardly count, the middle of what is learned is R's maximum; the hardener's share is taken as R has it.
  it('is where R finds it', () => {
    const { coef, scale } = synthetic.fits.A_rows_1_to_30_no_exact;
    const [intercept = 0, energyKJPerMol = 0, hardener = 0] = coef;
    const rows = synthetic.rows as [number, number, number, number, number | null][];
    const once = rows.slice(0, 30).map(([, airC, hardenerPct, lowMin, highMin]): ScaleLesson => {
      const told = (atMin: number): number[] =>
        MEMBERS_Z.map(
          (z) =>
            Math.log(atMin) - intercept - hardener * Math.log(hardenerPct / 2) - (46 + 8 * z) * coldOf(airC),
        );
      const lowLogScales = lowMin === 0 ? null : told(lowMin);
      const highLogScales = highMin === null ? null : told(highMin);
      return { weight: 1, withinLogSd: 0, branches: [{ share: 1, lowLogScales, highLogScales }] };
    });
    const belief = learn(Array.from({ length: 20 }, () => once).flat());
    expect(Math.abs(belief.logTimeScale)).toBeLessThan(0.01);
    expect(Math.abs(belief.activationMeanKJPerMol - energyKJPerMol)).toBeLessThan(0.5);
    expect(Math.abs(belief.logScatterSd / scale - 1)).toBeLessThan(0.05);
  });
});

describe('a lesson', () => {
  const lessons = lessonsOf({ ...CARDS_OWN, logScale: 0.1 }, 12);

  it('counts the same whenever it was taken', () => {
    const [forth, back] = [learn(lessons), learn(lessons.toReversed())];
    for (const key of Object.keys(forth) as (keyof ProductBelief)[])
      expect(back[key]).toBeCloseTo(forth[key], 9);
  });

  it('without weight changes nothing', () => {
    const [before, after] = [learn(lessons), learn([lessonOf(-0.9, 30, { weight: 0 }), ...lessons])];
    expect(after).toEqual(before);
  });

  it('fades: of half its weight it moves the belief less', () => {
    const meanAt = (weight: number): number =>
      learn(lessonsOf({ ...CARDS_OWN, logScale: 0.3 }, 7).map((lesson) => ({ ...lesson, weight })))
        .logTimeScale;
    const means = [0, 0.1, 0.5, 1].map(meanAt);
    expect(means).toEqual(means.toSorted((a, b) => a - b));
    expect(means[0]).toBeCloseTo(0, 9);
    expect(Number(means[3])).toBeGreaterThan(Number(means[1]) + 0.03);
  });

  const open = (lowLogScales: number[] | null, highLogScales: number[] | null): ScaleLesson => ({
    weight: 1,
    withinLogSd: 0.1,
    branches: [{ share: 1, lowLogScales, highLogScales }],
  });
  const all = (value: number): number[] => MEMBERS_Z.map(() => value);

  it.each<[string, ScaleLesson[]]>([
    ['that say nothing', Array.from({ length: 30 }, () => open(null, null))],
    ['whose ends are swapped', Array.from({ length: 30 }, () => open(all(0.4), all(-0.4)))],
    ['beyond every scale', Array.from({ length: 30 }, () => open(all(9), all(9)))],
    ['below every scale', Array.from({ length: 30 }, () => open(null, all(-9)))],
    [
      'that are open at some energies',
      Array.from({ length: 30 }, () => open([-9, -9, -0.1, 0, 0.1], [-9, 0.1, 0.2, 9, 9])),
    ],
    [
      'that contradict each other',
      Array.from({ length: 40 }, (_, index) =>
        index % 2 === 0 ? open(all(0.5), null) : open(null, all(-0.5)),
      ),
    ],
    [
      'all seen to the minute',
      Array.from({ length: 200 }, () => ({ ...open(all(0.1), all(0.1)), withinLogSd: 0 })),
    ],
    [
      'that all speak for one far energy',
      Array.from({ length: 600 }, (_, index) => {
        const airC = index % 2 === 0 ? 0 : 38;
        const { branches } = lessonOf(22 * coldOf(airC) - BRACKET / 2, airC);
        return { weight: 1, withinLogSd: 0, branches };
      }),
    ],
    [
      'of no width, a thousand of them',
      Array.from({ length: 1000 }, (_, index) =>
        open(all(index < 500 ? -0.7 : 0.6), all(index < 500 ? -0.6 : 0.7)),
      ),
    ],
  ])('of a set %s leaves a belief that windows can start from', (_, absurd) => {
    const belief = learn(absurd);
    for (const value of Object.values(belief)) expect(Number.isFinite(value)).toBe(true);
    expect(Math.abs(belief.logTimeScale)).toBeLessThan(1);
    for (const sd of [belief.logTimeScaleSd, belief.activationSdKJPerMol, belief.logScatterSd])
      expect(sd).toBeGreaterThan(0);
  });

  it('of nothing seen leaves the prior as it was', () => {
    const belief = learn(Array.from({ length: 30 }, () => open(null, null)));
    const prior = learn([]);
    for (const key of Object.keys(prior) as (keyof ProductBelief)[])
      expect(belief[key]).toBeCloseTo(prior[key], 9);
  });
});

describe('a product that changed', () => {
  it('is learned from the batches since, and may then be further from its card', () => {
    const before = lessonsOf({ ...CARDS_OWN, logScale: -0.1 }, 30, { seed: 5 });
    const after = lessonsOf({ ...CARDS_OWN, logScale: 0.3 }, 12, { seed: 6 });
    const belief = learn([...before, ...after]);
    expect(Math.abs(belief.fromIndex - 30)).toBeLessThanOrEqual(1);
    expect(Math.abs(belief.logTimeScale - 0.3)).toBeLessThan(3 * logScaleSdOf(belief));
    expect(belief.logTimeScale).toBeGreaterThan(0.2);
    expect(learn([...after, ...before]).logTimeScale).toBeLessThan(0);
  });
});
