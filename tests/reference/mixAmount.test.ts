// How much to mix, against the trade's own rules (design REFERENCES §9): 2 % by weight, and beads across puddles.
import { describe, expect, it } from 'vitest';
import { beadLengthCm, mixAmountOf } from '../../dashboard/format/mixAmount.ts';

const INCH_CM = 2.54;

/** A round puddle as the square of the same area, which is what the helper asks for. */
function puddleAmount(diameterIn: number, thicknessMm = 6) {
  const sideCm = (diameterIn * INCH_CM * Math.sqrt(Math.PI)) / 2;
  const amount = mixAmountOf({
    lengthCm: sideCm,
    widthCm: sideCm,
    thicknessMm,
    hardenerPct: 2,
    fill: 'regular',
  });
  if (amount === null) throw new Error('a puddle of no size');
  return amount;
}

/** The bead [in] of a puddle, in a shop whose bead gives the 4 in puddle its 4 in (TP-2). */
function beadOfPuddleIn(diameterIn: number): number {
  const beadGramsPer10Cm = (puddleAmount(4).hardenerG * 10) / (4 * INCH_CM);
  return beadLengthCm({ hardenerG: puddleAmount(diameterIn).hardenerG, beadGramsPer10Cm }) / INCH_CM;
}

describe('the hardener of a mix', () => {
  it('is one part in fifty at the 2 % of TP-1', () => {
    const { fillerG, hardenerG } = puddleAmount(4);
    expect(fillerG / hardenerG).toBeCloseTo(50, 12);
  });

  it('weighs what a density times a volume gives', () => {
    // 10 cm × 10 cm × 2 mm = 20 cm³; regular filler 1.8 g/cm³, lightweight 1.27 (design MODEL §3).
    const spot = { lengthCm: 10, widthCm: 10, thicknessMm: 2, hardenerPct: 2.5 } as const;
    expect(mixAmountOf({ ...spot, fill: 'regular' })?.fillerG).toBeCloseTo(36, 9);
    expect(mixAmountOf({ ...spot, fill: 'regular' })?.hardenerG).toBeCloseTo(0.9, 9);
    expect(mixAmountOf({ ...spot, fill: 'light' })?.fillerG).toBeCloseTo(25.4, 9);
  });

  it('has no amount for a spot without a size', () => {
    const spot = { lengthCm: 10, widthCm: 0, thicknessMm: 2, hardenerPct: 2, fill: 'regular' } as const;
    expect(mixAmountOf(spot)).toBeNull();
  });
});

describe('the bead', () => {
  it('agrees with the trade on the 2 in puddle once it agrees on the 4 in one (TP-2)', () => {
    expect(beadOfPuddleIn(4)).toBeCloseTo(4, 12);
    expect(beadOfPuddleIn(2)).toBeCloseTo(1, 12);
  });

  it('is longer than the trade’s 12 in on the 8 in puddle, since that rule has no scale (TP-7)', () => {
    expect(beadOfPuddleIn(8)).toBeCloseTo(16, 12);
    // TP-7's own arithmetic: bead over area, 0.318 in/in² at 2 and 4 in, 0.239 at 8 in.
    const perArea = (beadIn: number, diameterIn: number): number =>
      beadIn / (Math.PI * (diameterIn / 2) ** 2);
    expect(perArea(beadOfPuddleIn(2), 2)).toBeCloseTo(0.318, 3);
    expect(perArea(beadOfPuddleIn(4), 4)).toBeCloseTo(0.318, 3);
    expect(perArea(8 + 4, 8)).toBeCloseTo(0.239, 3);
    expect(beadOfPuddleIn(8) / (8 + 4)).toBeCloseTo(0.318 / 0.239, 2);
  });

  it('of a weighed tube holds the dose that it was measured for', () => {
    // 1.4 g in 10 cm: 0.7 g is half of it.
    expect(beadLengthCm({ hardenerG: 0.7, beadGramsPer10Cm: 1.4 })).toBeCloseTo(5, 12);
  });
});
