// Gathers the members of a window into one distribution over the logarithm of time.
import { checkLikelihood, type CheckSeen } from './checkLikelihood.ts';
import { BATCH } from './constants.ts';
import type { Member } from './windowMembers.ts';

/**
 * A distribution over ln minutes, in even bins.
 */
export interface Pile {
  readonly fromLogMin: number;
  readonly binLogMin: number;
  /** What has come by each border of the bins. */
  readonly summedWeights: Float64Array;
  /** What comes within 12 h, and what never does. */
  readonly wholeWeight: number;
}

/**
 * Instants of members at the borders of the cells of the scale.
 */
export type CellTimes = 'buildLogMin' | 'edgeLogMin' | 'testLogMin';

const BINS_COUNT = 1000;
/** A pile is at least as wide as this. */
const WIDTH_LEAST_LOG_MIN = 1e-6;
const HORIZON_LOG_MIN = Math.log(BATCH.horizonMin);

/**
 * Piles up when the members are ready.
 * Each cell spreads its weight evenly between its borders; what was seen by hand is weighed bin by bin at the test time
 * itself, so that "gums" never moves a quantile earlier; build and edge are weighed at the test time of their cell
 * @param members  instants over the scale, weights summing to 1
 * @param cellWeights  [1] of the cells, none negative
 * @param asked  which instants, and the checks
 * @returns the distribution, its whole weight above zero
 * @source own
 */
export function pileUp(
  members: readonly Member[],
  cellWeights: Float64Array,
  { which, checks }: { which: CellTimes; checks: readonly CheckSeen[] },
): Pile {
  const { fromLogMin, binLogMin } = gridOver(members.map((member) => member[which]));
  const weights = new Float64Array(BINS_COUNT);
  let neverWeight = 0;
  for (const member of members) {
    const { weight, testLogMin } = member;
    const asked = member[which];
    for (let cell = 0; cell < cellWeights.length; cell++) {
      const left = asked[cell] as number;
      const right = asked[cell + 1] as number;
      const middle = ((testLogMin[cell] as number) + (testLogMin[cell + 1] as number)) / 2;
      let seen = weight * (cellWeights[cell] as number);
      if (which !== 'testLogMin') seen *= likelihoodOf(checks, middle);
      if (left === Infinity || right === Infinity) neverWeight += seen;
      else deposit(weights, seen, (left - fromLogMin) / binLogMin, (right - fromLogMin) / binLogMin);
    }
  }
  const summedWeights = new Float64Array(BINS_COUNT + 1);
  for (let bin = 0; bin < BINS_COUNT; bin++) {
    const ratio = which === 'testLogMin' ? likelihoodOf(checks, fromLogMin + (bin + 0.5) * binLogMin) : 1;
    summedWeights[bin + 1] = (summedWeights[bin] as number) + ratio * (weights[bin] as number);
  }
  if (which === 'testLogMin') neverWeight *= likelihoodOf(checks, Infinity);
  return {
    fromLogMin,
    binLogMin,
    summedWeights,
    wholeWeight: (summedWeights[BINS_COUNT] as number) + neverWeight,
  };
}

function likelihoodOf(checks: readonly CheckSeen[], readyLogMin: number): number {
  let likelihood = 1;
  for (const check of checks) likelihood *= checkLikelihood(check, readyLogMin);
  return likelihood;
}

function gridOver(linesLogMin: readonly Float64Array[]): { fromLogMin: number; binLogMin: number } {
  let early = HORIZON_LOG_MIN;
  let late = -Infinity;
  for (const line of linesLogMin) {
    for (const value of line) {
      if (value === Infinity) continue;
      early = Math.min(early, value);
      late = Math.max(late, value);
    }
  }
  return { fromLogMin: early, binLogMin: Math.max(late - early, WIDTH_LEAST_LOG_MIN) / BINS_COUNT };
}

/** Spreads a weight evenly between two places, in bins. */
function deposit(weights: Float64Array, weight: number, leftOffset: number, rightOffset: number): void {
  const from = Math.min(leftOffset, rightOffset);
  const to = Math.max(leftOffset, rightOffset);
  const first = Math.min(Math.floor(from), BINS_COUNT - 1);
  const last = Math.min(Math.floor(to), BINS_COUNT - 1);
  if (first === last) {
    weights[first] = (weights[first] as number) + weight;
    return;
  }
  const perBin = weight / (to - from);
  weights[first] = (weights[first] as number) + perBin * (first + 1 - from);
  for (let bin = first + 1; bin < last; bin++) weights[bin] = (weights[bin] as number) + perBin;
  weights[last] = (weights[last] as number) + perBin * (to - last);
}

/**
 * The probability that has come by an instant [1].
 * @param pile  a distribution
 * @param atLogMin  [ln min] the instant
 * @returns probability [1], 0 … 1
 * @source own
 */
export function probabilityBy(
  { fromLogMin, binLogMin, summedWeights, wholeWeight }: Pile,
  atLogMin: number,
): number {
  const place = Math.min(Math.max(0, (atLogMin - fromLogMin) / binLogMin), BINS_COUNT);
  const bin = Math.min(Math.floor(place), BINS_COUNT - 1);
  const before = summedWeights[bin] as number;
  return (before + (place - bin) * ((summedWeights[bin + 1] as number) - before)) / wholeWeight;
}

/**
 * The instant by which a probability has come [min].
 * @param pile  a distribution
 * @param probability  [1] 0 … 1 exclusive
 * @returns the instant, null when it lies at "never"
 * @source own
 */
export function quantileMin(
  { fromLogMin, binLogMin, summedWeights, wholeWeight }: Pile,
  probability: number,
): number | null {
  const wanted = probability * wholeWeight;
  if ((summedWeights[BINS_COUNT] as number) < wanted) return null;
  let left = 0;
  let right = BINS_COUNT;
  while (right - left > 1) {
    const middle = (left + right) >> 1;
    if ((summedWeights[middle] as number) < wanted) left = middle;
    else right = middle;
  }
  const before = summedWeights[left] as number;
  const part = (wanted - before) / ((summedWeights[right] as number) - before);
  return Math.exp(fromLogMin + (left + part) * binLogMin);
}
