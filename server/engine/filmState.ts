// Everything a film needs while it is solved, laid out once and used again for the next film.
import type { CardConstants, CardStatement, FilmJob } from './cardStatement.ts';
import {
  FILLS,
  GAS_CONSTANT_J_PER_MOL_K,
  KINETICS,
  PANEL_CAPACITIES_J_PER_M2K,
  SURFACES,
} from './constants.ts';
import { contactPeakK } from './contactPeak.ts';
import { beginDrive, type FilmDrive, makeFilmDrive } from './filmDrive.ts';
import { fillHeatOperator, type HeatOperator, makeHeatOperator } from './heatOperator.ts';
import { progressFromConversion } from './kinetics.ts';
import { type KuttaStep, makeKuttaStep } from './kuttaStep.ts';
import { NODES_MAX } from './lobattoGrid.ts';
import { joulesFromKilojoules, kelvinFromCelsius, metresFromMillimetres } from './units.ts';

/**
 * A film at one instant, the step it is trying, and its constants. Temperatures of modes count from `baseK`.
 */
export interface FilmState {
  readonly drive: FilmDrive;
  readonly operator: HeatOperator;
  /** Progress u of every node, then stabiliser used ξ of every node. */
  readonly kutta: KuttaStep;
  readonly startConversions: Float64Array;
  readonly stageConversions: Float64Array;
  /** Modes m at the start of the step, at the stage in work, and their heat of cure (q/c) Vᵀ M_f α. */
  readonly startWeights: Float64Array;
  readonly stageWeights: Float64Array;
  readonly insideWeights: Float64Array;
  readonly heatWeights: Float64Array;
  /** Rate of each mode's heat of cure at the start, change over the stage, and rate at the end of the step. */
  readonly heatStartPerS: Float64Array;
  readonly heatChangeWeights: Float64Array;
  readonly heatEndPerS: Float64Array;
  /** What the air gives each mode: at the start of the step, its slope, and by the cavity's fading lag. */
  readonly airPerS: Float64Array;
  readonly airSlopePerS: Float64Array;
  readonly lagPerS: Float64Array;
  /** e^−x, φ1, φ2, φ3 for every mode at each third of the step, and the cavity's e^−μτ there. */
  readonly phiRatios: Float64Array;
  readonly fadeRatios: Float64Array;
  phiStepS: number;
  readonly nodeK: Float64Array;
  atS: number;
  cavityK: number;
  /** How far the cavity is from its steady trail behind the air. */
  cavityLagK: number;
  baseK: number;
  /** The hottest the film is on touching the panel. */
  contactPeakK: number;
  frontWPerM2K: number;
  /** Both reactions: rate at the reference in the mixture at hand, E/R, and the reference. */
  inductionPerS: number;
  inductionK: number;
  conversionPerS: number;
  conversionK: number;
  perReferenceK: number;
}

/**
 * Room for a film of the largest size.
 * @returns a state to be begun
 * @source own
 */
export function makeFilmState(): FilmState {
  return {
    drive: makeFilmDrive(),
    operator: makeHeatOperator(),
    kutta: makeKuttaStep(2 * NODES_MAX),
    startConversions: new Float64Array(NODES_MAX),
    stageConversions: new Float64Array(NODES_MAX),
    startWeights: new Float64Array(NODES_MAX),
    stageWeights: new Float64Array(NODES_MAX),
    insideWeights: new Float64Array(NODES_MAX),
    heatWeights: new Float64Array(NODES_MAX * NODES_MAX),
    heatStartPerS: new Float64Array(NODES_MAX),
    heatChangeWeights: new Float64Array(NODES_MAX),
    heatEndPerS: new Float64Array(NODES_MAX),
    airPerS: new Float64Array(NODES_MAX),
    airSlopePerS: new Float64Array(NODES_MAX),
    lagPerS: new Float64Array(NODES_MAX),
    phiRatios: new Float64Array(NODES_MAX * 12),
    fadeRatios: new Float64Array(3),
    phiStepS: 0,
    nodeK: new Float64Array(NODES_MAX),
    atS: 0,
    cavityK: 0,
    cavityLagK: 0,
    baseK: 0,
    contactPeakK: 0,
    frontWPerM2K: 0,
    inductionPerS: 0,
    inductionK: 0,
    conversionPerS: 0,
    conversionK: 0,
    perReferenceK: 0,
  };
}

/**
 * What a film is begun with.
 */
