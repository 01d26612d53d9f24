// What a finding says of a time, to the last digits in both tails, and that whoever swaps its ends is told.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Fault } from '../../server/engine/index.ts';
import { intervalLogLikelihood } from '../../server/engine/intervalLikelihood.ts';

const likelihood = (lowLogMin: number, highLogMin: number, meanLogMin = 0, logSd = 1): number =>
  intervalLogLikelihood({ lowLogMin, highLogMin, meanLogMin, logSd });

describe('the likelihood of a finding', () => {
  // Computed with 60 digits by mpmath 1.3 (erfc) from the definition.
  it.each([
    [-Infinity, -40, 0, 1, -804.608_442_013_754],
    [-Infinity, -3, 0, 1, -6.607_726_221_510_35],
    [-Infinity, 2, 0, 1, -0.023_012_909_328_963_5],
    [-Infinity, 9, 0, 1, -1.128_588_405_953_84e-19],
    [3, Infinity, 0, 1, -6.607_726_221_510_35],
    [-5, Infinity, 0, 1, -2.866_516_129_637_64e-7],
    [7.2, Infinity, 0, 1, -28.831_457_520_321_9],
    [200, Infinity, 0, 1, -20_006.217_280_898_2],
    [-3, -2.97, 0, 1, -8.880_312_328_872_84],
    [2.5, 3.5, 0, 1, -5.119_830_444_788_22],
    [8, 8.5, 0, 1, -35.028_792_508_579_7],
    [-39, -38, 0, 1, -726.557_216_018_82],
    [30, 90, 0, 1, -454.321_243_956_343],
    [-1, 2, 0, 1, -0.200_166_294_324_463],
    [-0.03, 0.02, 0, 1, -3.914_787_466_481_19],
    [-20, 9, 0, 1, -1.128_588_405_953_84e-19],
    [3, 3.000_000_000_1, 0, 1, -28.444_789_380_554_8],
    [-12, -11.999, 0, 1, -79.820_687_979_361_4],
    [0.5, 0.51, 0, 1, -5.651_624_323_252_09],
    [3.2, 3.4, 3.1, 0.2, -1.419_932_482_156_63],
    [2.5, 2.5, 3.1, 0.2, -6.309_500_620_770_57],
    [3.1, 3.1, 3.1, 0.2, -2.409_500_620_770_57],
    [40, 40, 0, 1, -840.918_938_533_205],
  ])('between ln t %f and %f, of mean %f and spread %f, is %f', (low, high, mean, sd, expected) => {
    const difference = Math.abs(likelihood(low, high, mean, sd) - expected);
    expect(difference / Math.max(1, Math.abs(expected))).toBeLessThan(1e-12);
  });

  const place = fc.double({ min: -12, max: 12, noNaN: true });
  const size = fc.double({ min: 1e-6, max: 9, noNaN: true });

  it('is the same in the mirror', () => {
    fc.assert(
      fc.property(place, size, (low, width) => {
        expect(likelihood(low, low + width)).toBeCloseTo(likelihood(-low - width, -low), 9);
      }),
      { seed: 61 },
    );
  });

  it('of two neighbours adds up to that of both together', () => {
    fc.assert(
      fc.property(place, size, size, (low, first, second) => {
        const whole = likelihood(low, low + first + second);
        const parts = [likelihood(low, low + first), likelihood(low + first, low + first + second)];
        const sum = parts.reduce((total, part) => total + Math.exp(part - whole), 0);
        expect(sum).toBeCloseTo(1, 7);
      }),
      { seed: 62 },
    );
  });

  it('comes from the density of the time, not of its logarithm, as the interval closes on it', () => {
    for (const at of [-2, 0.4, 3]) {
      const widthMin = 1e-7 * Math.exp(at);
      const narrow = likelihood(Math.log(Math.exp(at) - widthMin / 2), Math.log(Math.exp(at) + widthMin / 2));
      expect(narrow - Math.log(widthMin)).toBeCloseTo(likelihood(at, at), 6);
    }
  });

  it('says nothing where nothing was found, and is sure of a time that never comes', () => {
    expect(likelihood(-Infinity, Infinity)).toBeCloseTo(0, 15);
    expect(likelihood(3, Infinity, Infinity)).toBe(0);
    expect(likelihood(3, 4, Infinity)).toBe(-Infinity);
    expect(likelihood(3, 3, Infinity)).toBe(-Infinity);
  });

  it.each([
    [2, 1, 1],
    [1, 2, 0],
    [1, 2, Number.NaN],
    [Infinity, Infinity, 1],
    [-Infinity, -Infinity, 1],
    [Number.NaN, 1, 1],
  ])('is refused from %f to %f with spread %f', (low, high, sd) => {
    expect(() => likelihood(low, high, 0, sd)).toThrow(Fault);
  });
});
