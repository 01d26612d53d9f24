// Marches a film through time with steps as long as the wanted accuracy allows, and stops where it is asked to.
import { KINETICS } from './constants.ts';
import type { FilmState } from './filmState.ts';
import { attemptStep, finishStep, takeStep } from './stepFilm.ts';

/**
 * The step a march takes next, carried from step to step.
 */
export interface March {
  /** What the last error allowed. */
  proposedS: number;
  stepCount: number;
}

/**
 * How accurate a march is, as the difference a step may show between its two answers [1].
 */
export const STEP_TOLERANCE = 7e-4;
/**
 * How accurate the members of a window are [1]: their own error stays far below what it promises.
 */
export const MEMBER_TOLERANCE = 3e-3;
/**
 * Steps tried at most for one film; reaching it is the outcome `unfinished` [1].
 */
export const STEPS_MAX = 20_000;

const SAFETY_RATIO = 0.9;
const GROWTH_RATIO = 4;
const SHRINK_RATIO = 0.2;
/** How far past a kink of the stabiliser a step may land, so that it does not stop just before it. */
const PAST_KINK_FRACTION = 0.002;
/** Below this a step adds nothing to its instant. */
const STEP_MIN_S = 1e-6;

/**
 * Makes one step that keeps the tolerance, rejecting and shrinking until it does; it is finished, not yet taken [s].
 * @param state  ready
 * @param march  written in place
 * @param limits  where the march must stop at the latest [s since mixing]; largest difference [1], > 0
 * @returns the step's length [s], or 0 when the steps are used up
 * @source Hairer, Nørsett, Wanner 1993, eq. II.4.13, third root by embeddedDifference; limits named as in CVODE
 */
export function marchStep(
  state: FilmState,
  march: March,
  { endS, tolerance }: { endS: number; tolerance: number },
): number {
  const breakS = Math.min(state.drive.untilS, endS) - state.atS;
  let stepS = Math.min(march.proposedS, kinkDistanceS(state));
  for (; march.stepCount < STEPS_MAX; march.stepCount++) {
    if (stepS > breakS - STEP_MIN_S) stepS = breakS;
    const error = attemptStep(state, stepS) / tolerance;
    const ratio = Math.min(GROWTH_RATIO, Math.max(SHRINK_RATIO, SAFETY_RATIO / Math.cbrt(error)));
    if (error <= 1 || stepS <= STEP_MIN_S) {
      finishStep(state, stepS);
      march.proposedS = Math.max(stepS * ratio, Math.min(march.proposedS, stepS * ratio * GROWTH_RATIO));
      march.stepCount++;
      return stepS;
    }
    stepS *= ratio;
    march.proposedS = stepS;
  }
  return 0;
}

/**
 * Takes a finished step, on the breakpoint exactly when it ends there.
 * @param state  written in place
 * @param stepS  [s] the step
 * @source own
 */
export function marchOn(state: FilmState, stepS: number): void {
  const endS = state.atS + stepS;
  const { untilS } = state.drive;
  takeStep(state, stepS, Math.abs(endS - untilS) <= STEP_MIN_S ? untilS : endS);
}

/** Time until the first depth begins to react, or else until the last depth runs freely, at the present rates. */
function kinkDistanceS(state: FilmState): number {
  const { kutta, operator } = state;
  const n = operator.nodeCount;
  if (kutta.count === n) return Infinity;
  let beginS = Infinity;
  let freeS = 0;
  let hasBegun = false;
  for (let i = 0; i < n; i++) {
    const perS = kutta.ratesPerS[n + i] as number;
    const begin = KINETICS.hardeningFromFraction - (kutta.startFractions[n + i] as number);
    hasBegun ||= begin < 0;
    beginS = Math.min(beginS, (begin + PAST_KINK_FRACTION) / perS);
    freeS = Math.max(freeS, (begin + KINETICS.hardeningOverFraction + PAST_KINK_FRACTION) / perS);
  }
  return hasBegun ? freeS : beginS;
}
