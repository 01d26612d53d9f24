// Stated probability against how often it powdered, as plain geometry: each bin a feather edge between its bounds,
// full where the share most probably lies and tapering to nothing at both ends, like the windows themselves.
import type { ReliabilityWire } from '../../server/contract/index.ts';

export interface ReliabilityMark {
  /** Closed outline in the picture's own units. */
  readonly outline: string;
  readonly xPx: number;
  readonly sharePx: number;
  /** Where its count is written: above the film. */
  readonly labelPx: number;
  readonly count: number;
  readonly powderedCount: number;
}

/** The picture's box; its plot leaves room for the labels left and below. */
export const PICTURE = {
  widthPx: 360,
  heightPx: 342,
  leftPx: 62,
  topPx: 24,
  sidePx: 270,
  footPx: 294,
} as const;
const LENS_HALF_PX = 13;
const LABEL_GAP_PX = 6;
const STEPS_COUNT = 24;
/** Wilson's bounds are those of 95 %: the lens thins out to nothing there. */
const BOUNDS_Z = 1.96;
const FLOOR_FRACTION = Math.exp((-BOUNDS_Z * BOUNDS_Z) / 2);

/** One mark for each bin in which there was a test, in order. */
export function makeReliabilityMarks(bins: ReliabilityWire['bins']): ReliabilityMark[] {
  return bins.flatMap((bin) => {
    const { count, powderedCount, meanProbability, lowProbability, highProbability } = bin;
    if (count === 0 || meanProbability === null) return [];
    const share = powderedCount / count;
    const xPx = plotXPx(meanProbability);
    const labelPx = plotYPx(highProbability) - LABEL_GAP_PX;
    const outline = outlineOf({ xPx, share, lowProbability, highProbability });
    return [{ outline, xPx, sharePx: plotYPx(share), labelPx, count, powderedCount }];
  });
}

/** The place of a stated probability along the foot. */
export function plotXPx(probability: number): number {
  return PICTURE.leftPx + PICTURE.sidePx * probability;
}

/** The place of a share of tests up the side. */
export function plotYPx(share: number): number {
  return PICTURE.footPx - PICTURE.sidePx * share;
}

interface Lens {
  readonly xPx: number;
  readonly share: number;
  readonly lowProbability: number;
  readonly highProbability: number;
}

function outlineOf(lens: Lens): string {
  const steps = Array.from({ length: STEPS_COUNT + 1 }, (_, index) => index / STEPS_COUNT);
  const right = steps.map((fraction) => pointOf(lens, fraction, 1));
  const left = steps.map((fraction) => pointOf(lens, fraction, -1)).toReversed();
  return `M${[...right, ...left].join(' L')} Z`;
}

function pointOf(
  { xPx, share, lowProbability, highProbability }: Lens,
  fraction: number,
  sideScale: number,
): string {
  const probability = lowProbability + (highProbability - lowProbability) * fraction;
  const room = probability < share ? share - lowProbability : highProbability - share;
  const z = room <= 0 ? 0 : (BOUNDS_Z * (probability - share)) / room;
  const fullness = (Math.exp((-z * z) / 2) - FLOOR_FRACTION) / (1 - FLOOR_FRACTION);
  const x = xPx + sideScale * LENS_HALF_PX * Math.max(0, fullness);
  return `${x.toFixed(1)},${plotYPx(probability).toFixed(1)}`;
}
