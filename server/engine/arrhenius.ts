// How rates depend on temperature.
import { GAS_CONSTANT_J_PER_MOL_K } from './constants.ts';

/**
 * A rate over its value at a reference temperature [1].
 * exp(−E/R (1/T − 1/T_ref))
 * @param activationJPerMol  [J/mol] E, 0 … 200 000
 * @param temperatureK  [K] T, > 0
 * @param referenceK  [K] T_ref, > 0
 * @returns ratio [1], > 0, 1 at the reference
 * @source Arrhenius 1889; checked against ARR-1 … ARR-4 and Q10-1
 */
export function arrheniusRatio(activationJPerMol: number, temperatureK: number, referenceK: number): number {
  return Math.exp((activationJPerMol / GAS_CONSTANT_J_PER_MOL_K) * (1 / referenceK - 1 / temperatureK));
}

/**
 * The activation energy with which a rate doubles between two temperatures [J/mol].
 * E = R ln 2 / (1/T₁ − 1/T₂)
 * @param coldK  [K] T₁, > 0
 * @param warmK  [K] T₂, > T₁
 * @returns activation energy [J/mol], > 0
 * @source identity, Q10-1
 */
export function doublingActivationJPerMol(coldK: number, warmK: number): number {
  return (GAS_CONSTANT_J_PER_MOL_K * Math.LN2) / (1 / coldK - 1 / warmK);
}
