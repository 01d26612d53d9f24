// How hard a film is: ripening minutes are added up at a pace set by warmth, and a two-parameter S-curve of them tells
// the hardness. A law of the simulator's own; the server's estimator uses another.
import type { ProductPlan, RipeningPlan } from '../scenarios/scenario.ts';

/** Hardness 0…1 at which a film can no longer be spread. */
export const GEL_SHARE = 0.06;
/** Hardness 0…1 from which a film powders under the paper. */
export const SAND_SHARE = 0.82;

/** Makes 10 °C half as quick as 20 °C. */
export const COMMON_RIPENING: RipeningPlan = { frozenC: -72, paceK: 545 };

/** Ripening minutes a minute at a film temperature: 1 at 20 °C, by the free-volume law of Vogel, Fulcher and Tammann. */
export function paceRatioAt(filmC: number, { frozenC, paceK }: RipeningPlan = COMMON_RIPENING): number {
  return Math.exp(paceK * (1 / (20 - frozenC) - 1 / (Math.max(filmC, LOWEST_C) - frozenC)));
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

/** The law is not asked below this. */
const LOWEST_C = -30;
