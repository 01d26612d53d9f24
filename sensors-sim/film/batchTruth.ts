// What a batch really is: its build and its feather edge side by side, with the luck of its mixing, until it powders.
import type { StartBatchWire } from '../../server/contract/index.ts';
import { stepBody } from '../air/stepRoom.ts';
import { drawNormal, makeRandom } from '../random.ts';
import type { CoatPlan, ProductPlan } from '../scenarios/scenario.ts';
import { GEL_SHARE, hardnessShareOf, SAND_SHARE } from './maturity.ts';
import { type FilmDrive, type FilmState, type FilmTruth, restingPanelC, stepFilm } from './stepFilm.ts';

export interface BatchTruth {
  readonly build: FilmTruth;
  readonly edge: FilmTruth;
  readonly buildNow: FilmState;
  readonly edgeNow: FilmState;
  readonly bodyC: number;
  readonly spot: Spot;
}

/** Where on the car, and where under the lamp: no panel has just the air of its bay's sensor, no lamp stands just where it should. */
export interface Spot {
  readonly offsetK: number;
  readonly lampRatio: number;
}

export interface Mix {
  readonly seed: number;
  readonly name: string;
  readonly product: ProductPlan;
  readonly coat: CoatPlan;
  readonly substrate: StartBatchWire['substrate'];
  readonly isWeighed: boolean;
  readonly relativeHumidityPct: number;
}

/** The truth of a mix as it goes onto the panel. */
export function makeBatchTruth(mix: Mix, around: Omit<FilmDrive, 'lampWPerM2' | 'stepS'>): BatchTruth {
  const random = makeRandom(mix.seed, `mix ${mix.name}`);
  const batchRatio = Math.exp(mix.product.batchSd * drawNormal(random));
  const dosingRatio =
    Math.exp((mix.isWeighed ? WEIGHED_SD : BEAD_SD) * drawNormal(random)) * mix.coat.hardenerShare;
  const thicknessMm = mix.coat.thicknessMm * Math.exp(THICKNESS_SD * drawNormal(random));
  // Twice the hardener is not twice as quick.
  const dosingPaceRatio = dosingRatio ** 0.75;
  const paceRatio =
    batchRatio * dosingPaceRatio * (1 - (mix.relativeHumidityPct - 50) / mix.product.dampingPct);
  const panelJPerM2K = PANELS_J_PER_M2K[mix.substrate] + UNDERLAY_J_PER_M2K * mix.coat.underlayMm;
  const heatRatio = Math.exp(HEAT_SD * drawNormal(random));
  const product = { ...mix.product, selfHeatK: mix.product.selfHeatK * heatRatio };
  const spot = {
    offsetK: SPOT_SD_K * drawNormal(random),
    lampRatio: Math.exp(LAMP_PLACE_SD * drawNormal(random)),
  };
  const film = (ofMm: number): FilmTruth => ({
    product,
    thicknessMm: ofMm,
    panelJPerM2K,
    paceRatio,
  });
  const fresh = { filmC: around.airC, panelC: restingPanelC(around), doseMin: 0 };
  return {
    build: film(thicknessMm),
    edge: film(Math.min(EDGE_MM, thicknessMm)),
    buildNow: fresh,
    edgeNow: fresh,
    bodyC: around.bodyC,
    spot,
  };
}

/** The truth one step later. */
export function stepBatchTruth(truth: BatchTruth, drive: Omit<FilmDrive, 'bodyC'>): BatchTruth {
  const bodyC = stepBody(truth.bodyC, drive);
  const { offsetK, lampRatio } = truth.spot;
  const met = {
    ...drive,
    airC: drive.airC + offsetK,
    bodyC: bodyC + offsetK,
    lampWPerM2: drive.lampWPerM2 * lampRatio,
  };
  return {
    ...truth,
    bodyC,
    buildNow: stepFilm(truth.build, truth.buildNow, met),
    edgeNow: stepFilm(truth.edge, truth.edgeNow, met),
  };
}

/** Whether the mix can no longer be spread. */
export function isGelled({ build, buildNow }: BatchTruth): boolean {
  return hardnessShareOf(build.product, buildNow.doseMin) >= GEL_SHARE;
}

/** Whether it powders everywhere; a tester who feels it a little riper or greener passes a ratio other than 1. */
export function isPowdering(truth: BatchTruth, feltRatio = 1): boolean {
  const isHard = (film: FilmTruth, now: FilmState): boolean =>
    hardnessShareOf(film.product, now.doseMin * feltRatio) >= SAND_SHARE && now.filmC <= SOFT_ABOVE_C;
  return isHard(truth.build, truth.buildNow) && isHard(truth.edge, truth.edgeNow);
}

const EDGE_MM = 0.5;
/** A film this warm loads the paper however hard it will be. */
const SOFT_ABOVE_C = 46;
const BEAD_SD = 0.1;
const WEIGHED_SD = 0.03;
const THICKNESS_SD = 0.12;
const HEAT_SD = 0.15;
/** From one spot of a bay to the next, and from one placing of a lamp to the next. */
const SPOT_SD_K = 0.5;
const LAMP_PLACE_SD = 0.05;
const UNDERLAY_J_PER_M2K = 1900;
const PANELS_J_PER_M2K = { steel: 2750, aluminium: 2600, plastic: 5100 } as const;
