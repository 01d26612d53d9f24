// A bay's climate in columns: means of even steps, a panel that lags, and its distance to the dew point.
import { describe, expect, it } from 'vitest';
import { climateOf, type ClimateSeries } from '../../server/domain/panelTrail.ts';
import { minute, series } from '../support/domainFixtures.ts';

const steady = (fromMin: number, untilMin: number, value: number) =>
  series(...Array.from({ length: untilMin - fromMin + 1 }, (_, i) => [fromMin + i, value] as const));
const told: ClimateSeries = { air: steady(-600, 1440, 20), humidity: steady(-600, 1440, 50), panel: [] };
const day = { fromAt: minute(0), toAt: minute(1440), isAirMoving: false };

describe('a climate', () => {
  it('of a day has steps of five minutes, of a week half an hour, of a quarter of a year eight hours at most', () => {
    const { stepMin, at } = climateOf(told, day);
    expect([stepMin, at.length, at[0]]).toEqual([5, 288, minute(2.5)]);
    expect(climateOf(told, { ...day, toAt: minute(7 * 1440) }).stepMin).toBe(30);
    expect(climateOf(told, { ...day, toAt: minute(92 * 1440) }).stepMin).toBe(480);
  });

  it('tells the panel’s distance to the dew point, which is 9.3 °C at 20 °C and half saturated', () => {
    // 9.26 °C: WMO-No. 8 Annex 4.B, as tests/reference/humidity.test.ts holds against published values.
    const { dewDistanceK, panelTemperatureC } = climateOf(told, day);
    expect(panelTemperatureC[0]).toBeCloseTo(20, 9);
    expect(dewDistanceK[0]).toBeCloseTo(20 - 9.26, 1);
  });

  it('has a panel that lags warm air, less where the air moves, or is felt by a sensor', () => {
    const air = [...steady(-600, -1, 10), ...steady(0, 1440, 20)];
    const at = (isAirMoving: boolean, panel = series()): number =>
      climateOf({ air, humidity: told.humidity, panel }, { ...day, isAirMoving })
        .panelTemperatureC[0] as number;
    // What is behind it has hardly left 10 °C: (8 · 20 + 6 · 10) / 14 (design MODEL §3).
    expect(Math.abs(at(false) - 15.75)).toBeLessThan(0.15);
    expect(Math.abs(at(true) - 17.2)).toBeLessThan(0.15);
    expect(at(false, series([1, 12], [2, 12.4]))).toBeCloseTo(12.2, 9);
    const late = climateOf({ ...told, air }, day).panelTemperatureC;
    expect(late.at(-1)).toBeGreaterThan(19.9);
  });

  it('is empty where nothing was measured', () => {
    const none = climateOf({ air: [], humidity: [], panel: [] }, day);
    expect(new Set([...none.airTemperatureC, ...none.panelTemperatureC, ...none.dewDistanceK])).toEqual(
      new Set([null]),
    );
    expect(climateOf({ ...told, humidity: [] }, day).dewDistanceK[0]).toBeNull();
    expect(climateOf({ ...told, humidity: steady(0, 60, 0) }, day).dewDistanceK[0]).toBeNull();
  });
});
