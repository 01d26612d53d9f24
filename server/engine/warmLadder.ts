// A film that may grow hot at some time scales: when each is sandable, and its own heat from then on; and how ladders mix.
import { BATCH } from './constants.ts';
import { outsideAtK, type OutsideHeat, SINCE_SAND_MIN } from './coolInstant.ts';
import type { MovedFilm } from './filmUncertainty.ts';
import { mixLists, mixTimes, type Stencil, stencilsOver } from './lagrange.ts';
import { MEMBER_TOLERANCE } from './marchFilm.ts';
import { solveFilm } from './solveFilm.ts';
import { traceHeat } from './traceHeat.ts';
import { kelvinFromCelsius, minutesFromSeconds } from './units.ts';
import { scaleLogs, type Variant } from './windowMembers.ts';

/**
 * A film at LADDER_NODES_COUNT even time scales.
 */
export interface Ladder {
  /** Infinite where the film stalls. */
  readonly sandLogMin: readonly number[];
  /** Front, back and inside above what comes from outside, at SINCE_SAND_MIN; one time scale behind the other, or nothing. */
  readonly ownK: Float64Array;
}

/**
 * A film with what comes to it from outside; null where it is never hot.
 */
export interface LitFilm {
  readonly film: MovedFilm;
  readonly outside: OutsideHeat | null;
}

/**
 * Films between which a draw lies: weights along the warmth sum to 1, those along the second direction to 0.
 */
export interface DrawMix {
  readonly near: Stencil;
  readonly secondWeights: readonly number[];
}

/**
 * What moves a ladder: films along the warmth, and two along the second direction.
 */
export interface Moves<T> {
  readonly alongWarmth: readonly T[];
  readonly second: readonly [T, T];
}

/**
 * Time scales of a ladder [1].
 */
export const LADDER_NODES_COUNT = 5;

/** Below it a film and its neighbours on the ladder are cool whatever is not known of them. */
const FAR_FROM_HOT_K = kelvinFromCelsius(BATCH.coolC - 10);
const SINCE_COUNT = SINCE_SAND_MIN.length;
const NO_HEAT_K = new Float64Array(0);

/**
 * Solves a film at some time scales, and interpolates those of a ladder between them.
 * @param variant  the product at one activation energy, and how far the scale reaches
 * @param lit  the film
 * @param solvedCount  [1] time scales that are solved, 2 … LADDER_NODES_COUNT
 * @returns its ladder
 * @source own
 */
export function solveLadder(variant: Variant, { film, outside }: LitFilm, solvedCount: number): Ladder {
  const sandLogMin: number[] = [];
  const ownsK: Float64Array[] = [];
  for (const offsetLog of scaleLogs(variant.spread, solvedCount)) {
    const timeScale = (film.job.timeScale ?? 1) * Math.exp(offsetLog);
    const moved = { ...film, job: { ...film.job, timeScale } };
    const { sandMin, ownK } =
      outside === null ? solveCold(variant, moved) : solveHot(variant, moved, outside);
    sandLogMin.push(Math.log(sandMin));
    // A film that stalls has no heat to tell of: that of the slowest one that does not stands for it.
    ownsK.push(sandMin < Infinity ? ownK : (ownsK.at(-1) ?? ownK));
  }
  const stencils = stencilsOver(solvedCount, LADDER_NODES_COUNT);
  const ownK = new Float64Array(LADDER_NODES_COUNT * (ownsK[0] as Float64Array).length);
  for (const [node, { firstIndex, weights }] of stencils.entries()) {
    const listK = mixLists(ownsK.slice(firstIndex), weights);
    ownK.set(listK, node * listK.length);
  }
  const sandAt = ({ firstIndex, weights }: Stencil): number =>
    mixTimes(sandLogMin.slice(firstIndex), weights);
  return { sandLogMin: stencils.map(sandAt), ownK };
}

function solveCold(
  { card, constants }: Variant,
  { job, heatJPerKg }: MovedFilm,
): { sandMin: number; ownK: Float64Array } {
  const { sandMin } = solveFilm(card, constants, job, { heatJPerKg, tolerance: MEMBER_TOLERANCE });
  return { sandMin: sandMin ?? Infinity, ownK: NO_HEAT_K };
}

function solveHot(
  { card, constants }: Variant,
  { job, heatJPerKg }: MovedFilm,
  outside: OutsideHeat,
): { sandMin: number; ownK: Float64Array } {
  const question = { card, constants, job, heatJPerKg, untilBelowK: FAR_FROM_HOT_K };
  const { sandS, heatsK, toldCount } = traceHeat(question, 'sandable', SINCE_SAND_MIN);
  const sandMin = minutesFromSeconds(sandS);
  for (const [index, sinceMin] of SINCE_SAND_MIN.entries()) {
    for (const side of [0, 1] as const) {
      const at = side * SINCE_COUNT + index;
      heatsK[at] = (heatsK[at] as number) - outsideAtK(outside, side, sandMin + sinceMin);
    }
  }
  for (let from = 0; from < heatsK.length; from += SINCE_COUNT) fadeAway(heatsK, from, toldCount);
  return { sandMin, ownK: heatsK };
}

/** A film far from hot is followed no further: its own heat goes on fading as it did last. */
function fadeAway(ownK: Float64Array, fromIndex: number, toldCount: number): void {
  if (toldCount < 2) return;
  const lastK = ownK[fromIndex + toldCount - 1] as number;
  const lastMin = SINCE_SAND_MIN[toldCount - 1] as number;
  const overMin = lastMin - (SINCE_SAND_MIN[toldCount - 2] as number);
  const ratio = Math.min(1, Math.max(0, lastK / (ownK[fromIndex + toldCount - 2] as number)) || 0);
  for (let index = toldCount; index < SINCE_COUNT; index++) {
    const sinceMin = (SINCE_SAND_MIN[index] as number) - lastMin;
    ownK[fromIndex + index] = lastK * ratio ** (sinceMin / overMin);
  }
}

/**
 * A ladder of one activation energy, moved by what a draw moves that of the middle one.
 * A film stalls where its own does or the middle one's moved film does
 * @param own  at the middle of both directions
 * @param base  that of the middle energy
 * @param moves  of the middle energy
 * @param mix  where the draw lies
 * @returns the moved ladder
 * @source own: at other energies the same move of warmth tells the same, to first order
 */
export function moveLadder(
  { own, base }: { own: Ladder; base: Ladder },
  { alongWarmth, second }: Moves<Ladder>,
  { near: { firstIndex, weights }, secondWeights }: DrawMix,
): Ladder {
  const near = alongWarmth.slice(firstIndex, firstIndex + weights.length);
  const sandLogMin = own.sandLogMin.map((ownLog, node) => {
    const at = ({ sandLogMin: logs }: Ladder): number => logs[node] as number;
    const baseLog = at(base);
    if (baseLog === Infinity) return ownLog;
    const secondLog = second.every((film) => at(film) < Infinity)
      ? mixTimes(second.map(at), secondWeights)
      : 0;
    return ownLog + (mixTimes(near.map(at), weights) - baseLog) + secondLog;
  });
  const listsK = [own, base, ...near, ...second].map(({ ownK }) => ownK);
  return { sandLogMin, ownK: mixLists(listsK, [1, -1, ...weights, ...secondWeights]) };
}
