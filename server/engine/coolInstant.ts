// When a member is cool: its own heat on a clock that starts when it is sandable, and what comes from lamp and air on
// the clock of the shop.
import { BATCH } from './constants.ts';
import type { Stencil } from './lagrange.ts';
import { kelvinFromCelsius } from './units.ts';

const COOL_K = kelvinFromCelsius(BATCH.coolC);
const HALVINGS_COUNT = 9;
const CLOSE_COUNT = 300;
const CLOSE_STEP_MIN = 0.4;
const CLOSE_END_MIN = CLOSE_COUNT * CLOSE_STEP_MIN;
const FAR_COUNT = 40;
const FAR_STEP_MIN = (BATCH.horizonMin - CLOSE_END_MIN) / FAR_COUNT;

/**
 * Instants since mixing at which a film without heat of its own is traced [min]: close for two hours, then far apart.
 */
export const OUTSIDE_AT_MIN: readonly number[] = Array.from(
  { length: CLOSE_COUNT + FAR_COUNT + 1 },
  (_, index) =>
    index <= CLOSE_COUNT ? index * CLOSE_STEP_MIN : CLOSE_END_MIN + (index - CLOSE_COUNT) * FAR_STEP_MIN,
);
const OUTSIDE_COUNT = OUTSIDE_AT_MIN.length;

/**
 * Instants since a film was sandable at which its own heat is traced [min]: closest where it cools fastest.
 */
export const SINCE_SAND_MIN: readonly number[] = Array.from({ length: 25 }, (_, index) => index ** 2 / 12);
const SINCE_COUNT = SINCE_SAND_MIN.length;

/**
 * Heat of a film without heat of its own, at one instant [K].
 * @param outsideK  [K] front and back at OUTSIDE_AT_MIN, one list behind the other
 * @param sideIndex  [1] 0 front, 1 back
 * @param atMin  [min] since mixing, ≥ 0; past 12 h the last temperature stays
 * @returns temperature [K]
 * @source own: straight lines
 */
export function outsideAtK(outsideK: Float64Array, sideIndex: 0 | 1, atMin: number): number {
  const place =
    atMin < CLOSE_END_MIN
      ? atMin / CLOSE_STEP_MIN
      : Math.min(CLOSE_COUNT + (atMin - CLOSE_END_MIN) / FAR_STEP_MIN, OUTSIDE_COUNT - 1);
  const left = Math.min(Math.floor(place), OUTSIDE_COUNT - 2);
  const from = outsideK[sideIndex * OUTSIDE_COUNT + left] as number;
  return from + (place - left) * ((outsideK[sideIndex * OUTSIDE_COUNT + left + 1] as number) - from);
}

/**
 * A film's own heat between time scales: lists of front, back and inside at SINCE_SAND_MIN, one behind the other.
 */
export interface OwnHeat {
  readonly listsK: readonly Float64Array[];
  readonly stencil: Stencil;
}

/**
 * What comes to a film from lamp and air.
 */
export interface OutsideHeat {
  /** Front and back at OUTSIDE_AT_MIN, one list behind the other. */
  readonly listsK: Float64Array;
  /** When lamps are lit. */
  readonly litAtMin: readonly number[];
}

/**
 * The first instant from sandable on with no depth above 45 °C [min].
 * Straight lines between the instants of the own heat, and a look just before each lamp is lit; after the last of them
 * nothing is left of it
 * @param sandMin  [min] since mixing, finite
 * @param own  heat above that from outside
 * @param outside  heat from outside
 * @returns instant [min] since mixing, infinite when it does not come within 12 h
 * @source design MODEL §2
 */
export function coolInstantMin(sandMin: number, own: OwnHeat, { listsK, litAtMin }: OutsideHeat): number {
  let from = momentAt(own, 0);
  if (excessK(from, listsK, sandMin) <= 0) return sandMin;
  for (let k = 1; k < SINCE_COUNT; k++) {
    const to = momentAt(own, k);
    for (const litMin of litAtMin) {
      // The lines of the heat from outside round the corner at which a lamp is lit: look one step of them earlier.
      const part = (litMin - CLOSE_STEP_MIN - sandMin - from.sinceMin) / (to.sinceMin - from.sinceMin);
      if (part <= 0 || part >= 1 || excessK(between(from, to, part), listsK, sandMin) > 0) continue;
      return crossingMin({ from, to: between(from, to, part) }, listsK, sandMin);
    }
    if (excessK(to, listsK, sandMin) <= 0) return crossingMin({ from, to }, listsK, sandMin);
    from = to;
  }
  return lateInstantMin(sandMin, listsK);
}

/** One instant of a film's own heat. */
interface Moment {
  readonly sinceMin: number;
  readonly frontK: number;
  readonly backK: number;
  readonly insideK: number;
}

function momentAt({ listsK, stencil: { firstIndex, weights } }: OwnHeat, index: number): Moment {
  let frontK = 0;
  let backK = 0;
  let insideK = 0;
  for (let near = 0; near < weights.length; near++) {
    const weight = weights[near] as number;
    const list = listsK[firstIndex + near] as Float64Array;
    frontK += weight * (list[index] as number);
    backK += weight * (list[SINCE_COUNT + index] as number);
    insideK += weight * (list[2 * SINCE_COUNT + index] as number);
  }
  return { sinceMin: SINCE_SAND_MIN[index] as number, frontK, backK, insideK };
}

function between(from: Moment, to: Moment, partFraction: number): Moment {
  return {
    sinceMin: from.sinceMin + partFraction * (to.sinceMin - from.sinceMin),
    frontK: from.frontK + partFraction * (to.frontK - from.frontK),
    backK: from.backK + partFraction * (to.backK - from.backK),
    insideK: from.insideK + partFraction * (to.insideK - from.insideK),
  };
}

function excessK(
  { sinceMin, frontK, backK, insideK }: Moment,
  outsideK: Float64Array,
  sandMin: number,
): number {
  const atMin = sandMin + sinceMin;
  const hottestK = Math.max(frontK + outsideAtK(outsideK, 0, atMin), backK + outsideAtK(outsideK, 1, atMin));
  return hottestK + insideK - COOL_K;
}

/** Between an instant at which the film is hot and one at which it is not. */
function crossingMin(
  { from, to }: { from: Moment; to: Moment },
  outsideK: Float64Array,
  sandMin: number,
): number {
  let hotFraction = 0;
  let coolFraction = 1;
  for (let halving = 0; halving < HALVINGS_COUNT; halving++) {
    const middle = (hotFraction + coolFraction) / 2;
    if (excessK(between(from, to, middle), outsideK, sandMin) <= 0) coolFraction = middle;
    else hotFraction = middle;
  }
  return sandMin + from.sinceMin + coolFraction * (to.sinceMin - from.sinceMin);
}

function lateInstantMin(sandMin: number, outsideK: Float64Array): number {
  const lateMin = sandMin + (SINCE_SAND_MIN[SINCE_COUNT - 1] as number);
  const isCoolAt = (index: number): boolean =>
    Math.max(outsideK[index] as number, outsideK[OUTSIDE_COUNT + index] as number) <= COOL_K;
  return OUTSIDE_AT_MIN.find((atMin, index) => atMin >= lateMin && isCoolAt(index)) ?? Infinity;
}
