// The functions exact propagation is made of: the exponential and its divided remainders.

/** Below this the power series is exact to rounding, above it the recursion loses no digits that matter. */
const SERIES_UP_TO_RATIO = 0.6;
/** Past this the exponential is 0 to rounding. */
const GONE_FROM_RATIO = 40;

/**
 * Writes e^{−x}, φ1(−x), φ2(−x) and φ3(−x) at the given place.
 * φ0(z) = e^z, φ_{k+1}(z) = (φ_k(z) − 1/k!) / z, φ_k(0) = 1/k!
 * @param x  [1] decay rate times time, −20 … any
 * @param values  [1] written in place, four entries from index
 * @param index  [1] where to write, 0 … values.length − 4
 * @source Hochbruck, Ostermann 2010, Exponential integrators, eq. 2.5, doi 10.1017/S0962492910000048
 */
export function fillPhi(x: number, values: Float64Array, index: number): void {
  if (isSmall(x)) fillSeries(x, values, index);
  else fillQuotients(x, x > GONE_FROM_RATIO ? 0 : Math.exp(-x), { values, index });
}

/**
 * Writes the same at one, two and three thirds of x, with one exponential.
 * @param x  [1] decay rate times time, −20 … any
 * @param values  [1] written in place, four entries from index, and one and two further on
 * @param index  [1] where to write the first
 * @param apartCount  [1] entries from one third to the next
 * @source e^{−2x/3} = (e^{−x/3})², e^{−x} = (e^{−x/3})³
 */
export function fillPhiThirds(x: number, values: Float64Array, index: number, apartCount: number): void {
  const part = x / 3;
  fillPhi(part, values, index);
  const decay = values[index] as number;
  if (isSmall(2 * part)) fillSeries(2 * part, values, index + apartCount);
  else fillQuotients(2 * part, decay * decay, { values, index: index + apartCount });
  if (isSmall(x)) fillSeries(x, values, index + 2 * apartCount);
  else fillQuotients(x, decay * decay * decay, { values, index: index + 2 * apartCount });
}

function isSmall(x: number): boolean {
  return x < SERIES_UP_TO_RATIO && x > -SERIES_UP_TO_RATIO;
}

function fillSeries(x: number, values: Float64Array, index: number): void {
  const third = seriesPhi3(x);
  const second = 0.5 - x * third;
  const first = 1 - x * second;
  values[index] = 1 - x * first;
  values[index + 1] = first;
  values[index + 2] = second;
  values[index + 3] = third;
}

function fillQuotients(
  x: number,
  decayRatio: number,
  { values, index }: { values: Float64Array; index: number },
): void {
  const perX = 1 / x;
  const first = (1 - decayRatio) * perX;
  const second = (1 - first) * perX;
  values[index] = decayRatio;
  values[index + 1] = first;
  values[index + 2] = second;
  values[index + 3] = (0.5 - second) * perX;
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
