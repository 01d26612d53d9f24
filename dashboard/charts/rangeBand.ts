// A range as the feather edge: full at its middle, thinning out past its ends, on an axis that begins at nothing.
import { BAND_HEIGHT_PX, BAND_WIDTH_PX, fullnessAt } from './windowBand.ts';

export interface RangeValues {
  readonly low: number;
  /** The middle of the range, between both ends. */
  readonly middleValue: number;
  readonly high: number;
  /** Where the axis ends. */
  readonly wholeValue: number;
}

export interface RangeBand {
  /** Closed outline in a box 1000 wide and 100 high, its base along the bottom. */
  readonly outline: string;
  readonly lowFraction: number;
  readonly middleFraction: number;
  readonly highFraction: number;
}

const STEPS_COUNT = 160;

/** The band of a range; null where there is nothing to show. */
export function makeRangeBand({ low, middleValue, high, wholeValue }: RangeValues): RangeBand | null {
  if (!(low > 0 && low <= middleValue && middleValue <= high)) return null;
  const endValue = Math.max(wholeValue, high * 1.05);
  // The window's own bell; its axis may be of anything that grows.
  const bell = {
    mixedAt: 0,
    p10At: low,
    p50At: middleValue,
    p90At: high,
    nowAt: 0,
    kickedAt: null,
    buildAt: null,
    edgeAt: null,
  };
  const points = Array.from({ length: STEPS_COUNT + 1 }, (_, index) => {
    const x = (BAND_WIDTH_PX * index) / STEPS_COUNT;
    const y = BAND_HEIGHT_PX * (1 - fullnessAt(bell, (endValue * index) / STEPS_COUNT));
    return `${x.toFixed(1)},${y.toFixed(1)}`;
  });
  return {
    outline: `M0,${BAND_HEIGHT_PX} L${points.join(' L')} L${BAND_WIDTH_PX},${BAND_HEIGHT_PX} Z`,
    lowFraction: low / endValue,
    middleFraction: middleValue / endValue,
    highFraction: high / endValue,
  };
}
