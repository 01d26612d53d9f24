// The chemistry of one depth: stabiliser used up, conversion, vitrification, in the variable that makes it easy.
import { KINETICS } from './constants.ts';
import { quickExponential } from './quickExponential.ts';

const SEED = KINETICS.seedConversion;

/**
 * How far conversion has come, as the variable in which the power law is a constant rate [1].
 * u = ((α + ε) / (1 − α))^½, so that dα/dt = K (α + ε)^½ (1 − α)^1.5 becomes du/dt = K (1 + ε) / 2
 * @param conversion  [1] α, 0 … < 1
 * @returns progress u [1], 0.01 … ∞
 * @source closed form of the autocatalytic law of order m + n = 2 (KAM-1) with m = ½
 */
export function progressFromConversion(conversion: number): number {
  return Math.sqrt((conversion + SEED) / (1 - conversion));
}

/**
 * The conversion at a progress [1].
 * α = (u² − ε) / (1 + u²)
 * @param progressRatio  [1] u, 0.01 … ∞
 * @returns conversion α [1], 0 … < 1
 * @source inverse of progressFromConversion
 */
export function conversionFromProgress(progressRatio: number): number {
  const square = progressRatio * progressRatio;
  return (square - SEED) / (1 + square);
}

/**
 * Progress of a sandable depth [1].
 */
export const SANDABLE_RATIO = progressFromConversion(KINETICS.sandableConversion);

/**
 * How much conversion a little progress brings [1].
 * dα/du = 2 u (1 + ε) / (1 + u²)²
 * @param progressRatio  [1] u, 0.01 … ∞
 * @returns slope [1], ≥ 0
 * @source derivative of conversionFromProgress
 */
export function conversionPerProgressRatio(progressRatio: number): number {
  const share = 1 / (1 + progressRatio * progressRatio);
  return 2 * (1 + SEED) * progressRatio * share * share;
}

/**
 * How freely conversion runs once the stabiliser is nearly used up [1].
 * x = clamp((ξ − 0.95) / 0.1, 0, 1),  H = x² (3 − 2 x)
 * @param usedFraction  [1] ξ, ≥ 0, 1 at the nominal end of induction
 * @returns H [1], 0 … 1
 * @source design MODEL §2
 */
export function hardeningFraction(usedFraction: number): number {
  const x = (usedFraction - KINETICS.hardeningFromFraction) / KINETICS.hardeningOverFraction;
  if (x <= 0) return 0;
  return x >= 1 ? 1 : x * x * (3 - 2 * x);
}

/**
 * The conversion near which a film of this temperature turns to glass and all but stops [1].
 * α_max = x / (0.4 + 0.6 x),  x = clamp((T + 75 °C) / 150 K, 0.01, 1)
 * @param temperatureC  [°C] any finite
 * @returns α_max [1], 0.025 … 1
 * @source design MODEL §2; diffusion control by UP-5
 */
export function ceilingConversion(temperatureC: number): number {
  const bend = KINETICS.ceilingBendFraction;
  const x = Math.min(
    1,
    Math.max(KINETICS.ceilingXMinFraction, (temperatureC - KINETICS.ceilingZeroC) / KINETICS.ceilingSpanK),
  );
  return x / (bend + (1 - bend) * x);
}

/** A film above freezing and below this is far from glass: its ceiling is at 0.71 or more. */
const FREE_UP_TO_CONVERSION = 0.3;
/** Past this the factor differs from 1 by less than 1e-7 and the exponential is saved. */
const FREE_BELOW_RATIO = -16;

/**
 * What vitrification leaves of the rate of conversion [1].
 * f_d = 1 / (1 + exp(40 (α − α_max)))
 * @param conversion  [1] α, 0 … 1
 * @param temperatureC  [°C] any finite
 * @returns factor [1], 0 … 1
 * @source Chern, Poehlein 1987 (memory), the usual diffusion factor; design MODEL §2
 */
export function mobilityFraction(conversion: number, temperatureC: number): number {
  if (conversion < FREE_UP_TO_CONVERSION && temperatureC > 0) return 1;
  const exponent = KINETICS.vitrificationSteepnessRatio * (conversion - ceilingConversion(temperatureC));
  return exponent < FREE_BELOW_RATIO ? 1 : 1 / (1 + quickExponential(exponent));
}
