// Cards and jobs that the engine's tests vary.
import * as fc from 'fast-check';
import {
  calibrateCard,
  type CardConstants,
  type CardStatement,
  type FilmJob,
  type FilmSolution,
  solveFilm,
} from '../../server/engine/index.ts';

export const bodyFiller: CardStatement = {
  fill: 'regular',
  atC: 20,
  thicknessMm: 1,
  hardenerPct: 2,
  workingMin: 5,
  sandMin: 17.5,
  activationKJPerMol: 46,
  inductionActivationKJPerMol: 50,
  humidityEffectPer10Pct: 0,
};

export const plainJob: FilmJob = {
  substrate: 'steel',
  thicknessMm: 2,
  hardenerPct: 2,
  airC: [[0, 20]],
  humidityPct: [[0, 50]],
};

/** Constants of a card that is known to calibrate. */
export function constantsOf(card: CardStatement): CardConstants {
  const calibration = calibrateCard(card);
  if (calibration.kind === 'rejected') throw new Error(JSON.stringify(calibration.rejections));
  return calibration.constants;
}

export const bodyConstants = constantsOf(bodyFiller);

/** The body filler on a changed plain job. */
export function solveBody(change: Partial<FilmJob> = {}): FilmSolution {
  return solveFilm(bodyFiller, bodyConstants, { ...plainJob, ...change });
}

/** Properties run a fixed number of cases from a fixed seed: the same every time. */
export const fixed = { seed: 20_260_112, numRuns: 120 };

const rounded = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: Math.round(min * 100), max: Math.round(max * 100) }).map((value) => value / 100);

/** Air that drifts by a few degrees over an hour. */
export const airC = (min: number, max: number): fc.Arbitrary<FilmJob['airC']> =>
  fc.array(fc.tuple(rounded(0.5, 20), rounded(min, max)), { minLength: 1, maxLength: 5 }).map((points) => {
    let atMin = 0;
    return points.map(([waitMin, value], index) => {
      if (index > 0) atMin += waitMin;
      return [atMin, value] as const;
    });
  });

const thicknessMm = rounded(0.2, 6);
export const hardenerPct = rounded(1, 3);

/** Any job without a lamp in a shop between 8 and 33 °C. */
export const lamplessJob: fc.Arbitrary<FilmJob> = fc.record({
  substrate: fc.constantFrom('steel' as const, 'aluminium' as const, 'plastic' as const),
  thicknessMm,
  hardenerPct,
  airC: airC(8, 33),
  humidityPct: fc.constant([[0, 50]] as const),
  movingAir: fc.boolean(),
});

/** One or two spells of a lamp. */
export const lampMinWPerM2 = fc
  .tuple(rounded(0, 15), rounded(1, 10), rounded(100, 1200))
  .map(([fromMin, forMin, fluxWPerM2]) => [[fromMin, fromMin + forMin, fluxWPerM2] as const]);
