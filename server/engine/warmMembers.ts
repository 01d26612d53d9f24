// The members of a window of a film that may grow hotter than paper bears: not its test time is interpolated, which
// jumps where a film is still hot when it becomes sandable, but what is smooth: that instant, and how hot it is then.
import { BATCH } from './constants.ts';
import {
  coolInstantMin,
  LIT_CLOCK,
  type OutsideClock,
  type OutsideHeat,
  UNLIT_CLOCK,
} from './coolInstant.ts';
import type { FilmWarmth, MovedFilm } from './filmUncertainty.ts';
import { interpolateRising } from './interpolateRising.ts';
import { mixLists, type Stencil, stencilAt, stencilsOver } from './lagrange.ts';
import { normalProbability } from './normal.ts';
import { edgeJob } from './solveBatch.ts';
import { traceHeat } from './traceHeat.ts';
import {
  type DrawMix,
  type Ladder,
  LADDER_NODES_COUNT,
  type LitFilm,
  moveLadder,
  type Moves,
  solveLadder,
} from './warmLadder.ts';
import {
  laterOf,
  type Member,
  type MemberQuestion,
  type MemberSpread,
  type Variant,
  variantAt,
  scaleLogs,
} from './windowMembers.ts';

/**
 * Solves the members of a window of a film that may grow hotter than paper bears.
 * Three activation energies over the time scale; the degree of warmth and the second direction move each of them by
 * what they move the middle one. Between what is solved, ln of the sandable instant and the temperature from then on
 * are interpolated (Lagrange, four points; over the scale a monotone cubic for the former)
 * @param question  product, constants and job, judged before
 * @param spread  what is uncertain
 * @param warmed  the film moved along both directions by some standard deviations
 * @returns 47 members, weights summing to 1; times may fall where a faster film is a hotter one
 * @source own
 */
export function solveWarmMembers(
  question: MemberQuestion,
  spread: MemberSpread,
  warmed: FilmWarmth['warmed'],
): Member[] {
  const hasLamp = (question.job.lampMinWPerM2 ?? []).length > 0;
  const clock = hasLamp ? LIT_CLOCK : UNLIT_CLOCK;
  const builds = movedFilms(warmed, BUILD_WARMTHS_Z);
  const isAllEdge = builds.alongWarmth.every(({ job }) => job.thicknessMm <= BATCH.edgeThicknessMm);
  const edges = mapMoves(movedFilms(warmed, EDGE_WARMTHS_Z), ({ job, heatJPerKg }) => ({
    job: edgeJob(job),
    heatJPerKg,
  }));
  // Without a lamp an edge is never hot: when it is sandable is all there is to know of it.
  const litEdges = hasLamp
    ? traceMoves(question, edges, clock)
    : mapMoves(edges, (film) => ({ film, outside: null }));
  const buildLogMin = solveLines(question, spread, traceMoves(question, builds, clock));
  const edgeLogMin = isAllEdge ? buildLogMin : solveLines(question, spread, litEdges);
  const weights = ENERGIES.flatMap(({ weight, drawsCount }) =>
    Array.from({ length: drawsCount }, () => weight / drawsCount),
  );
  return weights.map((weight, index) => {
    const build = buildLogMin[index] as Float64Array;
    const edge = edgeLogMin[index] as Float64Array;
    return { weight, buildLogMin: build, edgeLogMin: edge, testLogMin: laterOf(build, edge) };
  });
}

function movedFilms(warmed: FilmWarmth['warmed'], warmthsZ: readonly number[]): Moves<MovedFilm> {
  return {
    alongWarmth: warmthsZ.map((z) => warmed(z)),
    second: [warmed(0, -SECOND_Z), warmed(0, SECOND_Z)],
  };
}

function mapMoves<From, To>(
  { alongWarmth, second: [low, high] }: Moves<From>,
  change: (from: From) => To,
): Moves<To> {
  return { alongWarmth: alongWarmth.map(change), second: [change(low), change(high)] };
}

/** Films with what comes to them from outside: traced at both ends of the warmth and its middle, between them mixed. */
function traceMoves(question: MemberQuestion, moves: Moves<MovedFilm>, clock: OutsideClock): Moves<LitFilm> {
  const trace = (film: MovedFilm): Float64Array => traceOutside(question, film, clock);
  const last = moves.alongWarmth.length - 1;
  const tracedK = [0, last / 2, last].map((index) => trace(moves.alongWarmth[index] as MovedFilm));
  const light = (film: MovedFilm, listsK: Float64Array): LitFilm => ({ film, outside: { clock, listsK } });
  const [low, high] = moves.second;
  return {
    alongWarmth: moves.alongWarmth.map((film, index) =>
      light(film, mixLists(tracedK, stencilAt(tracedK.length, index / last).weights)),
    ),
    second: [light(low, trace(low)), light(high, trace(high))],
  };
}

