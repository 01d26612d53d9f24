// When a member is cool: its own heat on a clock that starts when it is sandable, and what comes from lamp and air on
// the clock of the shop.
import { BATCH } from './constants.ts';
import type { Stencil } from './lagrange.ts';
import { kelvinFromCelsius } from './units.ts';

const COOL_K = kelvinFromCelsius(BATCH.coolC);
const HALVINGS_COUNT = 9;
const CLOSE_END_MIN = 120;
const FAR_COUNT = 40;
const FAR_STEP_MIN = (BATCH.horizonMin - CLOSE_END_MIN) / FAR_COUNT;
/** A lamp's heat has corners; without one nothing from outside changes within two minutes. */
const LIT_STEP_MIN = 0.4;
const UNLIT_STEP_MIN = 2;

/**
 * Instants since mixing at which a film without heat of its own is traced: close for two hours, then far apart.
 */
export interface OutsideClock {
  readonly atMin: readonly number[];
  readonly closeStepMin: number;
}

/**
 * The instants for a film with lamps.
 */
export const LIT_CLOCK: OutsideClock = clockOf(LIT_STEP_MIN);
/**
 * The instants for a film without lamps.
 */
export const UNLIT_CLOCK: OutsideClock = clockOf(UNLIT_STEP_MIN);

function clockOf(closeStepMin: number): OutsideClock {
  const closeCount = Math.round(CLOSE_END_MIN / closeStepMin);
  const atMin = Array.from({ length: closeCount + FAR_COUNT + 1 }, (_, index) =>
    index <= closeCount ? index * closeStepMin : CLOSE_END_MIN + (index - closeCount) * FAR_STEP_MIN,
  );
  return { atMin, closeStepMin };
}

/**
 * Instants since a film was sandable at which its own heat is traced [min]: closest where it cools fastest.
 */
export const SINCE_SAND_MIN: readonly number[] = Array.from(
  { length: 17 },
  (_, index) => (3 * index ** 2) / 16,
);
const SINCE_COUNT = SINCE_SAND_MIN.length;

/**
 * What comes to a film from lamp and air.
 */
export interface OutsideHeat {
  readonly clock: OutsideClock;
  /** Front and back at the clock's instants, one list behind the other. */
  readonly listsK: Float64Array;
}

/**
 * Heat of a film without heat of its own, at one instant [K].
 * @param outside  what comes from lamp and air
 * @param sideIndex  [1] 0 front, 1 back
 * @param atMin  [min] since mixing, ≥ 0; past 12 h the last temperature stays
 * @returns temperature [K]
 * @source own: straight lines
 */
export function outsideAtK({ clock, listsK }: OutsideHeat, sideIndex: 0 | 1, atMin: number): number {
  const { closeStepMin } = clock;
  const { length } = clock.atMin;
  const place =
    atMin < CLOSE_END_MIN
      ? atMin / closeStepMin
      : Math.min(length - 1 - FAR_COUNT + (atMin - CLOSE_END_MIN) / FAR_STEP_MIN, length - 1);
  const left = Math.min(Math.floor(place), length - 2);
  const from = listsK[sideIndex * length + left] as number;
  return from + (place - left) * ((listsK[sideIndex * length + left + 1] as number) - from);
}

/**
 * A film's own heat between time scales: lists of front, back and inside at SINCE_SAND_MIN, one behind the other.
 */
export interface OwnHeat {
  readonly ownK: Float64Array;
  readonly stencil: Stencil;
}

/**
 * The first instant from sandable on with no depth above 45 °C [min].
 * Straight lines between the instants of the own heat, and a look just before each lamp is lit; after the last of them
 * nothing is left of it
 * @param sandMin  [min] since mixing, finite
 * @param own  heat above that from outside
 * @param outside  heat from outside
 * @param litAtMin  [min] when lamps are lit
 * @returns instant [min] since mixing, infinite when it does not come within 12 h
 * @source design MODEL §2
 */
export function coolInstantMin(
  sandMin: number,
  own: OwnHeat,
  outside: OutsideHeat,
  litAtMin: readonly number[],
): number {
  let from = momentAt(own, 0);
  if (excessK(from, outside, sandMin) <= 0) return sandMin;
  for (let k = 1; k < SINCE_COUNT; k++) {
    const to = momentAt(own, k);
    for (const litMin of litAtMin) {
      // The lines of the heat from outside round the corner at which a lamp is lit: look one step of them earlier.
      const part = (litMin - LIT_STEP_MIN - sandMin - from.sinceMin) / (to.sinceMin - from.sinceMin);
      if (part <= 0 || part >= 1 || excessK(between(from, to, part), outside, sandMin) > 0) continue;
      return crossingMin({ from, to: between(from, to, part) }, outside, sandMin);
    }
    if (excessK(to, outside, sandMin) <= 0) return crossingMin({ from, to }, outside, sandMin);
    from = to;
  }
  return lateInstantMin(sandMin, outside);
}

/** One instant of a film's own heat. */
interface Moment {
  readonly sinceMin: number;
  readonly frontK: number;
  readonly backK: number;
  readonly insideK: number;
}

function momentAt({ ownK, stencil: { firstIndex, weights } }: OwnHeat, index: number): Moment {
  let frontK = 0;
  let backK = 0;
  let insideK = 0;
  for (let near = 0; near < weights.length; near++) {
    const weight = weights[near] as number;
    const at = (firstIndex + near) * 3 * SINCE_COUNT + index;
    frontK += weight * (ownK[at] as number);
    backK += weight * (ownK[at + SINCE_COUNT] as number);
    insideK += weight * (ownK[at + 2 * SINCE_COUNT] as number);
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
  outside: OutsideHeat,
  sandMin: number,
): number {
  const atMin = sandMin + sinceMin;
  const hottestK = Math.max(frontK + outsideAtK(outside, 0, atMin), backK + outsideAtK(outside, 1, atMin));
  return hottestK + insideK - COOL_K;
}

/** Between an instant at which the film is hot and one at which it is not. */
function crossingMin(
  { from, to }: { from: Moment; to: Moment },
  outside: OutsideHeat,
  sandMin: number,
): number {
  let hotFraction = 0;
  let coolFraction = 1;
  for (let halving = 0; halving < HALVINGS_COUNT; halving++) {
    const middle = (hotFraction + coolFraction) / 2;
    if (excessK(between(from, to, middle), outside, sandMin) <= 0) coolFraction = middle;
    else hotFraction = middle;
  }
  return sandMin + from.sinceMin + coolFraction * (to.sinceMin - from.sinceMin);
}

function lateInstantMin(sandMin: number, { clock: { atMin }, listsK }: OutsideHeat): number {
  const lateMin = sandMin + (SINCE_SAND_MIN[SINCE_COUNT - 1] as number);
  const isCoolAt = (index: number): boolean =>
    Math.max(listsK[index] as number, listsK[atMin.length + index] as number) <= COOL_K;
  return atMin.find((instantMin, index) => instantMin >= lateMin && isCoolAt(index)) ?? Infinity;
}
