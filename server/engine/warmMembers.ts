// The members of a window of a film that may grow hotter than paper bears: not its test time is interpolated, which
// jumps where a film is still hot when it becomes sandable, but what is smooth: that instant, and how hot it is then.
import { BATCH } from './constants.ts';
import {
  coolInstantMin,
  OUTSIDE_AT_MIN,
  outsideAtK,
  type OutsideHeat,
  SINCE_SAND_MIN,
} from './coolInstant.ts';
import type { FilmWarmth, MovedFilm } from './filmUncertainty.ts';
import { interpolateRising } from './interpolateRising.ts';
import { mixLists, mixTimes, type Stencil, stencilAt, stencilsOver } from './lagrange.ts';
import { normalProbability } from './normal.ts';
import { edgeJob } from './solveBatch.ts';
import { solveFilm } from './solveFilm.ts';
import { traceHeat } from './traceHeat.ts';
import { minutesFromSeconds } from './units.ts';
import {
  type Member,
  type MemberQuestion,
  type MemberSpread,
  SCALE_REACH_SD,
  type Variant,
  variantAt,
} from './windowMembers.ts';

/** Films at some time scales. */
interface Ladder {
  readonly sandLogMin: readonly number[];
  /** Above what comes from outside, from sandable on: front, back, and inside above both. */
  readonly ownK: readonly Float64Array[];
}

/** A product at one activation energy, and at how many time scales it is solved. */
interface Energy {
  readonly variant: Variant;
  readonly nodesCount: number;
}

/** Films along the warmth, and two along the second direction. */
interface Films {
  readonly alongWarmth: readonly MovedFilm[];
  readonly second: readonly [MovedFilm, MovedFilm];
}

/**
 * Solves the members of a window of a film that may grow hotter than paper bears.
 * Three activation energies; a few degrees of warmth and time scales, between which ln of the sandable instant and the
 * temperature from then on are interpolated (Lagrange, four points; over the scale a monotone cubic for the former);
 * the second direction moves both in proportion
 * @param question  product, constants and job, judged before
 * @param spread  what is uncertain
 * @param warmed  the film moved along both directions by some standard deviations
 * @returns 165 members, weights summing to 1; times may fall where a faster film is a hotter one
 * @source own
 */
export function solveWarmMembers(
  question: MemberQuestion,
  spread: MemberSpread,
  warmed: FilmWarmth['warmed'],
): Member[] {
  const builds = BUILD_WARMTHS_Z.map((z) => warmed(z));
  const second = [warmed(0, -SECOND_Z), warmed(0, SECOND_Z)] as const;
  const isAllEdge = builds.every(({ job }) => job.thicknessMm <= BATCH.edgeThicknessMm);
  const energies = ENERGY_WEIGHTS.map(([z, , nodesCount]) => ({
    variant: variantAt(question, spread, z),
    nodesCount,
  }));
  const buildLogMin = solveLines(question, energies, { alongWarmth: builds, second });
  const edges = EDGE_WARMTHS_Z.map((z) => edgeOf(warmed(z)));
  const edgeFilms = { alongWarmth: edges, second: [edgeOf(second[0]), edgeOf(second[1])] } as const;
  // Without a lamp an edge is never hot: when it is sandable is all there is to know of it.
  const solveEdges = (question.job.lampMinWPerM2 ?? []).length === 0 ? solveColdLines : solveLines;
  const edgeLogMin = isAllEdge ? buildLogMin : solveEdges(question, energies, edgeFilms);
  const weights = ENERGY_WEIGHTS.flatMap(([, weight]) => DRAWS_Z.map(() => weight / DRAWS_Z.length));
  return weights.map((weight, index) => ({
    weight,
    buildLogMin: buildLogMin[index] as Float64Array,
    edgeLogMin: edgeLogMin[index] as Float64Array,
  }));
}

function edgeOf(film: MovedFilm): MovedFilm {
  return { ...film, job: edgeJob(film.job) };
}

/** When members are cool, over the scale: for each energy, each fine degree of warmth, each second offset. */
function solveLines(
  question: MemberQuestion,
  energies: readonly Energy[],
  { alongWarmth, second }: Films,
): Float64Array[] {
  const outsideOf = (film: MovedFilm): Float64Array => traceOutside(question, film);
  const films = alongWarmth.map((film) => ({ film, outsideK: outsideOf(film) }));
  const [low, high] = second.map((film) => {
    const outsideK = outsideOf(film);
    const energy = { ...(energies[MIDDLE_INDEX] as Energy), nodesCount: SECOND_NODES_COUNT };
    return { outsideK, ...solveLadder(energy, { film, outsideK }) };
  }) as [Ladder & { outsideK: Float64Array }, Ladder & { outsideK: Float64Array }];
  const slope = slopeOf(low, high);
  const outsideSlopeK = mixLists([low.outsideK, high.outsideK], SLOPE_WEIGHTS);
  const outsidesK = DRAWS_Z.map(([z, secondZ]) => {
    const { firstIndex, weights } = stencilAt(films.length, placeOf(z));
    const near = films.slice(firstIndex).map(({ outsideK }) => outsideK);
    return mixLists([...near.slice(0, weights.length), outsideSlopeK], [...weights, secondZ]);
  });
  const litAtMin = (question.job.lampMinWPerM2 ?? []).map(([from]) => from);
  return energies.flatMap((energy) => {
    const { variant, nodesCount } = energy;
    const ladders = films.map((film) => solveLadder(energy, film));
    const energySlope = atNodes(slope, nodesCount);
    const scales = scaleLogs(variant.spread, nodesCount);
    const stencils = stencilsOver(nodesCount, variant.spread.cellCount + 1);
    return DRAWS_Z.map(([z, secondZ], index) => {
      const ladder = addSlope(blendLadders(ladders, placeOf(z)), energySlope, secondZ);
      return coolTimes(ladder, { listsK: outsidesK[index] as Float64Array, litAtMin }, { scales, stencils });
    });
  });
}

