// Bounds of a share: what each method promises, and what the ends are when everything or nothing was hit.
import { describe, expect, it } from 'vitest';
import { clopperPearsonBounds, credibleHits, wilsonBounds } from '../../server/domain/binomialBounds.ts';

/** Probability of each count of hits, by Pascal's rule: no logarithm and no tail is shared with the code. */
function binomial(triesCount: number, probability: number): number[] {
  let row = [1];
  for (let tries = 0; tries < triesCount; tries++) {
    row = Array.from(
      { length: row.length + 1 },
      (_, hits) => (row[hits] ?? 0) * (1 - probability) + (row[hits - 1] ?? 0) * probability,
    );
  }
  return row;
}

const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);

/** How often the bounds hold the true probability. */
function coverage(boundsOf: typeof wilsonBounds, triesCount: number, probability: number): number {
  const weights = binomial(triesCount, probability).map((weight, hitsCount) => {
    const { low, high } = boundsOf({ hitsCount, triesCount });
    return low <= probability && probability <= high ? weight : 0;
  });
  return sumOf(weights);
}

const probabilities = Array.from({ length: 49 }, (_, index) => (index + 1) / 50);

describe('bounds of a share', () => {
  it('hold the truth in 95 % at least by Clopper and Pearson', () => {
    for (const triesCount of [1, 7, 30]) {
      for (const probability of probabilities) {
        expect(coverage(clopperPearsonBounds, triesCount, probability)).toBeGreaterThanOrEqual(0.95);
      }
    }
  });

  it('hold it in 95 % on average by Wilson, and are narrower', () => {
    const average = sumOf(probabilities.map((p) => coverage(wilsonBounds, 30, p))) / probabilities.length;
    expect(Math.abs(average - 0.95)).toBeLessThan(0.01);
    for (let hitsCount = 0; hitsCount <= 30; hitsCount++) {
      const wilson = wilsonBounds({ hitsCount, triesCount: 30 });
      const exact = clopperPearsonBounds({ hitsCount, triesCount: 30 });
      expect(wilson.high - wilson.low).toBeLessThan(exact.high - exact.low);
    }
  });

  it.each([clopperPearsonBounds, wilsonBounds])('mirror misses in hits by %o', (boundsOf) => {
    for (const [hitsCount, triesCount] of [
      [0, 5],
      [1, 12],
      [9, 40],
    ] as const) {
      const hits = boundsOf({ hitsCount, triesCount });
      const misses = boundsOf({ hitsCount: triesCount - hitsCount, triesCount });
      expect(misses.low).toBeCloseTo(1 - hits.high, 12);
      expect(misses.high).toBeCloseTo(1 - hits.low, 12);
    }
  });

  it('say nothing before the first try', () => {
    expect(wilsonBounds({ hitsCount: 0, triesCount: 0 })).toEqual({ low: 0, high: 1 });
    expect(clopperPearsonBounds({ hitsCount: 0, triesCount: 0 })).toEqual({ low: 0, high: 1 });
  });

  it('end at 0 and 1 to the bit where nothing or everything was hit', () => {
    for (let triesCount = 1; triesCount <= 200; triesCount++) {
      expect(wilsonBounds({ hitsCount: 0, triesCount }).low).toBe(0);
      expect(wilsonBounds({ hitsCount: triesCount, triesCount }).high).toBe(1);
    }
  });

  // SciPy 1.17, beta.ppf.
  it.each([
    [16_000, 20_000, 0.794_387_951_944_8, 0.805_524_706_714_854_1],
    [3, 200, 0.003_104_107_621_553_509, 0.043_208_281_917_712_6],
  ])('stay right for %i of %i', (hitsCount, triesCount, low, high) => {
    const bounds = clopperPearsonBounds({ hitsCount, triesCount });
    expect(bounds.low).toBeCloseTo(low, 11);
    expect(bounds.high).toBeCloseTo(high, 11);
  });
});

describe('credible counts of hits', () => {
  it.each([
    [1, 0.8],
    [13, 0.5],
    [40, 0.03],
    [60, 0.97],
  ])(
    'leave less than 2.5 %% on either side of %i tries at %f, and not with one less',
    (triesCount, probability) => {
      const weights = binomial(triesCount, probability);
      const { low, high } = credibleHits({ probability, triesCount });
      expect(sumOf(weights.slice(0, low))).toBeLessThan(0.025);
      expect(sumOf(weights.slice(0, low + 1))).toBeGreaterThanOrEqual(0.025);
      expect(sumOf(weights.slice(high + 1))).toBeLessThanOrEqual(0.025);
      expect(sumOf(weights.slice(high))).toBeGreaterThan(0.025);
    },
  );

  it('are sure where the probability is', () => {
    expect(credibleHits({ probability: 0, triesCount: 9 })).toEqual({ low: 0, high: 0 });
    expect(credibleHits({ probability: 1, triesCount: 9 })).toEqual({ low: 9, high: 9 });
  });
});
