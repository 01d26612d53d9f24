// A smooth curve through rising points that never falls between them, and stays infinite where a film stalls.

/**
 * Values at even abscissae through rising points [as given].
 * Cubic Hermite with the slopes of Fritsch and Carlson; falling points are lifted to their predecessor; past the last
 * finite point the curve goes on straight until the ceiling, and is infinite above it; where it would not reach the
 * ceiling before the first infinite point, something ends between both, and it is infinite from half way on.
 * @param x  [as given] abscissae of the points, evenly rising, ≥ 2
 * @param y  [as given] ordinates, infinite from some point on where there is none
 * @param grid  how many even abscissae from the first to the last, and the largest ordinate there is
 * @returns ordinates [as given], never falling
 * @source Fritsch, Carlson 1980, doi 10.1137/0717021
 */
export function interpolateRising(
  x: readonly number[],
  y: readonly number[],
  grid: { readonly count: number; readonly max: number },
): Float64Array {
  const values = new Float64Array(grid.count).fill(Infinity);
  const lifted = liftFalls(y);
  const finite = lifted.filter((value) => value < Infinity).length;
  if (finite === 0) return values;
  const first = x[0] as number;
  const last = x.length - 1;
  const width = ((x[last] as number) - first) / last;
  const slopeRatios = risingSlopes(lifted.slice(0, finite), width);
  const onwards = slopeRatios[finite - 1] as number;
  const isEnding = (lifted[finite - 1] as number) + onwards * width <= grid.max;
  const end = isEnding ? finite - 0.5 : Infinity;
  for (let index = 0; index < grid.count; index++) {
    const place = (index / (grid.count - 1)) * last;
    const left = Math.min(Math.floor(place), finite - 1);
    const value =
      left < finite - 1
        ? hermite(lifted, slopeRatios, { leftIndex: left, partFraction: place - left, widthRatio: width })
        : (lifted[left] as number) + onwards * width * (place - left);
    values[index] = value > grid.max || place > end ? Infinity : value;
  }
  return values;
}

function liftFalls(y: readonly number[]): number[] {
  let highest = -Infinity;
  return y.map((value) => {
    highest = Math.max(highest, value);
    return highest;
  });
}

function risingSlopes(y: readonly number[], widthRatio: number): number[] {
  const rises = y.slice(1).map((value, index) => (value - (y[index] as number)) / widthRatio);
  return y.map((_, index) => {
    const before = rises[index - 1] ?? rises[index] ?? 0;
    const after = rises[index] ?? before;
    return before * after === 0 ? 0 : (2 * before * after) / (before + after);
  });
}

function hermite(
  y: readonly number[],
  slopeRatios: readonly number[],
  {
    leftIndex: left,
    partFraction: part,
    widthRatio: width,
  }: { leftIndex: number; partFraction: number; widthRatio: number },
): number {
  const start = y[left] as number;
  const rise = (y[left + 1] as number) - start;
  const first = width * (slopeRatios[left] as number);
  const last = width * (slopeRatios[left + 1] as number);
  return start + part * (first + part * (3 * rise - 2 * first - last + part * (first + last - 2 * rise)));
}
