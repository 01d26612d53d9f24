// One step of a film: conduction carried exactly for straight air and smooth heat of cure, chemistry by Kutta's rule.
import {
  cavityAfter,
  conductStage,
  correctConduction,
  fillAir,
  fillStepPhi,
  warmNodes,
} from './conductFilm.ts';
import { KINETICS } from './constants.ts';
import { enterPiece, followPiece } from './filmDrive.ts';
import type { FilmState } from './filmState.ts';
import { conversionFromProgress, conversionPerProgressRatio, SANDABLE_RATIO } from './kinetics.ts';
import { acceptStep, embeddedDifference, formStage, STAGE_COUNT } from './kuttaStep.ts';
import { rateNodes } from './rateNodes.ts';

/** Stabiliser used at which nothing holds the reaction back any more. */
const FREE_FRACTION = KINETICS.hardeningFromFraction + KINETICS.hardeningOverFraction;
const END_STAGE_INDEX = STAGE_COUNT - 1;
/** A pace is brisk when the time since mixing once more would bring this progress. */
const BRISK_RATIO = 1;

/**
 * Makes a film ready for its first step: air of the first piece, rates at mixing.
 * @param state  begun, written in place
 * @source own
 */
export function readyFilm(state: FilmState): void {
  fillAir(state);
  warmNodes(state, state.startWeights);
  const { kutta, operator } = state;
  for (let i = 0; i < kutta.count; i++) kutta.stageFractions[i] = kutta.startFractions[i] as number;
  for (let i = 0; i < operator.nodeCount; i++)
    state.stageConversions[i] = state.startConversions[i] as number;
  rateNodes(state, 0, 0);
}

/**
 * Tries a step and says how far it may be off; the state stays at the start of the step [1].
 * @param state  ready; its stage values hold the end of the step afterwards
 * @param stepS  [s] h, > 0, not past the drive's next breakpoint
 * @returns the largest difference of progress or stabiliser used between the rule's two answers [1], ≥ 0; more where
 *   the film all but stops
 * @source design DEVELOPERS.md, discretisation
 */
export function attemptStep(state: FilmState, stepS: number): number {
  const { kutta } = state;
  if (stepS !== state.phiStepS) fillStepPhi(state, stepS);
  for (let stage = 1; stage <= END_STAGE_INDEX; stage++) {
    const third = Math.min(stage, 3);
    const afterS = (stepS * third) / 3;
    formStage(kutta, stage, stepS);
    changeHeat(state);
    conductStage(state, third, afterS);
    warmNodes(state, state.stageWeights);
    rateNodes(state, stage, afterS);
  }
  return embeddedDifference(kutta, stepS, 0, kutta.count) / paceFraction(state, stepS);
}

/**
 * Where a cold film all but stops, a small difference of progress is a long time: it counts by what part of a brisk
 * pace is left, until the depth is sandable.
 */
function paceFraction({ kutta, operator, atS }: FilmState, stepS: number): number {
  const n = operator.nodeCount;
  let least = 1;
  if (kutta.count > n) return least;
  for (let i = 0; i < n; i++) {
    if ((kutta.stageFractions[i] as number) >= SANDABLE_RATIO) continue;
    const perS = kutta.ratesPerS[END_STAGE_INDEX * kutta.rowLength + i] as number;
    least = Math.min(least, BRISK_RATIO * (atS + stepS) * perS);
  }
  return least;
}

/**
 * Completes an attempted step: its modes with the heat's rate at both ends, and the temperatures they give.
 * @param state  written in place
 * @param stepS  [s] the step attempted last
 * @source own
 */
export function finishStep(state: FilmState, stepS: number): void {
  fillHeatRates(state, END_STAGE_INDEX, state.heatEndPerS);
  correctConduction(state, stepS);
  warmNodes(state, state.stageWeights);
}

/**
 * Takes the end of a finished step as the new start.
 * @param state  written in place
 * @param stepS  [s] the step finished last
 * @param endS  [s] since mixing, where the step ends
 * @source own
 */
export function takeStep(state: FilmState, stepS: number, endS: number): void {
  const { kutta, operator, drive } = state;
  const n = operator.nodeCount;
  acceptStep(kutta);
  state.cavityK = cavityAfter(state, stepS);
  state.atS = endS;
  for (let i = 0; i < n; i++) {
    state.startConversions[i] = state.stageConversions[i] as number;
    state.startWeights[i] = state.stageWeights[i] as number;
    state.heatStartPerS[i] = state.heatEndPerS[i] as number;
  }
  dropFreed(state);
  if (endS < drive.untilS) followPiece(drive, stepS);
  else enterPiece(drive, endS);
  fillAir(state);
}

/** Once every depth has used up its stabiliser, that half of the values is left alone. */
function dropFreed(state: FilmState): void {
  const { kutta, operator } = state;
  const n = operator.nodeCount;
  for (let i = n; i < kutta.count; i++) if ((kutta.startFractions[i] as number) < FREE_FRACTION) return;
  kutta.count = n;
}

/** Change of each mode's heat of cure from the start of the step to the stage in work. */
function changeHeat(state: FilmState): void {
  const { kutta, operator, startConversions, stageConversions, heatWeights, heatChangeWeights } = state;
  const n = operator.nodeCount;
  for (let j = 0; j < n; j++) heatChangeWeights[j] = 0;
  for (let i = 0; i < n; i++) {
    const conversion = conversionFromProgress(kutta.stageFractions[i] as number);
    const change = conversion - (startConversions[i] as number);
    stageConversions[i] = conversion;
    for (let j = 0; j < n; j++) {
      heatChangeWeights[j] = (heatChangeWeights[j] as number) + (heatWeights[j * n + i] as number) * change;
    }
  }
}

/** Rate of each mode's heat of cure from the rates of progress of one stage. */
function fillHeatRates(state: FilmState, stageIndex: number, heatPerS: Float64Array): void {
  const { kutta, operator, heatWeights } = state;
  const n = operator.nodeCount;
  for (let j = 0; j < n; j++) heatPerS[j] = 0;
  for (let i = 0; i < n; i++) {
    const progressPerS = kutta.ratesPerS[stageIndex * kutta.rowLength + i] as number;
    const conversionPerS = conversionPerProgressRatio(kutta.stageFractions[i] as number) * progressPerS;
    for (let j = 0; j < n; j++) {
      heatPerS[j] = (heatPerS[j] as number) + (heatWeights[j * n + i] as number) * conversionPerS;
    }
  }
}
