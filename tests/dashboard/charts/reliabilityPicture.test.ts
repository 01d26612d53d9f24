// The reliability picture: each bin's film lies between its bounds, is widest at the share, and thins to nothing.
import { describe, expect, it } from 'vitest';
import {
  makeReliabilityMarks,
  PICTURE,
  plotXPx,
  plotYPx,
} from '../../../dashboard/charts/reliabilityPicture.ts';
import type { ReliabilityWire } from '../../../server/contract/index.ts';

/** 8 of 10 with Wilson's bounds of R (reference SC-7). */
const eightOfTen: ReliabilityWire['bins'][number] = {
  fromProbability: 0.8,
  toProbability: 1,
  meanProbability: 0.85,
  count: 10,
  powderedCount: 8,
  lowProbability: 0.4901625,
  highProbability: 0.9433178,
};
const empty = { ...eightOfTen, meanProbability: null, count: 0, powderedCount: 0 };

function pointsOf(outline: string): [number, number][] {
  return [...outline.matchAll(/(-?[\d.]+),(-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)]);
}

describe('a bin of the picture', () => {
  it('stands at what was stated, its dot at the share that powdered', () => {
    const [mark] = makeReliabilityMarks([eightOfTen]);
    expect(mark).toMatchObject({ count: 10, powderedCount: 8 });
    expect(mark?.xPx).toBeCloseTo(PICTURE.leftPx + 0.85 * PICTURE.sidePx, 6);
    expect(mark?.sharePx).toBeCloseTo(PICTURE.footPx - 0.8 * PICTURE.sidePx, 6);
  });

  it('reaches from bound to bound, widest at the share and nothing at both ends', () => {
    const [mark] = makeReliabilityMarks([eightOfTen]);
    const points = pointsOf(mark?.outline ?? '');
    const ys = points.map(([, y]) => y);
    expect(Math.max(...ys)).toBeCloseTo(plotYPx(eightOfTen.lowProbability), 1);
    expect(Math.min(...ys)).toBeCloseTo(plotYPx(eightOfTen.highProbability), 1);
    const halfWidthAt = (yPx: number): number => {
      const [x = 0] = points.toSorted((a, b) => Math.abs(a[1] - yPx) - Math.abs(b[1] - yPx))[0] ?? [];
      return Math.abs(x - (mark?.xPx ?? 0));
    };
    expect(halfWidthAt(plotYPx(0.8))).toBeGreaterThan(12);
    expect(halfWidthAt(plotYPx(eightOfTen.lowProbability))).toBeCloseTo(0, 1);
    expect(halfWidthAt(plotYPx(eightOfTen.highProbability))).toBeCloseTo(0, 1);
  });

  it.each([0, 1])('with a share of %i is cut off flat at that end, and stays finite', (share) => {
    const [mark] = makeReliabilityMarks([
      {
        ...eightOfTen,
        count: 5,
        powderedCount: 5 * share,
        lowProbability: share === 0 ? 0 : 0.57,
        highProbability: share === 0 ? 0.43 : 1,
      },
    ]);
    const points = pointsOf(mark?.outline ?? '');
    expect(points.length).toBeGreaterThan(10);
    expect(points.flat().every((number) => Number.isFinite(number))).toBe(true);
    const atShare = points.filter(([, y]) => Math.abs(y - plotYPx(share)) < 0.06);
    expect(Math.max(...atShare.map(([x]) => x))).toBeCloseTo(plotXPx(0.85) + 13, 1);
  });

  it('is left out where nobody has tested, and stays inside the picture', () => {
    expect(makeReliabilityMarks([empty])).toEqual([]);
    const marks = makeReliabilityMarks([
      { ...eightOfTen, meanProbability: 1, powderedCount: 10, highProbability: 1 },
      { ...eightOfTen, meanProbability: 0, powderedCount: 0, lowProbability: 0 },
    ]);
    for (const [x, y] of marks.flatMap(({ outline }) => pointsOf(outline))) {
      expect(x).toBeGreaterThan(0);
      expect(x).toBeLessThanOrEqual(PICTURE.widthPx);
      expect(y).toBeGreaterThan(0);
      expect(y).toBeLessThan(PICTURE.heightPx);
    }
    for (const { labelPx } of marks) expect(labelPx).toBeGreaterThan(10);
  });
});
