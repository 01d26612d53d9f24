// Dew point and saturation pressure against published tables and another library.
import psychrolib from 'psychrolib';
import { describe, expect, it } from 'vitest';
import { dewPointC, isCondensing, saturationPressurePa } from '../../server/engine/index.ts';
import reference from '../fixtures/reference/dewpoint.json' with { type: 'json' };

type Row = [airC: number, humidityPct: number, dewC: number];
const rowsOf = (rows: readonly number[][]): Row[] => rows as Row[];

describe('saturation pressure', () => {
  // WMO-No. 8 Annex 4.B (DP-1), in hPa.
  it.each([
    [0, 6.112],
    [10, 12.26],
    [20, 23.326],
    [30, 42.337],
  ])('at %i °C is that of the WMO formula', (temperatureC, expectedHPa) => {
    expect(saturationPressurePa(temperatureC) / 100).toBeCloseTo(expectedHPa, 3);
  });

  // ASHRAE Fundamentals 2017 ch. 1 table 3 (DP-3) and ITS-90 (DP-5, IAPWS/NIST); a simple formula is within 0.4 %.
  it.each([
    [0.01, 611.657],
    [5, 872.6],
    [25, 3169.7],
    [50, 12351.3],
  ])('at %f °C is near the full formula', (temperatureC, expectedPa) => {
    expect(Math.abs(saturationPressurePa(temperatureC) / expectedPa - 1)).toBeLessThan(0.004);
  });

  // Smithsonian tables (DP-4), from memory.
  it.each([
    [0, 6.11],
    [10, 12.27],
    [20, 23.37],
    [30, 42.43],
  ])('at %i °C is near the older tables', (temperatureC, expectedHPa) => {
    expect(Math.abs(saturationPressurePa(temperatureC) / 100 / expectedHPa - 1)).toBeLessThan(0.004);
  });
});

describe('dew point', () => {
  // Coating-practice tables (DP-2).
  it.each(rowsOf(reference.table.rows))(
    'of air at %f °C and %f percent is %f °C after rounding',
    (airC, humidityPct, publishedC) => {
      expect(Math.round(dewPointC(airC, humidityPct) * 10) / 10).toBeCloseTo(publishedC, 10);
    },
  );

  it.each(rowsOf(reference.magnusGrid.rows))(
    'of air at %f °C and %f percent is %f °C by the formula',
    (airC, humidityPct, theirsC) => {
      expect(dewPointC(airC, humidityPct)).toBeCloseTo(theirsC, 2);
    },
  );

  it('differs from another library by less than 0.03 K from dew points of 5 °C up', () => {
    // npm psychrolib 1.1.1 (DP-7); near and below 0 °C it differs more, taking ice.
    psychrolib.SetUnitSystem(psychrolib.SI);
    for (let airC = 10; airC <= 35; airC += 2.5) {
      for (let humidityPct = 30; humidityPct <= 100; humidityPct += 10) {
        const mineC = dewPointC(airC, humidityPct);
        const theirsC = psychrolib.GetTDewPointFromRelHum(airC, humidityPct / 100);
        if (mineC > 5) expect(Math.abs(mineC - theirsC)).toBeLessThan(0.03);
      }
    }
  });

  it('counts humidity above 100 % as 100 %', () => {
    // An Austrian service's practice (QC-5).
    expect(dewPointC(18, 104)).toBeCloseTo(18, 10);
  });
});

describe('condensation', () => {
  // ISO 8502-4 and ISO 12944-7 as coating practice quotes them (DP-6); inclusive by our choice.
  it.each([
    [14.9, true],
    [15, false],
    [15.1, false],
  ])('on a surface of %f °C above a dew point of 12 °C is %s', (surfaceTemperatureC, expected) => {
    expect(isCondensing({ surfaceTemperatureC, dewPointC: 12 })).toBe(expected);
  });
});
