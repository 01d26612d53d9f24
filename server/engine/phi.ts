// The functions exact propagation is made of: the exponential and its divided remainders.

/** Below this the power series is exact to rounding, above it the recursion loses no digits that matter. */
const SERIES_UP_TO_RATIO = 0.6;
/** Entries a call writes. */
const VALUES_COUNT = 4;

/**
 * Writes e^{−x}, φ1(−x), φ2(−x) and φ3(−x) at the given place.
 * φ0(z) = e^z, φ_{k+1}(z) = (φ_k(z) − 1/k!) / z, φ_k(0) = 1/k!
 * @param x  [1] decay rate times time, −20 … any
 * @param values  [1] written in place, four entries from index
 * @param index  [1] where to write, 0 … values.length − 4
 * @source Hochbruck, Ostermann 2010, Exponential integrators, eq. 2.5, doi 10.1017/S0962492910000048
 */
export function fillPhi(x: number, values: Float64Array, index: number): void {
  let first: number;
  let second: number;
  let third: number;
  let decay: number;
  if (x < SERIES_UP_TO_RATIO && x > -SERIES_UP_TO_RATIO) {
    third = seriesPhi3(x);
    second = 0.5 - x * third;
    first = 1 - x * second;
    decay = 1 - x * first;
  } else {
    decay = Math.exp(-x);
    first = (1 - decay) / x;
    second = (1 - first) / x;
    third = (0.5 - second) / x;
  }
  values[index] = decay;
  values[index + 1] = first;
  values[index + 2] = second;
  values[index + VALUES_COUNT - 1] = third;
}

/** φ3(−x) = Σ (−x)^k / (k+3)!; the first term left out is below 1e-14 at the end of its range. */
function seriesPhi3(x: number): number {
  let sum = 1 / 479_001_600;
  sum = 1 / 39_916_800 - x * sum;
  sum = 1 / 3_628_800 - x * sum;
  sum = 1 / 362_880 - x * sum;
  sum = 1 / 40_320 - x * sum;
  sum = 1 / 5040 - x * sum;
  sum = 1 / 720 - x * sum;
  sum = 1 / 120 - x * sum;
  sum = 1 / 24 - x * sum;
  return 1 / 6 - x * sum;
}
