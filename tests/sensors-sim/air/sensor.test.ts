import { describe, expect, it } from 'vitest';
import { readSensor, stepSensor } from '../../../sensors-sim/air/sensor.ts';
import { coldMorning } from '../../../sensors-sim/scenarios/coldMorning.ts';
import type { SensorPlan } from '../../../sensors-sim/scenarios/scenario.ts';
import { at } from '../playDay.ts';

const [plan] = coldMorning.sensors as [SensorPlan];
const state = { airC: 12.34, relativeHumidityPct: 57.2 };
const moment = { seed: 7, at: at('2026-01-12T07:00:00Z'), sinceMidnightS: 25_200 };

describe('a sensor', () => {
  it('says the same at the same instant and whole steps only', () => {
    const reading = readSensor(plan, state, moment);
    expect(reading).toEqual(readSensor(plan, state, moment));
    expect(reading.airTemperatureC * 10).toBeCloseTo(Math.round(reading.airTemperatureC * 10), 9);
    expect(reading.relativeHumidityPct * 2).toBeCloseTo(Math.round(reading.relativeHumidityPct * 2), 9);
  });

  it('is right on the average but for its own error', () => {
    const temperatures = Array.from(
      { length: 400 },
      (_, seed) => readSensor(plan, state, { ...moment, seed }).airTemperatureC,
    );
    const meanC = temperatures.reduce((sum, each) => sum + each, 0) / temperatures.length;
    expect(meanC).toBeCloseTo(state.airC + plan.biasK, 1);
  });

  it('drifts when it is made to', () => {
    const drifting = readSensor({ ...plan, noiseK: 0, driftKPerS: 1e-4 }, state, moment);
    expect(drifting.airTemperatureC).toBeCloseTo(12.34 + plan.biasK + 2.52, 1);
  });

  it('never says more than 100 % nor less than one step of humidity', () => {
    const foggy = readSensor(plan, { ...state, relativeHumidityPct: 103 }, moment);
    const dry = readSensor(plan, { ...state, relativeHumidityPct: -2 }, moment);
    expect([foggy.relativeHumidityPct, dry.relativeHumidityPct]).toEqual([100, 1]);
  });

  it('follows a jump of the air by its lag', () => {
    let felt = { airC: 10, relativeHumidityPct: 50 };
    const around = { airC: 20, relativeHumidityPct: 50 };
    for (let step = 0; step < plan.lagS / 10; step += 1) felt = stepSensor(plan, felt, { around, stepS: 10 });
    expect(felt.airC).toBeCloseTo(20 - 10 * Math.exp(-1), 6);
  });
});
