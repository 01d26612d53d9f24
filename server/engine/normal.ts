// The standard normal distribution, as accurate as double precision wants it here.

const SQRT_TWO_PI_RATIO = Math.sqrt(2 * Math.PI);
const CORE_LIMIT_RATIO = 7.07106781186547;
const TAIL_WEIGHTS = [1, 2, 3, 4] as const;

/**
 * Density of the standard normal distribution [1].
 * φ(z) = exp(−z²/2) / √(2π)
 * @param z  [1] any finite
 * @returns density [1], > 0
 * @source definition
 */
export function normalDensity(z: number): number {
  return Math.exp((-z * z) / 2) / SQRT_TWO_PI_RATIO;
}

/**
 * Probability of a standard normal value below z [1].
 * Φ(z), rational in the core, continued fraction in the tail; error below 1e-15
 * @param z  [1] any
 * @returns probability [1], 0 … 1
 * @source Hart 1968 in West 2005, Better approximations to cumulative normal functions (memory)
 */
export function normalProbability(z: number): number {
  const size = Math.abs(z);
  if (size > 37) return z > 0 ? 1 : 0;
  const bell = Math.exp((-size * size) / 2);
  let tail: number;
  if (size < CORE_LIMIT_RATIO) {
    tail = (bell * polynomial(NUMERATOR_WEIGHTS, size)) / polynomial(DENOMINATOR_WEIGHTS, size);
  } else {
    let fraction = size + 0.65;
    for (const term of TAIL_WEIGHTS.toReversed()) fraction = size + term / fraction;
    tail = bell / (fraction * SQRT_TWO_PI_RATIO);
  }
  return z > 0 ? 1 - tail : tail;
}

function polynomial(coefficientRatios: readonly number[], x: number): number {
  return coefficientRatios.reduce((sum, coefficient) => sum * x + coefficient, 0);
}

const NUMERATOR_WEIGHTS = [
  0.035_262_496_599_891_1, 0.700_383_064_443_688, 6.373_962_203_531_65, 33.912_866_078_383,
  112.079_291_497_871, 221.213_596_169_931, 220.206_867_912_376,
] as const;
const DENOMINATOR_WEIGHTS = [
  0.088_388_347_648_318_4, 1.755_667_163_182_64, 16.064_177_579_207, 86.780_732_202_946_1,
  296.564_248_779_674, 637.333_633_378_831, 793.826_512_519_948, 440.413_735_824_752,
] as const;