export interface FilmStart {
  readonly card: CardStatement;
  readonly constants: CardConstants;
  readonly job: FilmJob;
  readonly nodeCount: number;
  /** Heat of cure. */
  readonly heatJPerKg: number;
}

/**
 * Sets a state to the instant of mixing.
 * T = T_mix in the film, T_panel = (h_f T_air + h_b T_cavity) / (h_f + h_b) unless measured, T_cavity = T_air unless
 * told; both rates at the card's own temperature, w̃ and √w̃ for hardener
 * @param state  written in place
 * @param start  the film; judged before
 * @source design MODEL §2, §3
 */
export function beginFilm(
  state: FilmState,
  { card, constants, job, nodeCount, heatJPerKg }: FilmStart,
): void {
  beginDrive(state.drive, job, card);
  const fill = FILLS[card.fill];
  state.frontWPerM2K = job.movingAir === true ? SURFACES.movingAirWPerM2K : SURFACES.stillAirWPerM2K;
  const underlayM = metresFromMillimetres(job.underlayMm ?? 0);
  fillHeatOperator(state.operator, {
    nodeCount,
    densityKgPerM3: fill.densityKgPerM3,
    heatCapacityJPerKgK: fill.heatCapacityJPerKgK,
    conductivityWPerMK: fill.conductivityWPerMK,
    thicknessM: metresFromMillimetres(job.thicknessMm),
    panelJPerM2K:
      PANEL_CAPACITIES_J_PER_M2K[job.substrate] + fill.densityKgPerM3 * fill.heatCapacityJPerKgK * underlayM,
    frontWPerM2K: state.frontWPerM2K,
    backWPerM2K: SURFACES.behindPanelWPerM2K,
  });
  const hardenerRatio = job.hardenerPct / card.hardenerPct;
  state.inductionPerS = hardenerRatio / constants.inductionS;
  state.inductionK = joulesFromKilojoules(card.inductionActivationKJPerMol) / GAS_CONSTANT_J_PER_MOL_K;
  state.conversionPerS =
    ((1 + KINETICS.seedConversion) / 2) * constants.rateConstantPerS * Math.sqrt(hardenerRatio);
  state.conversionK = joulesFromKilojoules(card.activationKJPerMol) / GAS_CONSTANT_J_PER_MOL_K;
  state.perReferenceK = 1 / kelvinFromCelsius(card.atC);
  state.atS = 0;
  state.phiStepS = 0;
  state.baseK = state.drive.airK;
  state.cavityK = job.cavityStartC === undefined ? state.drive.airK : kelvinFromCelsius(job.cavityStartC);
  beginNodes(state, job, heatJPerKg / fill.heatCapacityJPerKgK);
}

function beginNodes(state: FilmState, job: FilmJob, heatK: number): void {
  const { operator, kutta, startConversions, startWeights, heatWeights, heatStartPerS } = state;
  const { filmJPerM2K, nodeJPerM2K, modeWeights } = operator;
  const n = operator.nodeCount;
  const back = SURFACES.behindPanelWPerM2K;
  const front = state.frontWPerM2K;
  const balanceK = (front * state.drive.airK + back * state.cavityK) / (front + back);
  const panelK = job.panelStartC === undefined ? balanceK : kelvinFromCelsius(job.panelStartC);
  const mixK = job.mixC === undefined ? state.drive.airK : kelvinFromCelsius(job.mixC);
  let filmSum = 0;
  for (let i = 0; i < n; i++) filmSum += filmJPerM2K[i] as number;
  const bareJPerM2K = (nodeJPerM2K[n - 1] as number) - (filmJPerM2K[n - 1] as number);
  state.contactPeakK = contactPeakK(mixK, panelK, filmSum / bareJPerM2K);
  kutta.count = 2 * n;
  for (let i = 0; i < n; i++) {
    kutta.startFractions[i] = progressFromConversion(0);
    kutta.startFractions[n + i] = 0;
    startConversions[i] = 0;
  }
  for (let j = 0; j < n; j++) {
    let sum = 0;
    for (let i = 0; i < n; i++) {
      const film = filmJPerM2K[i] as number;
      const weight = modeWeights[i * n + j] as number;
      sum +=
        weight * (film * (mixK - state.baseK) + ((nodeJPerM2K[i] as number) - film) * (panelK - state.baseK));
      heatWeights[j * n + i] = heatK * film * weight;
    }
    startWeights[j] = sum;
    heatStartPerS[j] = 0;
  }
}