/** Front and back of the film as it would be without heat of its own. */
function traceOutside(
  { card, constants }: MemberQuestion,
  { job }: MovedFilm,
  { atMin }: OutsideClock,
): Float64Array {
  const { heatsK } = traceHeat({ card, constants, job, heatJPerKg: 0 }, 'mixing', atMin);
  return heatsK.subarray(0, 2 * atMin.length);
}

/** When members are cool, over the scale: for each energy, each draw of both directions. */
function solveLines(question: MemberQuestion, spread: MemberSpread, films: Moves<LitFilm>): Float64Array[] {
  const variants = ENERGIES.map(({ z }) => variantAt(question, spread, z));
  const middleFilm = films.alongWarmth[(films.alongWarmth.length - 1) / 2] as LitFilm;
  const bases = variants.map((variant) => solveLadder(variant, middleFilm, LADDER_NODES_COUNT));
  const base = bases[MIDDLE_INDEX] as Ladder;
  const moves = mapMoves(films, (film) =>
    film === middleFilm ? base : solveLadder(variants[MIDDLE_INDEX] as Variant, film, MOVED_NODES_COUNT),
  );
  const count = spread.cellCount + 1;
  const stencils = stencilsOver(LADDER_NODES_COUNT, count);
  const litAtMin = (question.job.lampMinWPerM2 ?? []).map(([from]) => from);
  const fewDraws = placeDraws(films, FEW_DRAWS_Z);
  const manyDraws = placeDraws(films, MANY_DRAWS_Z);
  return bases.flatMap((own, place) => {
    const scales = scaleLogs((variants[place] as Variant).spread, LADDER_NODES_COUNT);
    return (place === MIDDLE_INDEX ? manyDraws : fewDraws).map(({ mix, outside }) => {
      const { sandLogMin, ownK } = moveLadder({ own, base }, moves, mix);
      const logMin = interpolateRising(scales, sandLogMin, { count, max: HORIZON_LOG_MIN });
      if (outside === null) return logMin;
      return logMin.map((sandLog, cell) => {
        if (sandLog === Infinity) return Infinity;
        const ownHeat = { ownK, stencil: stencils[cell] as Stencil };
        const coolMin = coolInstantMin(Math.exp(sandLog), ownHeat, outside, litAtMin);
        return coolMin > BATCH.horizonMin ? Infinity : Math.log(coolMin);
      });
    });
  });
}

/** Where draws lie among the films, and what comes to them from outside there. */
function placeDraws(
  films: Moves<LitFilm>,
  drawsZ: readonly (readonly [number, number])[],
): { mix: DrawMix; outside: OutsideHeat | null }[] {
  return drawsZ.map(([z, secondZ]) => {
    const near = stencilAt(films.alongWarmth.length, (z / WARMTH_REACH_SD + 1) / 2);
    const mix = { near, secondWeights: SLOPE_WEIGHTS.map((weight) => weight * secondZ) };
    return { mix, outside: mixOutsides(films, mix) };
  });
}

function mixOutsides(
  { alongWarmth, second }: Moves<LitFilm>,
  { near: { firstIndex, weights }, secondWeights }: DrawMix,
): OutsideHeat | null {
  const outsides = [...alongWarmth.slice(firstIndex, firstIndex + weights.length), ...second].flatMap(
    ({ outside }) => outside ?? [],
  );
  const [first] = outsides;
  if (first === undefined) return null;
  const listsK = outsides.map((outside) => outside.listsK);
  return { clock: first.clock, listsK: mixLists(listsK, [...weights, ...secondWeights]) };
}

/** Pairs of independent normal values, evenly spread: Fibonacci's lattice in the unit square, turned into normal values. */
function drawPairs(count: number, strideCount: number): (readonly [number, number])[] {
  return Array.from({ length: count }, (_, index) => {
    const secondPlace = (((index * strideCount) % count) + 0.5) / count;
    return [normalBelow((index + 0.5) / count), normalBelow(secondPlace)] as const;
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
const WARMTH_REACH_SD = 2.6;
const BUILD_WARMTHS_Z = [-2.6, -1.3, 0, 1.3, 2.6] as const;
const EDGE_WARMTHS_Z = [-2.6, 0, 2.6] as const;
const SECOND_Z = 1.3;
const SLOPE_WEIGHTS = [-0.5 / SECOND_Z, 0.5 / SECOND_Z] as const;
const MOVED_NODES_COUNT = 3;
const NORMAL_HALVINGS_COUNT = 40;
const FEW_DRAWS_Z = drawPairs(13, 8);
const MANY_DRAWS_Z = drawPairs(21, 13);
/** Points and weights of Gauss and Hermite for the standard normal density; the rarer a point, the fewer draws at it. */
const ENERGIES = [
  { z: -Math.sqrt(3), weight: 1 / 6, drawsCount: FEW_DRAWS_Z.length },
  { z: 0, weight: 2 / 3, drawsCount: MANY_DRAWS_Z.length },
  { z: Math.sqrt(3), weight: 1 / 6, drawsCount: FEW_DRAWS_Z.length },
] as const;
const MIDDLE_INDEX = 1;
