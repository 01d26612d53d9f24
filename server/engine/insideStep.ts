// The film between the two ends of a finished step: how warm, how far, how steep.
import { SURFACES } from './constants.ts';
import { warmInside } from './conductFilm.ts';
import type { FilmState } from './filmState.ts';
import { STAGE_COUNT } from './kuttaStep.ts';
import { lobattoGrid } from './lobattoGrid.ts';

/** Looks into a step until a part of it is known. */
const ROOT_STEPS_MAX = 40;
const ROOT_TOLERANCE = 1e-7;

/**
 * The part of the step at which a node's progress reaches a level that lies between its ends [1].
 * Progress is all but straight, so that the false position needs few looks.
 * @param state  finished, not yet taken
 * @param nodeIndex  [1] 0 … nodes − 1
 * @param look  length of the step [s] and the level of u
 * @returns part of the step [1], 0 … 1
 * @source false position in the Illinois form (memory)
 */
export function crossingFraction(
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
    miss = progressInsideRatio(state, nodeIndex, { stepS, partFraction }) - levelRatio;
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

/**
 * Progress of a node inside the step [1].
 * Cubic Hermite interpolation between values and rates of both ends, which never leaves the ends
 * @param state  finished, not yet taken
 * @param nodeIndex  [1] 0 … nodes − 1
 * @param look  length of the step [s] and the part of it
 * @returns u [1]
 * @source own
 */
export function progressInsideRatio(
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

/**
 * The warmest depth at an instant inside the step [K].
 * @param state  finished, not yet taken; its nodeK is written
 * @param stepS  [s] h
 * @param afterS  [s] since the start of the step, 0 … h
 * @returns temperature [K]
 * @source see warmInside
 */
export function hottestInsideK(state: FilmState, stepS: number, afterS: number): number {
  warmInside(state, stepS, afterS);
  return hottestDepthK(state);
}

/**
 * The warmest depth at the temperatures that stand in nodeK [K].
 * Summit of the parabola through the warmest node and its neighbours, where it lies between them
 * @param state  with its nodeK filled
 * @returns temperature [K], at least that of the warmest node
 * @source own
 */
export function hottestDepthK(state: FilmState): number {
  const n = state.operator.nodeCount;
  const hottest = hottestNodeIndex(state);
  const hottestK = state.nodeK[hottest] as number;
  if (n === 2) return hottestK;
  const { nodeOffsets } = lobattoGrid(n);
  const middle = Math.min(n - 2, Math.max(1, hottest));
  const middleK = state.nodeK[middle] as number;
  const above = (nodeOffsets[middle - 1] as number) - (nodeOffsets[middle] as number);
  const below = (nodeOffsets[middle + 1] as number) - (nodeOffsets[middle] as number);
  const aboveSlope = ((state.nodeK[middle - 1] as number) - middleK) / above;
  const belowSlope = ((state.nodeK[middle + 1] as number) - middleK) / below;
  const bend = (belowSlope - aboveSlope) / (below - above);
  const lean = aboveSlope - bend * above;
  const summit = -lean / (2 * bend);
  return bend < 0 && summit > above && summit < below ? middleK + (lean * summit) / 2 : hottestK;
}

/**
 * The warmest node at the temperatures that stand in nodeK [1].
 * @param state  with its nodeK filled
 * @returns index [1], 0 … nodes − 1
 * @source own
 */
export function hottestNodeIndex(state: FilmState): number {
  let hottest = 0;
  for (let i = 1; i < state.operator.nodeCount; i++) {
    if ((state.nodeK[i] as number) > (state.nodeK[hottest] as number)) hottest = i;
  }
  return hottest;
}

/**
 * How fast a node warms at one end of the step [K/s].
 * dT/dt = V (σ' − λ m + air + lag)
 * @param state  finished, not yet taken
 * @param nodeIndex  [1] 0 … nodes − 1
 * @param end  modes and their heat at that end, and when it is [s since the start of the step]
 * @returns slope [K/s]
 * @source see HeatOperator
 */
export function warmingKPerS(
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

/**
 * Where a node that first warms and then cools within the step is warmest [s since the start of the step].
 * Summit of the cubic through both ends' temperatures and slopes
 * @param state  finished, not yet taken; its nodeK is written
 * @param nodeIndex  [1] 0 … nodes − 1
 * @param slopes  length of the step [s], slope at its start, > 0, and at its end, < 0 [K/s]
 * @returns instant [s], 0 … h
 * @source own
 */
export function summitAfterS(
  state: FilmState,
  nodeIndex: number,
  { stepS, startKPerS, endKPerS }: { stepS: number; startKPerS: number; endKPerS: number },
): number {
  warmInside(state, stepS, 0);
  const startK = state.nodeK[nodeIndex] as number;
  warmInside(state, stepS, stepS);
  const meanPerS = ((state.nodeK[nodeIndex] as number) - startK) / stepS;
  const bend = 3 * (startKPerS + endKPerS - 2 * meanPerS);
  const lean = 2 * (3 * meanPerS - 2 * startKPerS - endKPerS);
  // startKPerS + lean x + bend x² = 0 between a positive start and a negative end has one root there.
  const root = Math.sqrt(lean * lean - 4 * bend * startKPerS);
  return (stepS * 2 * startKPerS) / (root - lean);
}
