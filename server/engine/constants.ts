// Every number of the model with its provenance; functions take values from here, never invent their own.
// Status words: seen, 2nd (read in a publication that quotes it), memory, common practice, chosen (moved by data).

/**
 * What a filler is filled with.
 */
export type Fill = 'regular' | 'light';

/**
 * What a panel is made of.
 */
export type Substrate = 'steel' | 'aluminium' | 'plastic';

/**
 * Thermal properties of a wet or cured film.
 */
export interface FillProperties {
  readonly densityKgPerM3: number;
  readonly heatCapacityJPerKgK: number;
  readonly conductivityWPerMK: number;
}

/**
 * Version of the model and of its constants; an estimate is stored with it.
 */
export const MODEL_VERSION = '1.1.0';

/**
 * Gas constant [J/(mol K)].
 */
export const GAS_CONSTANT_J_PER_MOL_K = 8.314462618;

/**
 * Thermal properties by fill.
 * Regular: density 1760–1850 kg/m³ (UP-11, 2nd), c and k chosen inside the ranges of UP-14 (seen). Light: chosen.
 */
export const FILLS: Readonly<Record<Fill, FillProperties>> = {
  regular: { densityKgPerM3: 1800, heatCapacityJPerKgK: 1120, conductivityWPerMK: 0.45 },
  light: { densityKgPerM3: 1270, heatCapacityJPerKgK: 1140, conductivityWPerMK: 0.29 },
};

/**
 * Heat capacity of a bare panel per area [J/(m² K)].
 * ρ c d of steel 0.8 mm, aluminium 1.2 mm, plastic 3 mm; memory.
 */
export const PANEL_CAPACITIES_J_PER_M2K: Readonly<Record<Substrate, number>> = {
  steel: 2900,
  aluminium: 2900,
  plastic: 5400,
};

/**
 * Surface coefficients and the cavity's lag: free convection plus radiation (CONV-1, RAD-1); cavity chosen.
 */
export const SURFACES = {
  stillAirWPerM2K: 8,
  movingAirWPerM2K: 15,
  behindPanelWPerM2K: 6,
  cavityLagS: 5400,
} as const;

/**
 * Cure kinetics. Heat of cure fitted to UP-11 (2nd); gel at 0.05 by UP-9 (mechanism seen, number memory);
 * sandable at 0.75, seed, exponents, ceiling and steepness chosen.
 */
export const KINETICS = {
  heatJPerKg: 55_000,
  seedConversion: 1e-4,
  gelConversion: 0.05,
  sandableConversion: 0.75,
  /** Stabiliser used when conversion begins, and how much more until it runs freely. */
  hardeningFromFraction: 0.95,
  hardeningOverFraction: 0.1,
  /** α_max = x / (0.4 + 0.6 x), x = (T + 75 °C) / 150 K, within 0.01 … 1. */
  ceilingZeroC: -75,
  ceilingSpanK: 150,
  ceilingXMinFraction: 0.01,
  ceilingBendFraction: 0.4,
  vitrificationSteepnessRatio: 40,
} as const;

/**
 * Instants and films of a batch; 45 °C, 0.5 mm, 12 h and 50 %RH are chosen (design MODEL §1, §2).
 */
export const BATCH = {
  coolC: 45,
  edgeThicknessMm: 0.5,
  horizonMin: 720,
  referenceHumidityPct: 50,
  saturatedHumidityPct: 100,
} as const;
