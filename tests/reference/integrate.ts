// Any system of rates, integrated with the very rule that advances the chemistry of a film.
import {
  acceptStep,
  embeddedDifference,
  formStage,
  makeKuttaStep,
  STAGE_COUNT,
} from '../../server/engine/kuttaStep.ts';

type Rates = (values: Float64Array, atS: number) => readonly number[];

/** Values after so many equal steps, and the largest embedded difference of a step. */
export function integrate(
  rates: Rates,
  start: readonly number[],
  { durationS, stepCount }: { durationS: number; stepCount: number },
): { values: number[]; difference: number } {
  const step = makeKuttaStep(start.length);
  step.count = start.length;
  step.startFractions.set(start);
  const stepS = durationS / stepCount;
  const points = [0, 1 / 3, 2 / 3, 1, 1];
  step.ratesPerS.set(rates(step.startFractions, 0));
  let difference = 0;
  for (let index = 0; index < stepCount; index++) {
    for (let stage = 1; stage < STAGE_COUNT; stage++) {
      formStage(step, stage, stepS);
      const atS = (index + (points[stage] ?? 0)) * stepS;
      step.ratesPerS.set(rates(step.stageFractions, atS), stage * step.rowLength);
    }
    difference = Math.max(difference, embeddedDifference(step, stepS, 0, start.length));
    acceptStep(step);
  }
  return { values: [...step.startFractions], difference };
}
