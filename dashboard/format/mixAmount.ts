// How much to mix for a spot: volume times density, and the hardener as its share.

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
