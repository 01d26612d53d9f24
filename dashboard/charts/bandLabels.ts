// Which labels of a window bar have room: marks always show, words only where they do not run into each other.
import type { WindowBand } from './windowBand.ts';

export type BandWord = 'build' | 'edge' | 'now';

export interface PlacedWord {
  readonly word: BandWord;
  readonly fraction: number;
  /** Which side of the mark the word stands on. */
  readonly side: 'before' | 'after' | 'middle';
}

/** Two words closer than this stand on opposite sides of their marks. */
const NEAR_FRACTION = 0.2;
/** The room that a word takes on the narrowest phone. */
const WORD_FRACTION = 0.12;
/** A word in the middle of its mark needs this much room to the end of the axis. */
const END_FRACTION = 0.08;

/** The words above the band: build and edge first, now where there is room left. */
export function placeBandWords(band: WindowBand): PlacedWord[] {
  const { buildFraction, edgeFraction, nowFraction } = band;
  const parts: PlacedWord[] = [];
  if (buildFraction !== null && edgeFraction !== null) {
    const isNear = Math.abs(buildFraction - edgeFraction) < NEAR_FRACTION;
    const isBuildFirst = buildFraction <= edgeFraction;
    const sideOf = (isFirst: boolean, fraction: number): PlacedWord['side'] =>
      isNear ? (isFirst ? 'before' : 'after') : sideAt(fraction);
    parts.push({ word: 'build', fraction: buildFraction, side: sideOf(isBuildFirst, buildFraction) });
    parts.push({ word: 'edge', fraction: edgeFraction, side: sideOf(!isBuildFirst, edgeFraction) });
  }
  const now: PlacedWord = { word: 'now', fraction: nowFraction, side: sideAt(nowFraction) };
  return parts.every((placed) => areApart(placed, now)) ? [...parts, now] : parts;
}

function areApart(one: PlacedWord, other: PlacedWord): boolean {
  return Math.abs(middleFraction(one) - middleFraction(other)) >= WORD_FRACTION;
}

function middleFraction({ fraction, side }: PlacedWord): number {
  if (side === 'middle') return fraction;
  return side === 'before' ? fraction - WORD_FRACTION / 2 : fraction + WORD_FRACTION / 2;
}

/** Where a label centred on a mark would leave the axis, it stands before or after the mark instead. */
export function sideAt(fraction: number): PlacedWord['side'] {
  if (fraction < END_FRACTION) return 'after';
  return fraction > 1 - END_FRACTION ? 'before' : 'middle';
}