/** The same for films that are never hot. */
function solveColdLines(
  _question: MemberQuestion,
  energies: readonly Energy[],
  { alongWarmth, second }: Films,
): Float64Array[] {
  const middle = { ...(energies[MIDDLE_INDEX] as Energy), nodesCount: SECOND_NODES_COUNT };
  const [low, high] = second.map((film) => solveColdLadder(middle, film)) as [Ladder, Ladder];
  const slope = slopeOf(low, high);
  return energies.flatMap((energy) => {
    const { variant, nodesCount } = energy;
    const ladders = alongWarmth.map((film) => solveColdLadder(energy, film));
    const energySlope = atNodes(slope, nodesCount);
    const grid = { count: variant.spread.cellCount + 1, max: HORIZON_LOG_MIN };
    const scales = scaleLogs(variant.spread, nodesCount);
    return DRAWS_Z.map(([z, secondZ]) => {
      const { sandLogMin } = addSlope(blendLadders(ladders, placeOf(z)), energySlope, secondZ);
      return interpolateRising(scales, sandLogMin, grid);
    });
  });
}

function solveColdLadder(
  { variant: { card, constants, spread }, nodesCount }: Energy,
  film: MovedFilm,
): Ladder {
  const sandLogMin = scaleLogs(spread, nodesCount).map((offsetLog) => {
    const job = { ...film.job, timeScale: (film.job.timeScale ?? 1) * Math.exp(offsetLog) };
    const { coolMin } = solveFilm(card, constants, job, { heatJPerKg: film.heatJPerKg });
    return Math.log(coolMin ?? Infinity);
  });
  return { sandLogMin, ownK: sandLogMin.map(() => NO_HEAT_K) };
}

/** Front and back of the film as it would be without heat of its own. */
function traceOutside({ card, constants }: MemberQuestion, { job }: MovedFilm): Float64Array {
  const { heatsK } = traceHeat({ card, constants, job, heatJPerKg: 0 }, 'mixing', OUTSIDE_AT_MIN);
  return heatsK.subarray(0, 2 * OUTSIDE_AT_MIN.length);
}

function solveLadder(
  { variant: { card, constants, spread }, nodesCount }: Energy,
  { film, outsideK }: { film: MovedFilm; outsideK: Float64Array },
): Ladder {
  const sandLogMin: number[] = [];
  const ownK: Float64Array[] = [];
  let toldK: Float64Array = new Float64Array(3 * SINCE_SAND_MIN.length);
  for (const offsetLog of scaleLogs(spread, nodesCount)) {
    const job = { ...film.job, timeScale: (film.job.timeScale ?? 1) * Math.exp(offsetLog) };
    const moved = { card, constants, job, heatJPerKg: film.heatJPerKg };
    const { sandS, heatsK } = traceHeat(moved, 'sandable', SINCE_SAND_MIN);
    const sandMin = minutesFromSeconds(sandS);
    sandLogMin.push(Math.log(sandMin));
    SINCE_SAND_MIN.forEach((sinceMin, index) => {
      for (const side of [0, 1] as const) {
        const at = side * SINCE_SAND_MIN.length + index;
        heatsK[at] = (heatsK[at] as number) - outsideAtK(outsideK, side, sandMin + sinceMin);
      }
    });
    // A film that stalls has no heat to tell of: that of the slowest one that does not stands for it.
    if (sandMin < Infinity) toldK = heatsK;
    ownK.push(toldK);
  }
  return { sandLogMin, ownK };
}

function scaleLogs({ logScaleMeanRatio, logScaleSd }: MemberSpread, nodesCount: number): number[] {
  return Array.from(
    { length: nodesCount },
    (_, index) => logScaleMeanRatio + SCALE_REACH_SD * ((2 * index) / (nodesCount - 1) - 1) * logScaleSd,
  );
}

