// Which words and clock times a window bar has room for: the fullest row in which none runs into another.
import { placeLabels, type AxisLabel, type PlacedLabel } from './axisLabels.ts';
import type { WindowBand } from './windowBand.ts';

export type BandWord = 'build' | 'edge' | 'now';
export type BandClock = 'mixed' | 'p10' | 'p50' | 'p90' | 'span';

/** Where P10 and P90 are closer than this, one label for both still stands over its marks. */
const SPAN_FRACTION = 0.3;
/** The middle of a window tells its time where the ends leave it this much room: the row shall stay calm. */
const MIDDLE_FRACTION = 0.34;

/** The words above the band: build and edge first, now where there is room left. */
export function placeBandWords(
  band: WindowBand,
  texts: Readonly<Record<BandWord, string>>,
): PlacedLabel<BandWord>[] {
  const { buildFraction, edgeFraction, nowFraction } = band;
  const labelOf = (name: BandWord, fraction: number) => ({ name, text: texts[name], fraction });
  const now = labelOf('now', nowFraction);
  if (buildFraction === null || edgeFraction === null) return firstThatFits([[now]]);
  const [build, edge] = [labelOf('build', buildFraction), labelOf('edge', edgeFraction)];
  return firstThatFits([[build, edge, now], [build, edge], [edge, now], [edge]]);
}

/** The clock times below the band: mixing and the window's ends, its middle where there is room, one span where there is little. */
export function placeBandClocks(
  band: WindowBand,
  texts: Readonly<Record<BandClock, string>>,
): PlacedLabel<BandClock>[] {
  const { p10Fraction, p50Fraction, p90Fraction } = band;
  const labelOf = (name: BandClock, fraction: number) => ({ name, text: texts[name], fraction });
  const mixed = labelOf('mixed', 0);
  const p10 = labelOf('p10', p10Fraction);
  const p90 = labelOf('p90', p90Fraction);
  const span = labelOf('span', (p10Fraction + p90Fraction) / 2);
  const widthFraction = p90Fraction - p10Fraction;
  const middles = widthFraction < MIDDLE_FRACTION ? [] : [[mixed, p10, labelOf('p50', p50Fraction), p90]];
  const ends = texts.p10 === texts.p90 ? [] : [[mixed, p10, p90]];
  const spans = widthFraction < SPAN_FRACTION ? [[mixed, span]] : [];
  return firstThatFits([...middles, ...ends, ...spans, [mixed, p90], [p90]]);
}

/** The last row is one label alone, which always fits. */
function firstThatFits<Name extends string>(rows: readonly AxisLabel<Name>[][]): PlacedLabel<Name>[] {
  for (const row of rows) {
    const placed = placeLabels(row);
    if (placed !== null) return placed;
  }
  return [];
}
