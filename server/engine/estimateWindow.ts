// From one film to a probability over time: when a batch will be worth testing, and how sure that is.
import type { CardConstants, CardStatement, FilmJob } from './cardStatement.ts';
import { checkLikelihood, type CheckSeen } from './checkLikelihood.ts';
import { invariant } from './invariant.ts';
import { normalDensity } from './normal.ts';
import { type Member, SCALE_REACH_SD, solveMembers } from './windowMembers.ts';

/**
 * What is believed of a product in a shop before this batch is looked at.
 */
export interface WindowPrior {
  readonly logTimeScale: number;
  readonly logTimeScaleSd: number;
  /** The card's own when missing. */
  readonly activationMeanKJPerMol?: number;
  readonly activationSdKJPerMol: number;
  readonly logScatterSd: number;
}

/**
 * When a batch is worth testing; an instant is null when that much probability lies at "never" (past 12 h).
 */
export interface TestWindow {
  readonly p10Min: number | null;
  readonly p50Min: number | null;
  readonly p90Min: number | null;
  readonly buildP50Min: number | null;
  readonly edgeP50Min: number | null;
  /** The instant by which it is worth testing with this probability, 0 … 1 exclusive. */
  readonly quantileMin: (probability: number) => number | null;
  /** The probability that it is worth testing at an instant. */
  readonly probabilityAtMin: (atMin: number) => number;
}

/**
 * One batch to look ahead for.
 */
export interface WindowQuestion {
  readonly card: CardStatement;
  readonly constants: CardConstants;
  readonly job: FilmJob;
  readonly prior?: WindowPrior;
  readonly checks?: readonly CheckSeen[];
}

/**
 * The belief without any record of the shop: the card is right within 12 %, one batch differs from the next by 13 %.
 */
export const DEFAULT_WINDOW_PRIOR: WindowPrior = {
  logTimeScale: 0,
  logTimeScaleSd: 0.12,
  activationSdKJPerMol: 8,
  logScatterSd: 0.13,
};

/** Cells of the scale between its outermost nodes. */
const CELLS_COUNT = 240;
const BISECTIONS_COUNT = 48;

/** One member's times at the borders of the cells, and the probability that has come by then. */
interface Spread {
  readonly summedWeights: Float64Array;
  readonly testLogMin: Float64Array;
  readonly buildLogMin: Float64Array;
  readonly edgeLogMin: Float64Array;
}

type Which = 'testLogMin' | 'buildLogMin' | 'edgeLogMin';

/**
 * The window of a batch [min since mixing].
 * P(test ≤ t) = Σ_j w_j ∫ 1{T_j(x) ≤ t} φ(x) Π P(check | T_j(x)) dx, normalised; x: log of the time scale of product
 * and batch together, j: activation energies, each calibrated to the same card at its own temperature
 * @param question  product, constants and job, judged before; belief and checks by hand
 * @returns quantiles and the distribution itself; deterministic
 * @throws Fault when a standard deviation is not positive (the caller's check)
 * @source design MODEL §5; Gauss–Hermite over E_k, monotone interpolation over the scale
 */
export function estimateWindow(question: WindowQuestion): TestWindow {
  const prior = question.prior ?? DEFAULT_WINDOW_PRIOR;
  const logScaleSd = Math.hypot(prior.logTimeScaleSd, prior.logScatterSd);
  invariant(logScaleSd > 0 && prior.activationSdKJPerMol > 0, 'a window needs some uncertainty');
  const members = solveMembers(question, {
    logScaleMeanRatio: prior.logTimeScale,
    logScaleSd,
    activationMeanKJPerMol: prior.activationMeanKJPerMol ?? question.card.activationKJPerMol,
    activationSdKJPerMol: prior.activationSdKJPerMol,
    cellCount: CELLS_COUNT,
  });
  const spreads = members.map((member) => spreadOf(member, question.checks ?? []));
  const quantile = (which: Which, probability: number): number | null =>
    quantileOf(spreads, which, probability);
  return {
    p10Min: quantile('testLogMin', 0.1),
    p50Min: quantile('testLogMin', 0.5),
    p90Min: quantile('testLogMin', 0.9),
    buildP50Min: quantile('buildLogMin', 0.5),
    edgeP50Min: quantile('edgeLogMin', 0.5),
    quantileMin: (probability) => quantile('testLogMin', probability),
    probabilityAtMin: (atMin) => (atMin > 0 ? probabilityBy(spreads, 'testLogMin', Math.log(atMin)) : 0),
  };
}

function spreadOf(member: Member, checks: readonly CheckSeen[]): Spread {
  const { buildLogMin, edgeLogMin } = member;
  const testLogMin = buildLogMin.map((buildLog, index) => Math.max(buildLog, edgeLogMin[index] as number));
  const summedWeights = new Float64Array(CELLS_COUNT + 1);
  for (let cell = 0; cell < CELLS_COUNT; cell++) {
    const z = SCALE_REACH_SD * ((2 * cell + 1) / CELLS_COUNT - 1);
    const readyLog = ((testLogMin[cell] as number) + (testLogMin[cell + 1] as number)) / 2;
    const seen = checks.reduce((product, check) => product * checkLikelihood(check, readyLog), 1);
    summedWeights[cell + 1] = (summedWeights[cell] as number) + member.weight * normalDensity(z) * seen;
  }
  return { summedWeights, testLogMin, buildLogMin, edgeLogMin };
}

/** Weight of all members that are ready by an instant, over the weight of all. */
function probabilityBy(spreads: readonly Spread[], which: Which, atLogMin: number): number {
  let ready = 0;
  let all = 0;
  for (const spread of spreads) {
    ready += weightBy(spread, spread[which], atLogMin);
    all += spread.summedWeights[CELLS_COUNT] as number;
  }
  return ready / all;
}

function weightBy({ summedWeights }: Spread, readyLogMin: Float64Array, atLogMin: number): number {
  if ((readyLogMin[0] as number) > atLogMin) return 0;
  let left = 0;
  let right = CELLS_COUNT + 1;
  while (right - left > 1) {
    const middle = (left + right) >> 1;
    if ((readyLogMin[middle] as number) <= atLogMin) left = middle;
    else right = middle;
  }
  const before = summedWeights[left] as number;
  if (left === CELLS_COUNT || readyLogMin[right] === Infinity) return before;
  const from = readyLogMin[left] as number;
  const part = (atLogMin - from) / ((readyLogMin[right] as number) - from);
  return before + part * ((summedWeights[right] as number) - before);
}

function quantileOf(spreads: readonly Spread[], which: Which, probability: number): number | null {
  let early = Infinity;
  let late = -Infinity;
  for (const spread of spreads) {
    for (const readyLog of spread[which]) {
      early = Math.min(early, readyLog);
      if (readyLog < Infinity) late = Math.max(late, readyLog);
    }
  }
  if (early === Infinity || probabilityBy(spreads, which, late) < probability) return null;
  for (let step = 0; step < BISECTIONS_COUNT; step++) {
    const middle = (early + late) / 2;
    if (probabilityBy(spreads, which, middle) < probability) early = middle;
    else late = middle;
  }
  return Math.exp(late);
}
