// The air inside a door or behind a bonnet lags the bay's air; how warm it is when a batch begins.
import type { Series } from './cardStatement.ts';
import { SURFACES } from './constants.ts';
import { invariant } from './invariant.ts';
import { secondsFromMinutes } from './units.ts';

/**
 * Temperature of the cavity behind a panel after a stretch of bay air [°C].
 * T_c' = (T_air − T_c) / 5400 s, exact for every straight piece:
 * T_c(s) = T_air(s) − B τ + (T_c(0) − T_air(0) + B τ) e^{−s/τ}
 * @param history  bay air [°C over minutes], from and to which minute, temperature of the cavity at the first of them
 * @returns cavity temperature [°C]
 * @throws Fault when there is no air or time runs backwards (the caller's check)
 * @source design MODEL §3
 */
export function cavityTemperatureC({
  airC,
  fromMin,
  toMin,
  startC,
}: {
  airC: Series;
  fromMin: number;
  toMin: number;
  startC: number;
}): number {
  invariant(airC.length > 0 && fromMin <= toMin, 'a cavity has air and time runs forwards');
  let cavityC = startC;
  let atMin = fromMin;
  for (let index = 0; index <= airC.length; index++) {
    const nextMin = Math.min(toMin, airC[index]?.[0] ?? Infinity);
    if (nextMin <= atMin) continue;
    cavityC = lagAlong(cavityC, airC, { index, atMin, nextMin });
    atMin = nextMin;
  }
  return cavityC;
}

/** Along one straight piece, which ends at the point of that index. */
function lagAlong(
  cavityC: number,
  airC: Series,
  { index, atMin, nextMin }: { index: number; atMin: number; nextMin: number },
): number {
  const after = airC[index];
  const before = airC[index - 1];
  const durationS = secondsFromMinutes(nextMin - atMin);
  const fade = Math.exp(-durationS / SURFACES.cavityLagS);
  if (before === undefined || after === undefined) {
    const near = before ?? after;
    invariant(near !== undefined, 'a piece of air has a point at one end');
    const steadyC = near[1];
    return steadyC + (cavityC - steadyC) * fade;
  }
  const slopeCPerMin = (after[1] - before[1]) / (after[0] - before[0]);
  const fromC = before[1] + slopeCPerMin * (atMin - before[0]);
  const toC = before[1] + slopeCPerMin * (nextMin - before[0]);
  const trailC = (slopeCPerMin * SURFACES.cavityLagS) / secondsFromMinutes(1);
  return toC - trailC + (cavityC - fromC + trailC) * fade;
}
