// A cheap sensor: it lags behind the air, hums a little, has its own error, and tells whole steps only.
import type { Instant } from '../../server/contract/index.ts';
import { drawNormal, makeRandom } from '../random.ts';
import type { SensorPlan } from '../scenarios/scenario.ts';

export interface SensorState {
  readonly airC: number;
  readonly relativeHumidityPct: number;
}

export interface Reading {
  readonly sensorId: string;
  readonly at: Instant;
  readonly airTemperatureC: number;
  readonly relativeHumidityPct: number;
}

/** What the sensor's body has taken on of the air one step later. */
export function stepSensor(
  plan: SensorPlan,
  state: SensorState,
  { around, stepS }: { around: SensorState; stepS: number },
): SensorState {
  const share = 1 - Math.exp(-stepS / plan.lagS);
  return {
    airC: state.airC + (around.airC - state.airC) * share,
    relativeHumidityPct:
      state.relativeHumidityPct + (around.relativeHumidityPct - state.relativeHumidityPct) * share,
  };
}

/** What the sensor says at an instant: the same seed, sensor and instant always give the same words. */
export function readSensor(
  plan: SensorPlan,
  state: SensorState,
  { seed, at, sinceMidnightS }: { seed: number; at: Instant; sinceMidnightS: number },
): Reading {
  const random = makeRandom(seed, `${plan.sensorId} ${at}`);
  const airC = state.airC + plan.biasK + plan.driftKPerS * sinceMidnightS + plan.noiseK * drawNormal(random);
  const humidityPct = state.relativeHumidityPct + plan.noisePct * drawNormal(random);
  return {
    sensorId: plan.sensorId,
    at,
    airTemperatureC: inSteps(airC, plan.stepC),
    relativeHumidityPct: Math.min(100, Math.max(1, inSteps(humidityPct, plan.stepPct))),
  };
}

function inSteps(value: number, step: number): number {
  return Math.round(Math.round(value / step) * step * 100) / 100;
}
