// The geometry of the feather edge: full at the most probable time, nothing at both ends, everything on one axis.
import { describe, expect, it } from 'vitest';
import {
  fullnessAt,
  makeWindowBand,
  type WindowBand,
  type WindowTimes,
} from '../../../dashboard/charts/windowBand.ts';

const MIN_MS = 60_000;
const times: WindowTimes = {
  mixedAt: 0,
  p10At: 20 * MIN_MS,
  p50At: 25 * MIN_MS,
  p90At: 33 * MIN_MS,
  nowAt: 10 * MIN_MS,
  kickedAt: 6 * MIN_MS,
  buildAt: 20 * MIN_MS,
  edgeAt: 25 * MIN_MS,
};

function bandOf(changes: Partial<WindowTimes> = {}): WindowBand {
  const band = makeWindowBand({ ...times, ...changes });
  if (band === null) throw new Error('these times make a band');
  return band;
}

function pointsOf(band: WindowBand): [number, number][] {
  return [...band.outline.matchAll(/(-?[\d.]+),(-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)]);
}

describe('the fullness of the band', () => {
  it('is one at P50 and less on both sides', () => {
    expect(fullnessAt(times, times.p50At)).toBe(1);
    expect(fullnessAt(times, times.p10At)).toBeCloseTo(fullnessAt(times, times.p90At), 9);
    expect(fullnessAt(times, times.p90At)).toBeGreaterThan(0.3);
    expect(fullnessAt(times, times.p90At)).toBeLessThan(0.5);
  });

  it('is nothing at both ends', () => {
    expect(fullnessAt(times, 0)).toBe(0);
    expect(fullnessAt(times, 60 * MIN_MS)).toBe(0);
  });
});

describe('the band', () => {
  it('begins and ends on its base and touches the top once', () => {
    const points = pointsOf(bandOf());
    const heights = points.map(([, y]) => y);
    expect([heights[0], heights.at(-1)]).toEqual([100, 100]);
    expect(Math.min(...heights)).toBeLessThan(1);
    expect(heights.every((y) => y >= 0 && y <= 100)).toBe(true);
  });

  it('runs forward along the axis and stays on it', () => {
    const xs = pointsOf(bandOf()).map(([x]) => x);
    expect(xs).toEqual([...xs].sort((a, b) => a - b));
    expect(xs.every((x) => x >= 0 && x <= 1000)).toBe(true);
  });

  it('keeps its marks in the order of their times', () => {
    const { kickedFraction, nowFraction, p10Fraction, p50Fraction, p90Fraction } = bandOf();
    const marks = [kickedFraction ?? -1, nowFraction, p10Fraction, p50Fraction, p90Fraction];
    expect(marks).toEqual([...marks].sort((a, b) => a - b));
    expect(p90Fraction).toBeLessThan(1);
  });

  it('makes room for now beyond the window, but only so much', () => {
    expect(bandOf({ nowAt: 42 * MIN_MS }).nowFraction).toBeLessThan(1);
    const late = bandOf({ nowAt: 300 * MIN_MS });
    expect(late.nowFraction).toBe(1);
    expect(late.p90Fraction).toBeGreaterThan(0.6);
  });

  it('does not reach back before mixing', () => {
    const early = bandOf({ p10At: 2 * MIN_MS, p50At: 20 * MIN_MS });
    expect(pointsOf(early)[0]?.[0]).toBe(0);
  });

  it('is missing where the times are out of order', () => {
    expect(makeWindowBand({ ...times, p10At: 26 * MIN_MS })).toBeNull();
    expect(makeWindowBand({ ...times, mixedAt: 30 * MIN_MS })).toBeNull();
  });
});
