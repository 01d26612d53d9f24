// The engine's gate: the names others build on, and the shapes behind them.
import { describe, expect, expectTypeOf, it } from 'vitest';
import * as engine from '../../server/engine/index.ts';
import {
  type BatchSolution,
  calibrateCard,
  type CardCalibration,
  estimateWindow,
  type Fill,
  type FilmOutcome,
  type FilmSample,
  type FilmUncertainty,
  type LampReading,
  lampFluxWPerM2,
  type ReasonCode,
  type ReasonPart,
  type ReasonSplit,
  type Rejection,
  solveBatch,
  solveFilm,
  type SolveOptions,
  splitReasons,
  type WindowPrior,
  type WindowQuestion,
} from '../../server/engine/index.ts';

describe('the gate of the engine', () => {
  it('holds these values and no others', () => {
    expect(Object.keys(engine).sort()).toEqual([
      'BEAD_UNCERTAINTY',
      'DEFAULT_WINDOW_PRIOR',
      'Fault',
      'MODEL_VERSION',
      'calibrateCard',
      'cavityTemperatureC',
      'dewPointC',
      'estimateWindow',
      'isCondensing',
      'judgeCard',
      'judgeJob',
      'lampFluxWPerM2',
      'learnProduct',
      'normalDensity',
      'normalProbability',
      'readLesson',
      'recalibrate',
      'saturationPressurePa',
      'solveBatch',
      'solveFilm',
      'splitReasons',
    ]);
    expect(engine.MODEL_VERSION).toMatch(/^\d+\.\d+\.\d+$/);
  });

  it('gives shapes that callers rely on', () => {
    expectTypeOf(calibrateCard).returns.toEqualTypeOf<CardCalibration>();
    expectTypeOf<Extract<CardCalibration, { kind: 'rejected' }>['rejections']>().toEqualTypeOf<Rejection[]>();
    expectTypeOf(solveBatch).returns.toEqualTypeOf<BatchSolution>();
    expectTypeOf<BatchSolution['samples']>().toEqualTypeOf<FilmSample[]>();
    expectTypeOf(solveFilm).parameter(3).toEqualTypeOf<SolveOptions | undefined>();
    expectTypeOf<ReturnType<typeof solveFilm>['outcome']>().toEqualTypeOf<FilmOutcome>();
    expectTypeOf(estimateWindow).parameter(0).toEqualTypeOf<WindowQuestion>();
    expectTypeOf<WindowQuestion['prior']>().toEqualTypeOf<WindowPrior | undefined>();
    expectTypeOf<WindowPrior['film']>().toEqualTypeOf<FilmUncertainty | undefined>();
    expectTypeOf(splitReasons).returns.toEqualTypeOf<ReasonSplit>();
    expectTypeOf<ReasonSplit['parts']>().toEqualTypeOf<ReasonPart[]>();
    expectTypeOf<ReasonPart['code']>().toEqualTypeOf<ReasonCode>();
    expectTypeOf(lampFluxWPerM2).parameter(0).toEqualTypeOf<LampReading>();
    expectTypeOf<engine.CardStatement['fill']>().toEqualTypeOf<Fill>();
  });
});
