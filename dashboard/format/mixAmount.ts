// How much to mix for a spot: volume times density, the hardener as its share, and how long a bead of it that is.
import { formatLength } from './numbers.ts';
import type { Reader } from './units.ts';

/** Densities of mixed filler as the model takes them (design MODEL §3). */
const densityByFillKgPerM3 = { regular: 1800, light: 1270 } as const;

export interface Spot {
  readonly lengthCm: number;
  readonly widthCm: number;
  readonly thicknessMm: number;
  readonly hardenerPct: number;
  readonly fill: keyof typeof densityByFillKgPerM3;
}

/** Grams of filler and of hardener for one spot; null when a measure makes no sense. */
export function mixAmountOf(spot: Spot): { readonly fillerG: number; readonly hardenerG: number } | null {
  const { lengthCm, widthCm, thicknessMm, hardenerPct } = spot;
  const isUsable = [lengthCm, widthCm, thicknessMm, hardenerPct].every((value) => value > 0);
  if (!isUsable) return null;
  const thicknessM = thicknessMm / 1000;
  const fillerG = (lengthCm / 100) * (widthCm / 100) * thicknessM * densityByFillKgPerM3[spot.fill] * 1000;
  return { fillerG, hardenerG: (fillerG * hardenerPct) / 100 };
}

export interface WeighedBead {
  readonly hardenerG: number;
  /** What ten centimetres of the shop's own bead weigh. */
  readonly beadGramsPer10Cm: number;
}

/** How long a bead holds so much hardener. */
export function beadLengthCm({ hardenerG, beadGramsPer10Cm }: WeighedBead): number {
  return (hardenerG / beadGramsPer10Cm) * WEIGHED_CM;
}

/** The bead as it is measured beside a tube: to half a centimetre, and to a millimetre where it is short. */
export function formatBead(lengthCm: number, reader: Reader): string {
  const stepCm = lengthCm < SHORT_BELOW_CM ? 0.1 : 0.5;
  return formatLength(
    reader.units.length === 'mm' ? Number((Math.round(lengthCm / stepCm) * stepCm).toFixed(1)) : lengthCm,
    reader,
  );
}

/** The length of bead that the shop weighs. */
const WEIGHED_CM = 10;
const SHORT_BELOW_CM = 3;
