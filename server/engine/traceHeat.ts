// How hot a film is from some instant on, sandable or not: what a batch waits for after a lamp or its own heat.
import type { CardConstants, CardStatement, FilmJob } from './cardStatement.ts';
import { chooseNodeCount } from './chooseNodeCount.ts';
import { BATCH } from './constants.ts';
import { beginFilm, makeFilmState } from './filmState.ts';
import { hottestInsideK } from './insideStep.ts';
import { type March, marchOn, marchStep, MEMBER_TOLERANCE } from './marchFilm.ts';
import { readyFilm } from './stepFilm.ts';
import { secondsFromMinutes } from './units.ts';
import { beginWatch, makeFilmWatch, watchStep } from './watchFilm.ts';

/**
 * One film, followed past the instant at which it is sandable.
 */
export interface HeatTrace {
  /** Infinite when it is not reached within 12 h. */
  readonly sandS: number;
  /** Front, back, and how much warmer the warmest depth is than both, one list behind the other. */
  readonly heatsK: Float64Array;
  /** How many instants were followed: the heat of the last of them stands for the others. */
  readonly toldCount: number;
}

/**
 * A film to follow.
 */
export interface HeatQuestion {
  readonly card: CardStatement;
  readonly constants: CardConstants;
  readonly job: FilmJob;
  readonly heatJPerKg: number;
  /** Followed no further than this once no lamp is lit any more; to the last instant when missing. */
  readonly untilBelowK?: number;
}

const state = makeFilmState();
const watch = makeFilmWatch();
const march: March = { proposedS: 0, stepCount: 0 };
const HORIZON_S = secondsFromMinutes(BATCH.horizonMin);

/**
 * How hot a film is at some instants [K].
 * Instants count from mixing, or from the one at which the film is sandable; past 12 h the last temperature stays
 * @param question  the film, judged before
 * @param since  what the instants count from
 * @param atMin  [min] rising, ≥ 0
 * @returns three temperatures for each instant, zero when they count from an instant that never comes
 * @source as solveFilm
 */
export function traceHeat(
  { card, constants, job, heatJPerKg, untilBelowK = 0 }: HeatQuestion,
  since: 'mixing' | 'sandable',
  atMin: readonly number[],
): HeatTrace {
  const length = atMin.length;
  const heatsK = new Float64Array(3 * length);
  beginFilm(state, { card, constants, job, nodeCount: chooseNodeCount(card, job), heatJPerKg });
  readyFilm(state);
  beginWatch(watch, state, []);
  march.proposedS = HORIZON_S;
  march.stepCount = 0;
  let count = 0;
  let stepS = Infinity;
  let hottestK = Infinity;
  const darkS = secondsFromMinutes(Math.max(0, ...(job.lampMinWPerM2 ?? []).map(([, toMin]) => toMin)));
  while (stepS > 0 && count < length && state.atS < HORIZON_S) {
    if (hottestK < untilBelowK && state.atS >= darkS) break;
    stepS = marchStep(state, march, { endS: HORIZON_S, tolerance: MEMBER_TOLERANCE });
    if (watch.sandS === Infinity) watchStep(watch, state, stepS);
    const fromS = (since === 'mixing' ? 0 : watch.sandS) - state.atS;
    for (; count < length; count++) {
      const afterS = fromS + secondsFromMinutes(atMin[count] as number);
      if (afterS > stepS) break;
      hottestK = hottestInsideK(state, stepS, afterS);
      const frontK = state.nodeK[0] as number;
      const backK = state.nodeK[state.operator.nodeCount - 1] as number;
      heatsK[count] = frontK;
      heatsK[length + count] = backK;
      heatsK[2 * length + count] = hottestK - Math.max(frontK, backK);
    }
    marchOn(state, stepS);
  }
  for (let list = 0; list < 3; list++) {
    const end = (list + 1) * length;
    heatsK.fill(heatsK[list * length + Math.max(0, count - 1)] as number, end - length + count, end);
  }
  return { sandS: watch.sandS, heatsK, toldCount: count };
}
