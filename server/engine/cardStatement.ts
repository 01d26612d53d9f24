// What goes into the engine: a product card, its constants and a film to solve.
import type { Fill, Substrate } from './constants.ts';

/**
 * Values over time: [minute since mixing, value], ascending, linear between points, constant outside them.
 */
export type Series = readonly (readonly [number, number])[];

/**
 * What the tin or the shop states of a product; further properties are tolerated.
 */
export interface CardStatement {
  readonly fill: Fill;
  readonly atC: number;
  readonly thicknessMm: number;
  readonly hardenerPct: number;
  readonly workingMin: number;
  readonly sandMin: number;
  readonly activationKJPerMol: number;
  readonly inductionActivationKJPerMol: number;
  readonly humidityEffectPer10Pct: number;
}

/**
 * What calibration finds for a card: induction time and rate constant, both at the card's temperature.
 */
export interface CardConstants {
  readonly inductionS: number;
  readonly rateConstantPerS: number;
}

/**
 * One film on one panel in its air.
 */
export interface FilmJob {
  readonly substrate: Substrate;
  readonly thicknessMm: number;
  readonly hardenerPct: number;
  readonly airC: Series;
  readonly humidityPct: Series;
  /** Air behind the panel at mixing; the bay's air when missing. */
  readonly cavityStartC?: number;
  /** Panel at mixing; in balance between both airs when missing. */
  readonly panelStartC?: number;
  /** Filler at mixing; the bay's air when missing. */
  readonly mixC?: number;
  /** Spells of a lamp: [from minute, to minute, flux absorbed in W/m²]; spells that overlap add up. */
  readonly lampMinWPerM2?: readonly (readonly [number, number, number])[];
  readonly movingAir?: boolean;
  /** Cured filler under this film. */
  readonly underlayMm?: number;
  /** Time of this batch over time on the card, 1 when missing. */
  readonly timeScale?: number;
}
