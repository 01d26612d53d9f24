// A lamp as the shop knows it: the flux that a panel absorbs, measured once for each distance.

export interface Lamp {
  readonly id: string;
  readonly name: string;
  /** At least one, nearest first. */
  readonly distances: readonly { readonly distanceCm: number; readonly fluxWPerM2: number }[];
}

/**
 * The flux absorbed at a distance [W/m²], straight between two measured distances; at the nearest one when none is told.
 * Null outside what was measured: a guess there could blister the film.
 */
export function lampFluxAt(lamp: Lamp, distanceCm: number | null): number | null {
  const [nearest] = lamp.distances;
  if (nearest === undefined) return null;
  if (distanceCm === null) return nearest.fluxWPerM2;
  for (const [index, far] of lamp.distances.entries()) {
    if (far.distanceCm === distanceCm) return far.fluxWPerM2;
    const near = lamp.distances[index - 1];
    if (near === undefined || distanceCm < near.distanceCm || distanceCm > far.distanceCm) continue;
    const share = (distanceCm - near.distanceCm) / (far.distanceCm - near.distanceCm);
    return near.fluxWPerM2 + share * (far.fluxWPerM2 - near.fluxWPerM2);
  }
  return null;
}
