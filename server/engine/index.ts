// The engine's one gate: what server, tools and tests may use of it.
export { calibrateCard, type CardCalibration, recalibrate } from './calibrateCard.ts';
export type { CardConstants, CardStatement, FilmJob, Series } from './cardStatement.ts';
export { cavityTemperatureC } from './cavityTemperature.ts';
export type { CheckSeen } from './checkLikelihood.ts';
export { type Fill, MODEL_VERSION, type Substrate } from './constants.ts';
export {
  DEFAULT_WINDOW_PRIOR,
  estimateWindow,
  type TestWindow,
  type WindowPrior,
  type WindowQuestion,
} from './estimateWindow.ts';
export { BEAD_UNCERTAINTY, type FilmUncertainty } from './filmUncertainty.ts';
export { dewPointC, isCondensing, saturationPressurePa } from './humidity.ts';
export { Fault } from './invariant.ts';
export { judgeCard } from './judgeCard.ts';
export { judgeJob } from './judgeJob.ts';
export type { Rejection } from './judgeRange.ts';
export { lampFluxWPerM2, type LampReading } from './lampFlux.ts';
export { learnProduct, type ProductBelief } from './learnProduct.ts';
export type { LessonBranch, ScaleLesson } from './lessonLikelihood.ts';
export { type LessonReading, readLesson } from './readLesson.ts';
export { normalDensity, normalProbability } from './normal.ts';
export { type BatchSolution, solveBatch } from './solveBatch.ts';
export { type FilmOutcome, type FilmSolution, solveFilm, type SolveOptions } from './solveFilm.ts';
export { type ReasonCode, type ReasonPart, type ReasonSplit, splitReasons } from './splitReasons.ts';
export type { FilmSample } from './watchFilm.ts';
