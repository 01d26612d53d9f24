// The two films of the speed goals, solved by the engine and by the plain solver at the accuracy that is asked for.
import { type CardConstants, solveFilm } from '../../server/engine/index.ts';
import { calibrations, type Scenario, scenarios } from '../reference/scenarioTable.ts';
import { type FixedStep, type Instants, makeFixedStep } from './fixedStep.ts';
import type { FilmQuestion, Mesh } from './lineRates.ts';

export interface BenchFilm extends FilmQuestion {
  readonly name: string;
  /** A far finer solution by the plain solver, and what the independent solver of the reference file says. */
  readonly fine: Instants;
  readonly reference: Instants;
}

const FINE: FixedStep = { layout: 'nodes', count: 24, stepS: 0.02 };
const KEYS = ['gelMin', 'sandMin', 'coolMin'] as const;

/** 2 mm at 20 °C without a lamp; to the sandable instant, which is the cool one there. */
export const plainFilm = filmOf("steady 20 °C, the card's own conditions");
/** 2 mm at 12 °C under a lamp for 15 minutes; to the instant at which it is sandable and cool. */
export const lampFilm = filmOf('lamp from minute 10 to 25 in a cold bay');

/** Steps that meet the lamp's minutes, longest first. */
const STEPS_S = [30, 25, 20, 15, 12, 10, 7.5, 6, 5, 4, 3, 2.5, 2, 1.5, 1, 0.5] as const;

/** The cheapest of some meshes, each with its longest step whose errors stay within the accuracy. */
export function cheapestFixedStep(
  film: BenchFilm,
  { meshes, accuracyPct }: { meshes: readonly Mesh[]; accuracyPct: number },
): { readonly fixed: FixedStep; readonly errorPct: number } {
  const fitting = meshes.flatMap((mesh) =>
    STEPS_S.map((stepS) => ({ ...mesh, stepS }))
      .map((fixed) => ({ fixed, errorPct: errorPct(makeFixedStep(film, fixed)(), film.fine) }))
      .filter((one) => one.errorPct <= accuracyPct)
      .slice(0, 1),
  );
  const evaluations = ({ fixed }: (typeof fitting)[number]): number => fixed.count / fixed.stepS;
  const [cheapest] = fitting.toSorted((a, b) => evaluations(a) - evaluations(b));
  if (cheapest === undefined) throw new Error(`no step meets ${accuracyPct} % for ${film.name}`);
  return cheapest;
}

/** The engine's answer to a film. */
export function solveByEngine({ card, constants, job }: FilmQuestion): Instants {
  const { gelMin, sandMin, coolMin } = solveFilm(card, constants, job);
  return { gelMin: gelMin ?? NaN, sandMin: sandMin ?? NaN, coolMin: coolMin ?? NaN };
}

/** The largest difference of any instant [%]; infinite when there is none. */
export function errorPct(found: Instants, truth: Instants): number {
  const errors = KEYS.map((key) => 100 * Math.abs(found[key] / truth[key] - 1));
  return errors.some(Number.isNaN) ? Infinity : Math.max(...errors);
}

function filmOf(name: string): BenchFilm {
  const scenario = scenarios.find((one) => one.name === name) as Scenario;
  const { card, job, expected } = scenario;
  const question = { card, job, constants: calibrations[card.name] as CardConstants };
  return { ...question, name, fine: makeFixedStep(question, FINE)(), reference: expected };
}
