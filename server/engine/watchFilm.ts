// Looks into each finished step for the instants, the peak and the samples; no step is ever shortened for them.
import { BATCH, KINETICS } from './constants.ts';
import { warmInside } from './conductFilm.ts';
import type { FilmState } from './filmState.ts';
import { conversionFromProgress, progressFromConversion, SANDABLE_RATIO } from './kinetics.ts';
import {
  crossingFraction,
  hottestDepthK,
  hottestInsideK,
  hottestNodeIndex,
  progressInsideRatio,
  summitAfterS,
  warmingKPerS,
} from './insideStep.ts';
import { celsiusFromKelvin, kelvinFromCelsius, secondsFromMinutes } from './units.ts';

/**
 * The film at one instant.
 */
export interface FilmSample {
  readonly atMin: number;
  readonly frontC: number;
  readonly backC: number;
  readonly panelC: number;
  readonly minConversion: number;
  readonly maxConversion: number;
}

/**
 * What has been seen of a film so far; instants are infinite until they are reached.
 */
export interface FilmWatch {
  gelS: number;
  sandS: number;
  coolS: number;
  peakK: number;
  isDone: boolean;
  samples: FilmSample[];
  /** Where the samples come in time. */
  sampleOrderIndices: number[];
  sampleAtMin: readonly number[];
  sampleCount: number;
  lastSampleS: number;
}

const FRESH_RATIO = progressFromConversion(0);
const GEL_RATIO = progressFromConversion(KINETICS.gelConversion);
const COOL_K = kelvinFromCelsius(BATCH.coolC);
const HORIZON_S = secondsFromMinutes(BATCH.horizonMin);
/** Halvings of the part of a step in which a film becomes cool. */
const ROOT_STEPS_MAX = 40;
/** Thirds taken off a step on the way to its coolest moment. */
const DIP_STEPS_COUNT = 24;

/**
 * A watch to be begun.
 * @returns a watch
 * @source own
 */
export function makeFilmWatch(): FilmWatch {
  return {
    gelS: Infinity,
    sandS: Infinity,
    coolS: Infinity,
    peakK: 0,
    isDone: false,
    samples: [],
    sampleOrderIndices: [],
    sampleAtMin: [],
    sampleCount: 0,
    lastSampleS: 0,
  };
}

/**
 * Sets a watch to the instant of mixing.
 * @param watch  written in place
 * @param state  the film at mixing
 * @param sampleAtMin  [min] instants to sample, in any order
 * @source own
 */
export function beginWatch(watch: FilmWatch, state: FilmState, sampleAtMin: readonly number[]): void {
  watch.gelS = Infinity;
  watch.sandS = Infinity;
  watch.coolS = Infinity;
  watch.peakK = state.contactPeakK;
  watch.isDone = false;
  watch.samples = [];
  watch.sampleAtMin = sampleAtMin;
  watch.sampleOrderIndices = sampleAtMin.length === 0 ? NO_INDICES : timeOrder(sampleAtMin);
  watch.sampleCount = 0;
  watch.lastSampleS = 0;
  for (const atMin of sampleAtMin) watch.lastSampleS = Math.max(watch.lastSampleS, secondsFromMinutes(atMin));
}

const NO_INDICES: number[] = [];

function timeOrder(sampleAtMin: readonly number[]): number[] {
  return sampleAtMin
    .map((_, index) => index)
    .sort((left, right) => (sampleAtMin[left] as number) - (sampleAtMin[right] as number));
}

/**
 * Looks into a finished step.
 * @param watch  written in place
 * @param state  finished, not yet taken; its nodeK is left at any instant of the step
 * @param stepS  [s] h
 * @source design MODEL §2: gel is the first depth, sandable the last
 */
export function watchStep(watch: FilmWatch, state: FilmState, stepS: number): void {
  const endS = state.atS + stepS;
  if (state.atS < HORIZON_S && watch.coolS === Infinity) {
    const isSanded = watch.sandS < Infinity;
    if (watch.gelS === Infinity) watchGel(watch, state, stepS);
    if (!isSanded) watchSand(watch, state, stepS);
    if (!isSanded) watchPeak(watch, state, stepS);
    if (watch.sandS < Infinity) watchCool(watch, state, stepS);
  }
  const order = watch.sampleOrderIndices;
  while (watch.sampleCount < order.length) {
    const index = order[watch.sampleCount] as number;
    const atMin = watch.sampleAtMin[index] as number;
    const afterS = secondsFromMinutes(atMin) - state.atS;
    if (afterS > stepS) break;
    watch.samples[index] = sampleInside(state, stepS, { atMin, afterS });
    watch.sampleCount++;
  }
  const isSettled = watch.coolS < Infinity || endS >= HORIZON_S;
  watch.isDone = isSettled && watch.sampleCount === order.length;
}

function watchGel(watch: FilmWatch, state: FilmState, stepS: number): void {
  const { stageFractions } = state.kutta;
  let first = 0;
  for (let i = 1; i < state.operator.nodeCount; i++) {
    if ((stageFractions[i] as number) > (stageFractions[first] as number)) first = i;
  }
  if ((stageFractions[first] as number) < GEL_RATIO) return;
  const look = { stepS, levelRatio: GEL_RATIO };
  let part = crossingFraction(state, first, look);
  for (let i = 0; i < state.operator.nodeCount; i++) {
    if (i === first || progressInsideRatio(state, i, { stepS, partFraction: part }) <= GEL_RATIO) continue;
    part = crossingFraction(state, i, look);
  }
  watch.gelS = state.atS + stepS * part;
}

