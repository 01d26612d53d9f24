// Whether a product changed under its name: found soon when it did, hardly ever when it did not.
import { describe, expect, it } from 'vitest';
import { type ChangeBelief, findChange } from '../../server/engine/findChange.ts';
import type { ScaleLesson } from '../../server/engine/index.ts';
import { drawsFrom } from '../support/domainFixtures.ts';

const belief: ChangeBelief = {
  logScaleSd: 0.12,
  changedLogScaleSd: 0.25,
  logScatterSd: 0.13,
  logScatterLogSd: 0.35,
  activationsZ: [-0.35, 0, 0.35],
};

/** Batches of a product whose ln scale is given for each, told in brackets of 15 %. */
function historyOf(seed: number, logScales: readonly number[], scatterLogSd = 0.13): ScaleLesson[] {
  const draws = drawsFrom(seed);
  return logScales.map((logScale) => {
    const low = logScale + Math.hypot(scatterLogSd, 0.08) * draws.normal() - 0.15 * draws.even();
    return {
      weight: 1,
      withinLogSd: 0.08,
      branches: [{ share: 1, lowLogScales: Array(5).fill(low), highLogScales: Array(5).fill(low + 0.15) }],
    };
  });
}

const changed = (before: number, after: number, ratio: number): number[] => [
  ...Array<number>(before).fill(0),
  ...Array<number>(after).fill(Math.log(ratio)),
];

/** After how many batches of the other product it is noticed; none when it is not within twelve. */
function noticedAfter(seed: number, before: number, ratio: number): number | null {
  const history = historyOf(seed, changed(before, 12, ratio));
  for (let after = 4; after <= 12; after++) {
    const index = findChange(history.slice(0, before + after), belief);
    if (index > before - 8) return after;
  }
  return null;
}

describe('a change', () => {
  it.each([1.25, 0.75])('to %f times the time is found within twelve batches, mostly', (ratio) => {
    const noticed = Array.from({ length: 20 }, (_, seed) => noticedAfter(1000 + seed, 30, ratio));
    const found = noticed.filter((after) => after !== null);
    expect(found.length).toBeGreaterThanOrEqual(13);
  });

  it('is found where it happened', () => {
    const places = Array.from({ length: 20 }, (_, seed) =>
      findChange(historyOf(2000 + seed, changed(25, 25, 1.4)), belief),
    );
    expect(places.filter((place) => Math.abs(place - 25) <= 2).length).toBeGreaterThanOrEqual(18);
  });

  it('hardly ever shows in a product that stays the same', () => {
    for (const scatterLogSd of [0.13, 0.2]) {
      const places = Array.from({ length: 50 }, (_, seed) =>
        findChange(historyOf(3000 + seed, Array<number>(120).fill(0.05), scatterLogSd), belief),
      );
      expect(places.filter((place) => place > 0).length).toBeLessThanOrEqual(2);
    }
  });

  it('never shows in fewer than eight batches, nor with fewer than four on a side', () => {
    const stark = historyOf(4000, changed(4, 4, 2), 0.03);
    expect(findChange(stark, belief)).toBe(4);
    expect(findChange(stark.slice(1), belief)).toBe(0);
    expect(findChange([], belief)).toBe(0);
    const late = historyOf(4001, changed(30, 3, 2), 0.03);
    expect([0, 29]).toContain(findChange(late, belief));
  });

  it('is found however plain it is: a thousand batches do not overflow', () => {
    const plain = historyOf(5000, changed(500, 500, 2), 0.03);
    expect(findChange(plain, belief)).toBe(500);
  });

  it('is not made up from batches that say nothing, or have no weight', () => {
    const stark = historyOf(4000, changed(10, 10, 2));
    expect(findChange(stark, belief)).toBeGreaterThan(0);
    expect(
      findChange(
        stark.map((lesson) => ({ ...lesson, weight: 0 })),
        belief,
      ),
    ).toBe(0);
    const open = [{ share: 1, lowLogScales: null, highLogScales: null }];
    expect(
      findChange(
        stark.map((lesson) => ({ ...lesson, branches: open })),
        belief,
      ),
    ).toBe(0);
  });
});
