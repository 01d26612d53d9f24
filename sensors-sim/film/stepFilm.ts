// One film on its panel a step later: two lumps of heat, the cure's own warmth, and the ripening that follows from it.
import type { ProductPlan } from '../scenarios/scenario.ts';
import { hardnessShareOf, paceRatioAt } from './maturity.ts';

export interface FilmState {
  readonly filmC: number;
  readonly panelC: number;
  readonly doseMin: number;
}

/** What one mix on one panel is, as nobody in the shop knows it. */
export interface FilmTruth {
  readonly product: ProductPlan;
  readonly thicknessMm: number;
  readonly panelJPerM2K: number;
  /** Ripening against the product's own at its hardener: batch, dosing and humidity together. */
  readonly paceRatio: number;
}

export interface FilmDrive {
  readonly airC: number;
  /** The car behind the panel. */
  readonly bodyC: number;
  readonly isAirMoving: boolean;
  readonly lampWPerM2: number;
  readonly stepS: number;
}

/** The film one step later; both temperatures by one implicit step, so that thin films need no small one. */
export function stepFilm(truth: FilmTruth, state: FilmState, drive: FilmDrive): FilmState {
  const { product, thicknessMm } = truth;
  const doseMin =
    state.doseMin + (truth.paceRatio * paceRatioAt(state.filmC, product.ripening) * drive.stepS) / 60;
  const hardened = hardnessShareOf(product, doseMin) - hardnessShareOf(product, state.doseMin);
  const film = Math.max(product.filmJPerM2K * thicknessMm, 1) / drive.stepS;
  const panel = truth.panelJPerM2K / drive.stepS;
  const front = drive.isAirMoving ? FRONT_MOVING_W_PER_M2K : FRONT_STILL_W_PER_M2K;
  const contact = product.filmWPerMK / (thicknessMm / 2000);
  // (film + front + contact) F − contact P = a;  (panel + back + contact) P − contact F = b
  const a = film * (state.filmC + product.selfHeatK * hardened) + front * drive.airC + drive.lampWPerM2;
  const b = panel * state.panelC + BACK_W_PER_M2K * drive.bodyC;
  const filmSide = film + front + contact;
  const panelSide = panel + BACK_W_PER_M2K + contact;
  const determinant = filmSide * panelSide - contact * contact;
  return {
    filmC: (a * panelSide + contact * b) / determinant,
    panelC: (b * filmSide + contact * a) / determinant,
    doseMin,
  };
}

/** Where a bare panel rests between the air before it and the car behind it. */
export function restingPanelC({
  airC,
  bodyC,
  isAirMoving,
}: Pick<FilmDrive, 'airC' | 'bodyC' | 'isAirMoving'>): number {
  const front = isAirMoving ? FRONT_MOVING_W_PER_M2K : FRONT_STILL_W_PER_M2K;
  return (front * airC + BACK_W_PER_M2K * bodyC) / (front + BACK_W_PER_M2K);
}

const FRONT_STILL_W_PER_M2K = 7.4;
const FRONT_MOVING_W_PER_M2K = 13.5;
const BACK_W_PER_M2K = 5.2;
