import { describe, expect, it } from 'vitest';
import {
  drawBetween,
  drawChance,
  drawFrom,
  drawNormal,
  indexOfName,
  makeRandom,
} from '../../sensors-sim/random.ts';

const take = (count: number, draw: () => number): number[] => Array.from({ length: count }, draw);
const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

describe('chance by seed and name', () => {
  it('repeats for the same seed and name', () => {
    const [a, b] = [makeRandom(7, 'wind'), makeRandom(7, 'wind')];
    expect(take(20, a.nextFraction)).toEqual(take(20, b.nextFraction));
  });

  it.each([
    [8, 'wind'],
    [7, 'sun'],
    [-7, 'wind'],
  ])('differs for seed %i and name %s', (seed, name) => {
    expect(makeRandom(seed, name).nextFraction()).not.toBe(makeRandom(7, 'wind').nextFraction());
  });

  it('spreads evenly over 0…1, also over many names of one draw each', () => {
    const random = makeRandom(1, 'even');
    for (const values of [
      take(20_000, random.nextFraction),
      Array.from({ length: 20_000 }, (_, index) => makeRandom(1, `name ${index}`).nextFraction()),
    ]) {
      expect(Math.min(...values)).toBeGreaterThanOrEqual(0);
      expect(Math.max(...values)).toBeLessThan(1);
      for (let tenth = 0; tenth < 10; tenth += 1) {
        const count = values.filter((value) => Math.floor(value * 10) === tenth).length;
        expect(Math.abs(count - 2000)).toBeLessThan(200);
      }
    }
  });

  it('draws normal numbers of mean 0 and spread 1', () => {
    const random = makeRandom(3, 'normal');
    const values = take(20_000, () => drawNormal(random));
    expect(mean(values)).toBeCloseTo(0, 1);
    expect(mean(values.map((value) => value ** 2))).toBeCloseTo(1, 1);
  });

  it('draws within bounds, by probability and from a list', () => {
    const random = makeRandom(4, 'others');
    expect(take(500, () => drawBetween(random, [2, 3])).every((value) => value >= 2 && value < 3)).toBe(true);
    expect(mean(take(4000, () => Number(drawChance(random, 0.25))))).toBeCloseTo(0.25, 1);
    expect(new Set(take(200, () => drawFrom(random, [1, 2, 3])))).toEqual(new Set([1, 2, 3]));
    expect(() => drawFrom(random, [])).toThrow(RangeError);
  });

  it('gives a name an index below a count, the same each time', () => {
    expect(indexOfName('door', 999)).toBe(indexOfName('door', 999));
    expect(
      Array.from({ length: 50 }, (_, index) => indexOfName(`${index}`, 7)).every((each) => each < 7),
    ).toBe(true);
  });
});
