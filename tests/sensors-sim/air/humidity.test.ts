import { describe, expect, it } from 'vitest';
import {
  relativeHumidityFrom,
  saturationFrom,
  stepVapour,
  vapourFrom,
} from '../../../sensors-sim/air/humidity.ts';

describe('vapour in air', () => {
  // Handbook values of saturated air [g/m³].
  it.each([
    [-10, 2.14],
    [0, 4.85],
    [10, 9.4],
    [20, 17.3],
    [30, 30.4],
  ])('holds at most, at %i °C, %f g/m³', (airC, vapourGPerM3) => {
    expect(saturationFrom(airC) / vapourGPerM3).toBeCloseTo(1, 1);
  });

  it('turns from relative humidity and back', () => {
    const vapourGPerM3 = vapourFrom({ airC: 12, relativeHumidityPct: 63 });
    expect(relativeHumidityFrom({ airC: 12, vapourGPerM3 })).toBeCloseTo(63, 9);
  });

  it('is drier for the same water when warmer', () => {
    expect(relativeHumidityFrom({ airC: 20, vapourGPerM3: 5 })).toBeLessThan(
      relativeHumidityFrom({ airC: 10, vapourGPerM3: 5 }),
    );
  });
});

describe('the vapour balance of a room', () => {
  const drive = { outsideGPerM3: 3, exchangePerS: 0.0002, sourceGPerM3PerS: 0.0006, wallC: 25, stepS: 10 };

  it('comes to rest where what leaves equals what is brought in and given off', () => {
    let vapourGPerM3 = 8;
    for (let step = 0; step < 20_000; step += 1) vapourGPerM3 = stepVapour(vapourGPerM3, drive);
    expect(vapourGPerM3).toBeCloseTo(3 + 0.0006 / 0.0002, 6);
  });

  it('does not depend on how a stretch is cut into steps', () => {
    let fineGPerM3 = 8;
    for (let step = 0; step < 60; step += 1) fineGPerM3 = stepVapour(fineGPerM3, drive);
    expect(stepVapour(8, { ...drive, stepS: 600 })).toBeCloseTo(fineGPerM3, 9);
  });

  it('only gathers what is given off when nothing is exchanged', () => {
    expect(stepVapour(5, { ...drive, exchangePerS: 0 })).toBeCloseTo(5.006, 9);
  });

  it('loses to a cold wall what the wall cannot hold, and no more', () => {
    const cold = { ...drive, exchangePerS: 0, sourceGPerM3PerS: 0, wallC: 2 };
    let vapourGPerM3 = 9;
    for (let step = 0; step < 3000; step += 1) {
      const next = stepVapour(vapourGPerM3, cold);
      expect(next).toBeLessThanOrEqual(vapourGPerM3);
      vapourGPerM3 = next;
    }
    expect(vapourGPerM3).toBeCloseTo(saturationFrom(2), 3);
  });
});
