// Values between even nodes by Lagrange's polynomial through the four nearest of them.

/**
 * Nodes about a place, and what each of them counts.
 */
export interface Stencil {
  readonly firstIndex: number;
  readonly weights: readonly number[];
}

const POINTS_MAX = 4;

/**
 * The nodes to interpolate between at a place.
 * @param count  [1] how many even nodes there are, ≥ 2
 * @param partFraction  [1] the place, 0 the first node, 1 the last
 * @returns up to four nodes, weights summing to 1
 * @source Lagrange's formula, Abramowitz, Stegun 1964, 25.2.1
 */
export function stencilAt(count: number, partFraction: number): Stencil {
  const size = Math.min(POINTS_MAX, count);
  const place = partFraction * (count - 1);
  const firstIndex = Math.min(Math.max(0, Math.floor(place) - 1), count - size);
  const weights = Array.from({ length: size }, (_, own) => {
    let weight = 1;
    for (let other = 0; other < size; other++) {
      if (other !== own) weight *= (place - firstIndex - other) / (own - other);
    }
    return weight;
  });
  return { firstIndex, weights };
}

/**
 * The nodes to interpolate between at even places.
 * @param count  [1] how many even nodes there are, ≥ 2
 * @param placeCount  [1] how many places from the first node to the last, ≥ 2
 * @returns one stencil for each place
 * @source own
 */
export function stencilsOver(count: number, placeCount: number): readonly Stencil[] {
  return Array.from({ length: placeCount }, (_, index) => stencilAt(count, index / (placeCount - 1)));
}

/**
 * A weighed sum of values of which some may be infinite [as given].
 * @param values  [as given] finite or +∞, at least as many as weights
 * @param weights  [1] of either sign, one of them positive
 * @returns sum; where an infinite value counts at all, the value that counts most
 * @source own
 */
export function mixTimes(values: readonly number[], weights: readonly number[]): number {
  let sum = 0;
  let most = 0;
  for (const [index, weight] of weights.entries()) {
    if (weight !== 0) sum += weight * (values[index] as number);
    if (weight > (weights[most] as number)) most = index;
  }
  return Number.isFinite(sum) ? sum : (values[most] as number);
}

/**
 * A weighed sum of lists [as given].
 * @param listValues  [as given] equally long, finite, at least as many as weights
 * @param weights  [1] of either sign
 * @returns list of the same length
 * @source own
 */
export function mixLists(listValues: readonly Float64Array[], weights: readonly number[]): Float64Array {
  const mixed = new Float64Array((listValues[0] as Float64Array).length);
  for (let index = 0; index < weights.length; index++) {
    const weight = weights[index] as number;
    const list = listValues[index] as Float64Array;
    for (let i = 0; i < mixed.length; i++) mixed[i] = (mixed[i] as number) + weight * (list[i] as number);
  }
  return mixed;
}
