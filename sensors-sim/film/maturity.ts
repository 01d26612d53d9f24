// How hard a film is: ripening minutes are added up at a pace set by warmth, and a two-parameter S-curve of them tells
// the hardness. A law of the simulator's own; the server's estimator uses another.
import type { ProductPlan } from '../scenarios/scenario.ts';

/** Hardness 0…1 at which a film can no longer be spread. */
export const GEL_SHARE = 0.06;
/** Hardness 0…1 from which a film powders under the paper. */
export const SAND_SHARE = 0.82;

/** Ripening minutes a minute at a film temperature: 1 at 20 °C, by the free-volume law of Vogel, Fulcher and Tammann. */
export function paceRatioAt(filmC: number): number {
  return Math.exp(PACE_K * (1 / (20 - FROZEN_C) - 1 / (Math.max(filmC, LOWEST_C) - FROZEN_C)));
}

/** Hardness of a film that has ripened so long: Hill's curve through the product's two measured points. */
export function hardnessShareOf(product: ProductPlan, doseMin: number): number {
  if (doseMin <= 0) return 0;
  const [gelOdds, sandOdds] = [oddsOf(GEL_SHARE), oddsOf(SAND_SHARE)];
  const steepness = Math.log(sandOdds / gelOdds) / Math.log(product.sandDoseMin / product.gelDoseMin);
  const odds = gelOdds * (doseMin / product.gelDoseMin) ** steepness;
  return odds / (1 + odds);
}

function oddsOf(share: number): number {
  return share / (1 - share);
}

/** Ripening would stop here. */
const FROZEN_C = -72;
/** The law is not asked below this. */
const LOWEST_C = -30;
/** Makes 10 °C half as quick as 20 °C. */
const PACE_K = 545;