function watchSand(watch: FilmWatch, state: FilmState, stepS: number): void {
  const { stageFractions } = state.kutta;
  let last = 0;
  for (let i = 1; i < state.operator.nodeCount; i++) {
    if ((stageFractions[i] as number) < (stageFractions[last] as number)) last = i;
  }
  if ((stageFractions[last] as number) < SANDABLE_RATIO) return;
  const look = { stepS, levelRatio: SANDABLE_RATIO };
  let part = crossingFraction(state, last, look);
  for (let i = 0; i < state.operator.nodeCount; i++) {
    if (i === last || progressInsideRatio(state, i, { stepS, partFraction: part }) >= SANDABLE_RATIO)
      continue;
    part = crossingFraction(state, i, look);
  }
  watch.sandS = state.atS + stepS * part;
}

/** The hottest depth at the end decides whether the step hides a summit. */
function watchPeak(watch: FilmWatch, state: FilmState, stepS: number): void {
  const lastS = Math.min(watch.sandS - state.atS, stepS);
  const hottest = hottestNodeIndex(state);
  let highestK = lastS === stepS ? hottestDepthK(state) : hottestInsideK(state, stepS, lastS);
  const { startWeights, heatStartPerS, stageWeights, heatEndPerS } = state;
  const endKPerS = warmingKPerS(state, hottest, {
    weights: stageWeights,
    heatPerS: heatEndPerS,
    afterS: stepS,
  });
  if (endKPerS < 0) {
    const startKPerS = warmingKPerS(state, hottest, {
      weights: startWeights,
      heatPerS: heatStartPerS,
      afterS: 0,
    });
    if (startKPerS > 0) {
      const summitS = summitAfterS(state, hottest, { stepS, startKPerS, endKPerS });
      highestK = Math.max(highestK, hottestInsideK(state, stepS, Math.min(summitS, lastS)));
    }
  }
  watch.peakK = Math.max(watch.peakK, Math.min(highestK, warmestSource(watch, state, stepS)));
}

/**
 * Without lamp or reaction nothing gets warmer than what surrounds it: coarse nodes overshoot there for a moment when
 * film and panel begin far apart.
 */
function warmestSource(watch: FilmWatch, state: FilmState, stepS: number): number {
  const { drive, kutta, operator } = state;
  if (drive.lampWPerM2 > 0) return Infinity;
  for (let i = 0; i < operator.nodeCount; i++) {
    if ((kutta.stageFractions[i] as number) > FRESH_RATIO) return Infinity;
  }
  return Math.max(watch.peakK, drive.airK, drive.airK + drive.airKPerS * stepS, state.cavityK);
}

function watchCool(watch: FilmWatch, state: FilmState, stepS: number): void {
  const fromS = Math.max(0, watch.sandS - state.atS);
  if (hottestInsideK(state, stepS, fromS) <= COOL_K) {
    watch.coolS = state.atS + fromS;
    return;
  }
  const coolS = hottestInsideK(state, stepS, stepS) <= COOL_K ? stepS : dipAfterS(state, stepS, fromS);
  if (coolS < Infinity) watch.coolS = state.atS + coolingAfterS(state, stepS, { warmS: fromS, coolS });
}

/** A film that is hot at both ends of a step, but cooling first and warming last, may have been cool between them. */
function dipAfterS(state: FilmState, stepS: number, fromS: number): number {
  const end = { weights: state.stageWeights, heatPerS: state.heatEndPerS, afterS: stepS };
  if (warmingKPerS(state, hottestNodeIndex(state), end) <= 0) return Infinity;
  warmInside(state, stepS, 0);
  const start = { weights: state.startWeights, heatPerS: state.heatStartPerS, afterS: 0 };
  if (warmingKPerS(state, hottestNodeIndex(state), start) >= 0) return Infinity;
  let leftS = fromS;
  let rightS = stepS;
  for (let step = 0; step < DIP_STEPS_COUNT; step++) {
    const nearS = leftS + (rightS - leftS) / 3;
    const farS = rightS - (rightS - leftS) / 3;
    if (hottestInsideK(state, stepS, nearS) <= hottestInsideK(state, stepS, farS)) rightS = farS;
    else leftS = nearS;
  }
  return hottestInsideK(state, stepS, leftS) <= COOL_K ? leftS : Infinity;
}

function coolingAfterS(state: FilmState, stepS: number, between: { warmS: number; coolS: number }): number {
  let { warmS, coolS } = between;
  for (let step = 0; step < ROOT_STEPS_MAX; step++) {
    const middleS = (warmS + coolS) / 2;
    if (hottestInsideK(state, stepS, middleS) <= COOL_K) coolS = middleS;
    else warmS = middleS;
  }
  return coolS;
}

function sampleInside(
  state: FilmState,
  stepS: number,
  { atMin, afterS }: { atMin: number; afterS: number },
): FilmSample {
  const { operator, nodeK } = state;
  const n = operator.nodeCount;
  warmInside(state, stepS, afterS);
  let leastRatio = Infinity;
  let mostRatio = 0;
  for (let i = 0; i < n; i++) {
    const progressRatio = progressInsideRatio(state, i, { stepS, partFraction: afterS / stepS });
    leastRatio = Math.min(leastRatio, progressRatio);
    mostRatio = Math.max(mostRatio, progressRatio);
  }
  const backC = celsiusFromKelvin(nodeK[n - 1] as number);
  return {
    atMin,
    frontC: celsiusFromKelvin(nodeK[0] as number),
    backC,
    panelC: backC,
    minConversion: conversionFromProgress(leastRatio),
    maxConversion: conversionFromProgress(mostRatio),
  };
}
