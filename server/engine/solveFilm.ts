// Solves one film from mixing to the instants that matter: gel, sandable, cool enough, and how hot it became.
import type { CardConstants, CardStatement, FilmJob } from './cardStatement.ts';
import { BATCH, KINETICS } from './constants.ts';
import { chooseNodeCount } from './chooseNodeCount.ts';
import { beginFilm, makeFilmState } from './filmState.ts';
import { type March, marchOn, marchStep, STEP_TOLERANCE } from './marchFilm.ts';
import { readyFilm } from './stepFilm.ts';
import { celsiusFromKelvin, minutesFromSeconds, secondsFromMinutes } from './units.ts';
import { beginWatch, type FilmSample, makeFilmWatch, watchStep } from './watchFilm.ts';

/**
 * What can be asked beside the instants.
 */
export interface SolveOptions {
  /** Minutes since mixing at which the film is sampled, in any order, 0 … 10 080. */
  readonly sampleAtMin?: readonly number[];
  /** More or fewer nodes than the film needs, 2 … 16; for tests of convergence. */
  readonly nodeCount?: number;
  /** Difference a step may show between its two answers; for tests of convergence. */
  readonly tolerance?: number;
  /** Heat of cure, the model's own when missing. */
  readonly heatJPerKg?: number;
}

/**
 * Why a solution ends where it ends.
 */
export type FilmOutcome = 'sandable' | 'stalled' | 'unfinished';

/**
 * One film solved; an instant is null when it is not reached within 12 h.
 */
export interface FilmSolution {
  readonly gelMin: number | null;
  readonly sandMin: number | null;
  readonly coolMin: number | null;
  /** The highest temperature at any depth until the film is sandable. */
  readonly peakC: number;
  readonly samples: FilmSample[];
  readonly outcome: FilmOutcome;
  readonly stepCount: number;
}

const state = makeFilmState();
const watch = makeFilmWatch();
const march: March = { proposedS: 0, stepCount: 0 };
const HORIZON_S = secondsFromMinutes(BATCH.horizonMin);

/**
 * The instants of one film [min since mixing].
 * Gel: first depth at α = 0.05; sandable: last depth at α = 0.75; cool: first instant from then on with no depth
 * above 45 °C; none later than 12 h
 * @param card  the product, judged before (judgeCard)
 * @param constants  its calibration (calibrateCard)
 * @param job  the film, judged before (judgeJob)
 * @param options  samples, and accuracy for tests
 * @returns instants, peak temperature and samples in the order asked for
 * @source design MODEL §1–3; method in DEVELOPERS.md
 */
export function solveFilm(
  card: CardStatement,
  constants: CardConstants,
  job: FilmJob,
  options: SolveOptions = {},
): FilmSolution {
  const tolerance = options.tolerance ?? STEP_TOLERANCE;
  beginFilm(state, {
    card,
    constants,
    job,
    nodeCount: options.nodeCount ?? chooseNodeCount(card, job),
    heatJPerKg: options.heatJPerKg ?? KINETICS.heatJPerKg,
  });
  readyFilm(state);
  beginWatch(watch, state, options.sampleAtMin ?? []);
  march.proposedS = HORIZON_S;
  march.stepCount = 0;
  let isOutOfSteps = false;
  while (!isOutOfSteps && !watch.isDone) {
    const endS = state.atS < HORIZON_S ? HORIZON_S : watch.lastSampleS;
    const stepS = marchStep(state, march, { endS, tolerance });
    isOutOfSteps = stepS === 0;
    if (!isOutOfSteps) {
      watchStep(watch, state, stepS);
      marchOn(state, stepS);
    }
  }
  return {
    gelMin: minutesOrNull(watch.gelS),
    sandMin: minutesOrNull(watch.sandS),
    coolMin: minutesOrNull(watch.coolS),
    peakC: celsiusFromKelvin(watch.peakK),
    samples: watch.samples,
    outcome: outcomeOf(isOutOfSteps, watch.sandS),
    stepCount: march.stepCount,
  };
}

function outcomeOf(isOutOfSteps: boolean, sandS: number): FilmOutcome {
  if (isOutOfSteps) return 'unfinished';
  return Number.isFinite(sandS) ? 'sandable' : 'stalled';
}

function minutesOrNull(instantS: number): number | null {
  return Number.isFinite(instantS) ? minutesFromSeconds(instantS) : null;
}
