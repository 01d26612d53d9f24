// How rates depend on temperature: the one place where the chemistry meets it.
import { quickExponential } from './quickExponential.ts';

/**
 * A rate over its value at a reference temperature [1].
 * a = exp(E/R (1/T_ref − 1/T))
 * @param activationK  [K] E/R, 0 … 25 000
 * @param coldnessPerK  [1/K] 1/T_ref − 1/T, negative when colder than the reference
 * @returns ratio [1], > 0, 1 at the reference, within 4e-8 of itself
 * @source Arrhenius 1889; checked against ARR-1 … ARR-4 and Q10-1
 */
export function arrheniusRatio(activationK: number, coldnessPerK: number): number {
  return quickExponential(activationK * coldnessPerK);
}
