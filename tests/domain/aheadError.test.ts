// How well the air ahead of a bay has done: the design's figure first, then the bay's own.
import { describe, expect, it } from 'vitest';
import { AHEAD_SD_K, aheadErrorSdKOf } from '../../server/domain/aheadError.ts';
import { drawsFrom, series } from '../support/domainFixtures.ts';

/** Air told each few minutes for some hours. */
function told(hours: number, airAt: (afterMin: number) => number, everyMin = 5) {
  const count = (hours * 60) / everyMin;
  return series(
    ...Array.from({ length: count + 1 }, (_, index) => [index * everyMin, airAt(index * everyMin)] as const),
  );
}

describe('what the air ahead misses an hour on', () => {
  it('is the design’s figure before anything is known', () => {
    // Design MODEL §5: 0.42 K at 60 min.
    expect(AHEAD_SD_K).toBe(0.42);
    expect(aheadErrorSdKOf([])).toBe(0.42);
    expect(aheadErrorSdKOf(series([0, 20]))).toBeCloseTo(0.42, 12);
    // The first question is asked an hour after the first reading and answered an hour later.
    expect(aheadErrorSdKOf(told(1.9, () => 20))).toBeCloseTo(0.42, 12);
    expect(aheadErrorSdKOf(told(2, () => 20))).toBeLessThan(0.42);
  });

  it('shrinks with each answer of a steady bay, the design’s figure counting as eight', () => {
    // (8 · 0.42² + n · 0²) / (8 + n), asked each quarter of an hour from the first hour to the last.
    for (const [hours, answers] of [
      [3, 5],
      [6, 17],
    ] as const)
      expect(aheadErrorSdKOf(told(hours, () => 20))).toBeCloseTo(0.42 * Math.sqrt(8 / (8 + answers)), 9);
  });

  it('approaches the true error of a bay that wanders unforeseeably', () => {
    const draws = drawsFrom(20_260_112);
    // A new level each hour, too far for a slope and not far enough for a door.
    const levels = Array.from({ length: 401 }, () => 18 + 0.6 * (2 * draws.even() - 1));
    const missing = aheadErrorSdKOf(told(400, (atMin) => levels[Math.floor(atMin / 60)] as number));
    // Two levels, each even over ± 0.6: their difference has a standard deviation of 1.2 √(2/12) = 0.49.
    expect(Math.abs(missing - 1.2 * Math.sqrt(2 / 12))).toBeLessThan(0.06);
  });

  it('is hardly anything in a bay that does what the air ahead says', () => {
    // A slope that fades with 33 min (airAhead's own rule): 3 K in all, begun anew every five hours.
    const fading = (atMin: number): number => 20 - 2 * Math.exp(-Math.max(0, (atMin % 300) - 30) / 33);
    const held = aheadErrorSdKOf(told(60, fading, 2));
    const stepped = aheadErrorSdKOf(told(60, (atMin) => fading(Math.floor(atMin / 60) * 60), 2));
    expect(held).toBeLessThan(stepped);
  });

  it('is taken at the hour, between the points that the air ahead tells', () => {
    // A straight half hour of 3 K/h, then what the fading slope says of it: 33 min · 0.05 K/min · (1 − e^(−t/33)).
    const led = (afterMin: number): number => 1.65 * (1 - Math.exp(-afterMin / 33));
    const air = series(
      ...Array.from({ length: 13 }, (_, index) => [index * 5, 17 + 0.25 * index] as const),
      ...Array.from({ length: 12 }, (_, index) => [65 + index * 5, 20 + led(5 + index * 5)] as const),
    );
    // One question, asked at the hour, whose answer differs by what a straight line between two points leaves out.
    expect(aheadErrorSdKOf(air)).toBeGreaterThan(0.42 * Math.sqrt(8 / 9));
    expect(aheadErrorSdKOf(air)).toBeLessThan(0.42 * Math.sqrt(8 / 9) + 0.002);
  });

  it('leaves doors out', () => {
    const door = (atMin: number): number => (atMin % 300 >= 150 && atMin % 300 < 160 ? 14 : 20);
    expect(aheadErrorSdKOf(told(40, door))).toBeLessThan(aheadErrorSdKOf(told(6, () => 20)));
    // A shift of 1.9 K is no door.
    const shift = (atMin: number): number => (atMin < 180 ? 20 : 18.1);
    expect(aheadErrorSdKOf(told(6, shift))).toBeGreaterThan(0.5);
  });

  it('has no answer from a gap', () => {
    const whole = told(6, (atMin) => 20 + atMin / 1000);
    const torn = whole.filter((_, index) => index < 13 || index > 60);
    expect(aheadErrorSdKOf(torn)).toBeCloseTo(0.42, 9);
  });
});
