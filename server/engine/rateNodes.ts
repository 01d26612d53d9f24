// The chemistry at every node at one point of a step.
import { arrheniusRatio } from './arrhenius.ts';
import { speedAfterRatio } from './filmDrive.ts';
import type { FilmState } from './filmState.ts';
import { hardeningFraction, mobilityFraction } from './kinetics.ts';
import { celsiusFromKelvin } from './units.ts';

/**
 * Writes the rates of one stage, at the temperatures that stand in `nodeK`.
 * dξ/dt = speed (w̃ / t_ind) a(E_i);  du/dt = speed H (1 + ε)/2 k_ref √w̃ a(E_k) f_d;  a: arrheniusRatio
 * @param state  with progress, stabiliser and conversion of the stage; its rates are written
 * @param stageIndex  [1] row of the rates, 0 … 4
 * @param afterS  [s] since the start of the step
 * @source design MODEL §2
 */
export function rateNodes(state: FilmState, stageIndex: number, afterS: number): void {
  const { kutta, operator, nodeK, stageConversions, perReferenceK, inductionK, conversionK } = state;
  const n = operator.nodeCount;
  const { ratesPerS, stageFractions, count } = kutta;
  const row = stageIndex * kutta.rowLength;
  const speed = speedAfterRatio(state.drive, afterS);
  const inductionPerS = speed * state.inductionPerS;
  const conversionPerS = speed * state.conversionPerS;
  for (let i = 0; i < n; i++) {
    const temperatureK = nodeK[i] as number;
    const coldnessPerK = perReferenceK - 1 / temperatureK;
    let pacePerS = conversionPerS;
    if (count > n) {
      pacePerS *= hardeningFraction(stageFractions[n + i] as number);
      ratesPerS[row + n + i] = inductionPerS * arrheniusRatio(inductionK, coldnessPerK);
    }
    ratesPerS[row + i] =
      pacePerS === 0
        ? 0
        : pacePerS *
          arrheniusRatio(conversionK, coldnessPerK) *
          mobilityFraction(stageConversions[i] as number, celsiusFromKelvin(temperatureK));
  }
}
