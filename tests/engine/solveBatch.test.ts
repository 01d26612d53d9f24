// Build and edge together, and the reasons why they take what they take.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type FilmJob, solveBatch, splitReasons } from '../../server/engine/index.ts';
import { bodyConstants, bodyFiller, fixed, lamplessJob, lampMinWPerM2, plainJob } from './samples.ts';

const batch = (change: Partial<FilmJob> = {}) =>
  solveBatch(bodyFiller, bodyConstants, { ...plainJob, ...change });
const split = (change: Partial<FilmJob> = {}) =>
  splitReasons({ card: bodyFiller, constants: bodyConstants, job: { ...plainJob, ...change } });
const minutesOf = (change: Partial<FilmJob>, code: string): number | undefined =>
  split(change).parts.find((part) => part.code === code)?.minutes;

describe('a batch', () => {
  it('waits for its edge in usual air, 15 to 20 minutes on the common card', () => {
    const { sandMin, edgeSandMin, testMin, governedBy } = batch();
    expect(sandMin).toBeGreaterThan(14.5);
    expect(edgeSandMin).toBeLessThan(20.5);
    expect(testMin).toBe(edgeSandMin);
    expect(governedBy).toBe('edge');
  });

  it.each<[string, Partial<FilmJob>, string]>([
    ['its build when that is as thin as an edge', { thicknessMm: 0.4 }, 'build'],
    [
      'its build when a lamp overtakes the edge',
      { thicknessMm: 6, airC: [[0, 5]], lampMinWPerM2: [[0, 40, 350]] },
      'cooling',
    ],
    ['its cooling in hot air', { airC: [[0, 35]] }, 'cooling'],
    ['nothing any more when it stalls', { airC: [[0, -40]] }, 'stalled'],
    ['nothing any more when it never cools', { airC: [[0, 50]] }, 'stalled'],
  ])('waits for %s', (_, change, governedBy) => {
    expect(batch(change).governedBy).toBe(governedBy);
  });

  it('waits for a build that is later than its edge', () => {
    // A cold tin: the thin edge takes the panel's warmth at once.
    const { sandMin, edgeSandMin, governedBy } = batch({
      thicknessMm: 12,
      mixC: -20,
      airC: [[0, 38]],
      timeScale: 0.4,
    });
    expect(sandMin).toBeGreaterThan(edgeSandMin ?? Infinity);
    expect(['build', 'cooling']).toContain(governedBy);
  });
});

describe('the reasons of a batch', () => {
  it('add up to what the batch takes, with and without a lamp', () => {
    fc.assert(
      fc.property(
        lamplessJob,
        fc.option(lampMinWPerM2, { nil: [] }),
        fc.option(fc.integer({ min: -5, max: 30 }), { nil: 20 }),
        (job, lamp, cavityStartC) => {
          const { baseMin, expectedMin, parts } = split({
            ...job,
            lampMinWPerM2: lamp,
            cavityStartC,
            timeScale: 1.1,
          });
          const sum = parts.reduce((total, { minutes }) => total + minutes, baseMin);
          expect(sum).toBeCloseTo(expectedMin ?? Number.NaN, 9);
          if (parts.length > 1)
            for (const { minutes } of parts) expect(Math.abs(minutes)).toBeGreaterThan(0.049);
        },
      ),
      { ...fixed, numRuns: 40 },
    );
  });

  it('name cold and warm air, car, lamp, hardener and product by their sign', () => {
    expect(minutesOf({ airC: [[0, 10]] }, 'bay-cold')).toBeGreaterThan(5);
    expect(minutesOf({ airC: [[0, 28]] }, 'bay-warm')).toBeLessThan(-3);
    expect(minutesOf({ cavityStartC: 4 }, 'car-cold')).toBeGreaterThan(5);
    expect(minutesOf({ panelStartC: 35, mixC: 20 }, 'car-warm')).toBeLessThan(-0.3);
    expect(minutesOf({ airC: [[0, 8]], lampMinWPerM2: [[5, 15, 900]] }, 'lamp')).toBeLessThan(-3);
    expect(minutesOf({ hardenerPct: 1.2 }, 'hardener')).toBeGreaterThan(2);
    expect(minutesOf({ timeScale: 1.3 }, 'product')).toBeGreaterThan(3);
    expect(minutesOf({}, 'film')).toBeLessThan(-1);
    expect(minutesOf({}, 'edge')).toBeGreaterThan(2);
  });

  it('owe to a learned product what its own constants and energy change, and nothing else', () => {
    const job = { ...plainJob, airC: [[0, 12]] as const, hardenerPct: 2.4 };
    const slow = { ...bodyConstants, rateConstantPerS: bodyConstants.rateConstantPerS * 0.8 };
    const learned = { card: bodyFiller, constants: slow };
    const [before, after] = [
      splitReasons({ card: bodyFiller, constants: bodyConstants, job }),
      splitReasons({ card: bodyFiller, constants: bodyConstants, job, learned }),
    ];
    expect(after.expectedMin).toBe(solveBatch(bodyFiller, slow, job).testMin);
    const product = after.parts.find(({ code }) => code === 'product');
    expect(product?.minutes).toBeCloseTo(Number(after.expectedMin) - Number(before.expectedMin), 9);
    expect(product?.minutes).toBeGreaterThan(2);
    expect(after.parts.filter(({ code }) => code !== 'product')).toEqual(before.parts);
    // Slowdown is measured against the same product in the card's own air.
    const inCardsAir = { ...plainJob, hardenerPct: 2.4 };
    expect(after.cardMin).toBe(solveBatch(bodyFiller, slow, inCardsAir).testMin);
    expect(
      splitReasons({ card: bodyFiller, constants: bodyConstants, job, learned, medianMin: 77 }).expectedMin,
    ).toBe(77);
  });

  it('leave the card alone in its own film', () => {
    const { baseMin, expectedMin, cardMin } = split({ thicknessMm: 0.5 });
    expect(baseMin).toBe(bodyFiller.sandMin);
    expect(cardMin).toBeCloseTo(expectedMin ?? 0, 6);
  });

  it('make slowdown 1 for a thin film at the temperature of the card', () => {
    const { expectedMin, cardMin } = split({ thicknessMm: 0.3, timeScale: 1.2 });
    expect((expectedMin ?? 0) / cardMin).toBeCloseTo(1, 3);
  });

  it('have no expected time when the batch stalls', () => {
    const { expectedMin, cardMin, parts } = split({ airC: [[0, -40]] });
    expect(expectedMin).toBeNull();
    expect(cardMin).toBeGreaterThan(15);
    expect(parts.map(({ code }) => code)).toEqual(['film', 'edge']);
  });

  it('count a step at which it would stall together with the next', () => {
    const { baseMin, expectedMin, parts } = split({
      airC: [
        [0, -40],
        [30, -40],
      ],
      lampMinWPerM2: [[0, 90, 1200]],
    });
    expect(expectedMin).not.toBeNull();
    expect(parts.map(({ code }) => code)).toEqual(['film', 'edge', 'lamp']);
    expect(parts.reduce((sum, { minutes }) => sum + minutes, baseMin)).toBeCloseTo(expectedMin ?? 0, 9);
  });

  it('measure slowdown against 12 h at most', () => {
    const card = { ...bodyFiller, atC: -10 };
    const job = { ...plainJob, hardenerPct: 0.5, airC: [[0, 20]] as const, timeScale: 10 };
    expect(splitReasons({ card, constants: bodyConstants, job }).cardMin).toBe(720);
  });
});
