// Looks into each finished step for the instants, the peak and the samples; no step is ever shortened for them.
import { BATCH, KINETICS, SURFACES } from './constants.ts';
import { warmInside } from './conductFilm.ts';
import type { FilmState } from './filmState.ts';
import { conversionFromProgress, progressFromConversion, SANDABLE_RATIO } from './kinetics.ts';
import { STAGE_COUNT } from './kuttaStep.ts';
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
/** Looks into a step until a part of it is known. */
const ROOT_STEPS_MAX = 40;
const ROOT_TOLERANCE = 1e-9;

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
  const { kutta, operator } = state;
  for (let i = 0; i < operator.nodeCount; i++) {
    if ((kutta.stageFractions[i] as number) < GEL_RATIO) continue;
    watch.gelS = Math.min(
      watch.gelS,
      state.atS + stepS * crossing(state, i, { stepS, levelRatio: GEL_RATIO }),
    );
  }
}

function watchSand(watch: FilmWatch, state: FilmState, stepS: number): void {
  const { kutta, operator } = state;
  const n = operator.nodeCount;
  for (let i = 0; i < n; i++) if ((kutta.stageFractions[i] as number) < SANDABLE_RATIO) return;
  let lastPart = 0;
  for (let i = 0; i < n; i++) {
    if ((kutta.startFractions[i] as number) >= SANDABLE_RATIO) continue;
    lastPart = Math.max(lastPart, crossing(state, i, { stepS, levelRatio: SANDABLE_RATIO }));
  }
  watch.sandS = state.atS + stepS * lastPart;
}

/** The hottest depth at the end decides whether the step hides a summit. */
function watchPeak(watch: FilmWatch, state: FilmState, stepS: number): void {
  const lastS = Math.min(watch.sandS - state.atS, stepS);
  const hottest = hottestNode(state);
  let highestK = lastS === stepS ? (state.nodeK[hottest] as number) : hottestInside(state, stepS, lastS);
  const { startWeights, heatStartPerS, stageWeights, heatEndPerS } = state;
  const endPerS = slopePerS(state, hottest, { weights: stageWeights, heatPerS: heatEndPerS, afterS: stepS });
  if (endPerS < 0) {
    const startPerS = slopePerS(state, hottest, {
      weights: startWeights,
      heatPerS: heatStartPerS,
      afterS: 0,
    });
    if (startPerS > 0) {
      const summitS = summitAfter(state, hottest, { stepS, startPerS, endPerS });
      highestK = Math.max(highestK, hottestInside(state, stepS, Math.min(summitS, lastS)));
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

/** Where the cubic through both ends' temperatures and slopes has its summit. */
function summitAfter(
  state: FilmState,
  nodeIndex: number,
  { stepS, startPerS, endPerS }: { stepS: number; startPerS: number; endPerS: number },
): number {
  warmInside(state, stepS, 0);
  const startK = state.nodeK[nodeIndex] as number;
  warmInside(state, stepS, stepS);
  const meanPerS = ((state.nodeK[nodeIndex] as number) - startK) / stepS;
  const bend = 3 * (startPerS + endPerS - 2 * meanPerS);
  const lean = 2 * (3 * meanPerS - 2 * startPerS - endPerS);
  // startPerS + lean x + bend x² = 0 between a positive start and a negative end has one root there.
  const root = Math.sqrt(lean * lean - 4 * bend * startPerS);
  return (stepS * 2 * startPerS) / (root - lean);
}

function watchCool(watch: FilmWatch, state: FilmState, stepS: number): void {
  const fromS = Math.max(0, watch.sandS - state.atS);
  if (hottestInside(state, stepS, fromS) <= COOL_K) watch.coolS = state.atS + fromS;
  else if (hottestInside(state, stepS, stepS) <= COOL_K) {
    let warmS = fromS;
    let coolS = stepS;
    for (let step = 0; step < ROOT_STEPS_MAX; step++) {
      const middleS = (warmS + coolS) / 2;
      if (hottestInside(state, stepS, middleS) <= COOL_K) coolS = middleS;
      else warmS = middleS;
    }
    watch.coolS = state.atS + coolS;
  }
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
    const progressRatio = progressInside(state, i, { stepS, partFraction: afterS / stepS });
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

/**
 * The part of the step at which a node's progress reaches a level that lies between its ends: progress is all but
 * straight, so that the false position needs few looks.
 */
function crossing(
  state: FilmState,
  nodeIndex: number,
  { stepS, levelRatio }: { stepS: number; levelRatio: number },
): number {
  let below = 0;
  let above = 1;
  let belowMiss = (state.kutta.startFractions[nodeIndex] as number) - levelRatio;
  let aboveMiss = (state.kutta.stageFractions[nodeIndex] as number) - levelRatio;
  let partFraction = 1;
  let miss = aboveMiss;
  for (let step = 0; step < ROOT_STEPS_MAX && Math.abs(miss) > ROOT_TOLERANCE; step++) {
    partFraction = below - (belowMiss * (above - below)) / (aboveMiss - belowMiss);
    miss = progressInside(state, nodeIndex, { stepS, partFraction }) - levelRatio;
    if (miss < 0) {
      below = partFraction;
      belowMiss = miss;
      aboveMiss /= 2;
    } else {
      above = partFraction;
      aboveMiss = miss;
      belowMiss /= 2;
    }
  }
  return partFraction;
}

/** Cubic Hermite interpolation of a node's progress, which never leaves its ends. */
function progressInside(
  state: FilmState,
  nodeIndex: number,
  { stepS, partFraction: part }: { stepS: number; partFraction: number },
): number {
  const { startFractions, stageFractions, ratesPerS, rowLength } = state.kutta;
  const start = startFractions[nodeIndex] as number;
  const end = stageFractions[nodeIndex] as number;
  const first = stepS * (ratesPerS[nodeIndex] as number);
  const last = stepS * (ratesPerS[(STAGE_COUNT - 1) * rowLength + nodeIndex] as number);
  const rise = end - start;
  const bent =
    start + part * (first + part * (3 * rise - 2 * first - last + part * (first + last - 2 * rise)));
  return Math.min(end, Math.max(start, bent));
}

function slopePerS(
  state: FilmState,
  nodeIndex: number,
  { weights, heatPerS, afterS }: { weights: Float64Array; heatPerS: Float64Array; afterS: number },
): number {
  const { operator, airPerS, airSlopePerS, lagPerS } = state;
  const n = operator.nodeCount;
  const fade = state.cavityLagK === 0 ? 0 : Math.exp(-afterS / SURFACES.cavityLagS);
  let sum = 0;
  for (let j = 0; j < n; j++) {
    sum +=
      (operator.modeWeights[nodeIndex * n + j] as number) *
      ((heatPerS[j] as number) -
        (operator.decaysPerS[j] as number) * (weights[j] as number) +
        (airPerS[j] as number) +
        (airSlopePerS[j] as number) * afterS +
        (lagPerS[j] as number) * fade);
  }
  return sum;
}

function hottestInside(state: FilmState, stepS: number, afterS: number): number {
  warmInside(state, stepS, afterS);
  return state.nodeK[hottestNode(state)] as number;
}

function hottestNode(state: FilmState): number {
  let hottest = 0;
  for (let i = 1; i < state.operator.nodeCount; i++) {
    if ((state.nodeK[i] as number) > (state.nodeK[hottest] as number)) hottest = i;
  }
  return hottest;
}
