// The quick normal distribution against the exact one and a handbook.
import { describe, expect, it } from 'vitest';
import { normalProbability } from '../../server/engine/index.ts';
import { quickNormalProbability } from '../../server/engine/quickNormal.ts';

describe('the quick normal probability', () => {
  it('is within 1e-8 of the exact one everywhere', () => {
    let worst = 0;
    for (let z = -9; z <= 9; z += 0.000_37) {
      worst = Math.max(worst, Math.abs(quickNormalProbability(z) - normalProbability(z)));
    }
    expect(worst).toBeLessThan(1e-8);
    // What the remainder of the interpolation allows, h⁴ max|φ'''| / 384, is nearly reached but never passed.
    expect(worst).toBeLessThan(0.5506 / 32 ** 4 / 384);
    expect(worst).toBeGreaterThan(0.4 / 32 ** 4 / 384);
  });

  // Abramowitz, Stegun 1964, table 26.1 (from memory).
  it.each([
    [0, 0.5],
    [0.5, 0.691_462_461_274_013],
    [1, 0.841_344_746_068_543],
    [1.5, 0.933_192_798_731_142],
    [2, 0.977_249_868_051_821],
    [2.5, 0.993_790_334_674_224],
    [3, 0.998_650_101_968_37],
  ])("gives the handbook's probability at %f and its complement at the mirrored place", (z, expected) => {
    expect(Math.abs(quickNormalProbability(z) - expected)).toBeLessThan(1e-8);
    expect(Math.abs(quickNormalProbability(-z) - (1 - expected))).toBeLessThan(1e-8);
    expect(Math.abs(normalProbability(z) - expected)).toBeLessThan(1e-14);
  });

  it('rises and stays a probability', () => {
    let before = 0;
    for (let z = -8.5; z <= 8.5; z += 0.003) {
      const now = quickNormalProbability(z);
      expect(now).toBeGreaterThanOrEqual(before - 1e-16);
      expect(now).toBeLessThanOrEqual(1);
      before = now;
    }
  });

  it('is sure past eight, and is no number where none is asked', () => {
    expect([-Infinity, -9, -8].map(quickNormalProbability)).toEqual([0, 0, 0]);
    expect([8, 9, Infinity].map(quickNormalProbability)).toEqual([1, 1, 1]);
    expect(quickNormalProbability(Number.NaN)).toBeNaN();
  });
});