/** What one standard deviation of the second direction does; nothing where either film stalls. */
function slopeOf(low: Ladder, high: Ladder): Ladder {
  return {
    sandLogMin: low.sandLogMin.map((left, node) => {
      const right = high.sandLogMin[node] as number;
      return Math.max(left, right) === Infinity ? 0 : mixTimes([left, right], SLOPE_WEIGHTS);
    }),
    ownK: low.ownK.map((left, node) => mixLists([left, high.ownK[node] as Float64Array], SLOPE_WEIGHTS)),
  };
}

function atNodes({ sandLogMin, ownK }: Ladder, count: number): Ladder {
  const stencils = stencilsOver(ownK.length, count);
  return {
    sandLogMin: stencils.map(({ firstIndex, weights }) => mixTimes(sandLogMin.slice(firstIndex), weights)),
    ownK: stencils.map(({ firstIndex, weights }) => mixLists(ownK.slice(firstIndex), weights)),
  };
}

function blendLadders(ladders: readonly Ladder[], partFraction: number): Ladder {
  const { firstIndex, weights } = stencilAt(ladders.length, partFraction);
  const near = ladders.slice(firstIndex, firstIndex + weights.length);
  const timesAt = (node: number): number[] => near.map(({ sandLogMin }) => sandLogMin[node] as number);
  const ownAtK = (node: number): Float64Array[] => near.map(({ ownK }) => ownK[node] as Float64Array);
  const nodes = [...(near[0] as Ladder).sandLogMin.keys()];
  return {
    sandLogMin: nodes.map((node) => mixTimes(timesAt(node), weights)),
    ownK: nodes.map((node) => mixLists(ownAtK(node), weights)),
  };
}

function addSlope({ sandLogMin, ownK }: Ladder, slope: Ladder, z: number): Ladder {
  return {
    sandLogMin: sandLogMin.map((value, node) => value + z * (slope.sandLogMin[node] as number)),
    ownK: ownK.map((list, node) => mixLists([list, slope.ownK[node] as Float64Array], [1, z])),
  };
}

/** When the members of one activation energy and one warmth are cool, over the scale. */
function coolTimes(
  { sandLogMin, ownK }: Ladder,
  outside: OutsideHeat,
  { scales, stencils }: { scales: readonly number[]; stencils: readonly Stencil[] },
): Float64Array {
  const grid = { count: stencils.length, max: HORIZON_LOG_MIN };
  const coolLogs = interpolateRising(scales, sandLogMin, grid);
  for (const [index, stencil] of stencils.entries()) {
    const sandLog = coolLogs[index] as number;
    if (sandLog === Infinity) continue;
    const coolMin = coolInstantMin(Math.exp(sandLog), { listsK: ownK, stencil }, outside);
    coolLogs[index] = coolMin > BATCH.horizonMin ? Infinity : Math.log(coolMin);
  }
  return coolLogs;
}

/** Where a degree of warmth lies between the coldest and the hottest that were solved [0 … 1]. */
function placeOf(z: number): number {
  return (z / WARMTH_REACH_SD + 1) / 2;
}

/** Pairs of independent normal values, evenly spread: Fibonacci's lattice in the unit square, turned into normal values. */
function drawPairs(): (readonly [number, number])[] {
  return Array.from({ length: DRAWS_COUNT }, (_, index) => {
    const place = (index + 0.5) / DRAWS_COUNT;
    const secondPlace = (((index * DRAWS_STRIDE_COUNT) % DRAWS_COUNT) + 0.5) / DRAWS_COUNT;
    return [normalBelow(place), normalBelow(secondPlace)] as const;
  });
}

/** The standard normal value below which a probability lies, by halving. */
function normalBelow(probability: number): number {
  let low = -WARMTH_REACH_SD;
  let high = WARMTH_REACH_SD;
  for (let halving = 0; halving < NORMAL_HALVINGS_COUNT; halving++) {
    const middle = (low + high) / 2;
    if (normalProbability(middle) < probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

const HORIZON_LOG_MIN = Math.log(BATCH.horizonMin);
/** Points and weights of Gauss and Hermite for the standard normal density, and at how many time scales each is solved. */
const ENERGY_WEIGHTS = [
  [-Math.sqrt(3), 1 / 6, 5],
  [0, 2 / 3, 7],
  [Math.sqrt(3), 1 / 6, 5],
] as const;
const MIDDLE_INDEX = 1;
const WARMTH_REACH_SD = 2.6;
const BUILD_WARMTHS_Z = [-2.6, -1.3, 0, 1.3, 2.6] as const;
const EDGE_WARMTHS_Z = [-2.6, 0, 2.6] as const;
const SECOND_Z = 1.3;
const SLOPE_WEIGHTS = [-0.5 / SECOND_Z, 0.5 / SECOND_Z] as const;
const SECOND_NODES_COUNT = 5;
const DRAWS_COUNT = 21;
const DRAWS_STRIDE_COUNT = 13;
const NORMAL_HALVINGS_COUNT = 40;
const DRAWS_Z = drawPairs();
const NO_HEAT_K = new Float64Array(0);
