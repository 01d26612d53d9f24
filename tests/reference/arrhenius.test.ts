// Temperature dependence against published exercises, handbooks and identities.
import { describe, expect, it } from 'vitest';
import { arrheniusRatio } from '../../server/engine/arrhenius.ts';
import { kelvinFromCelsius } from '../../server/engine/units.ts';
import reference from '../fixtures/reference/maturity.json' with { type: 'json' };
import kinetics from '../fixtures/reference/kinetics.json' with { type: 'json' };
import { integrate } from './integrate.ts';

const gas = 8.314462618;
/** Far hotter than anything: the plain law is the ratio to an endless temperature. */
const endlessK = 1e300;

/** The engine's factor, asked in the words of handbooks: J/mol and two temperatures. It is right to 4e-8 of itself. */
function ratioOf(activationJPerMol: number, { atK, fromK }: { atK: number; fromK: number }): number {
  return arrheniusRatio(activationJPerMol / gas, 1 / fromK - 1 / atK);
}

describe('an Arrhenius ratio', () => {
  it('times the factor is the plain law of a programming exercise', () => {
    // ARR-1: SPOJ PROG0415, with R = 8.314462618 instead of its 8.314472.
    expect(5.4 * ratioOf(120, { atK: 293.15, fromK: endlessK })).toBeCloseTo(5.140579703, 6);
  });

  it('from 25 to 26.85 °C is that of a library of plant models', () => {
    // ARR-2: test-suite of the Python library pyrealm, R = 8.3145.
    const activation = (40_000 * gas) / 8.3145;
    expect(ratioOf(activation, { atK: 300, fromK: 298.15 })).toBeCloseTo(reference.arrheniusScaling.value, 7);
  });

  it.each([
    [0.5, 132.6, 133.5],
    [1, 17_595, 17_599],
  ])('from 25 to 125 °C with %f eV is the handbook acceleration', (activationEv, low, high) => {
    // ARR-3: NIST/SEMATECH e-Handbook 8.1.5.1, k = 8.617e-5 eV/K, T = C + 273.16.
    const ratio = ratioOf((activationEv / 8.617e-5) * gas, { atK: 125 + 273.16, fromK: 25 + 273.16 });
    expect(ratio).toBeGreaterThan(low);
    expect(ratio).toBeLessThan(high);
  });

  it('from 85 to 125 °C is that of the handbook listing', () => {
    // ARR-4: NIST e-Handbook 8.4.2.1.
    expect(ratioOf(0.8084907 * 11_605 * gas, { atK: 398.16, fromK: 358.16 })).toBeCloseTo(13.89814, 5);
  });

  it.each(Object.entries(reference.doubling10C.kJ_per_mol))(
    'doubles over %s °C with %f kJ/mol',
    (span, expected) => {
      // Q10-1: identity E = R ln 2 / (1/T1 − 1/T2).
      const [cold = 0, warm = 0] = span.split('-').map(Number);
      const ratio = ratioOf(expected * 1000, {
        atK: kelvinFromCelsius(warm),
        fromK: kelvinFromCelsius(cold),
      });
      // The reference states kJ/mol to two digits behind the point.
      expect(ratio).toBeCloseTo(2, 3);
    },
  );

  it('adds up over a ramp to the quadrature, and to the first-order conversion', () => {
    // RAMP-1: adaptive quadrature.
    const {
      A_per_s: factor,
      E_J_per_mol: activation,
      value,
      alpha_first_order: conversion,
    } = kinetics.ramp_integral;
    const rate = (atS: number): number =>
      factor * ratioOf(activation, { atK: 288.15 + (15 * atS) / 1800, fromK: endlessK });
    const { values } = integrate(([, alpha = 0], atS) => [rate(atS), rate(atS) * (1 - alpha)], [0, 0], {
      durationS: 1800,
      stepCount: 100,
    });
    expect(Math.abs((values[0] ?? 0) / value - 1)).toBeLessThan(1e-7);
    expect(Math.abs((values[1] ?? 0) / conversion - 1)).toBeLessThan(1e-7);
  });

  it.each(reference.mkt.cases)('averages $tempC °C to the mean kinetic temperature $mktC °C', (row) => {
    // MKT-1, MKT-2: USP <1079> convention, ΔH/R = 10 000 K; README of the SQL aggregate zelti/mkt.
    const temperaturesK = row.tempC.map(kelvinFromCelsius);
    const hours = row.hours.reduce((sum, hour) => sum + hour, 0);
    const mean = temperaturesK.reduce(
      (sum, temperatureK, index) =>
        sum + ((row.hours[index] ?? 0) / hours) * ratioOf(10_000 * gas, { atK: temperatureK, fromK: 293.15 }),
      0,
    );
    const kineticK = 1 / (1 / 293.15 - Math.log(mean) / 10_000);
    expect(kineticK).toBeCloseTo(kelvinFromCelsius(row.mktC), 4);
  });

  it('adds up to the equivalent age of a record of half hours', () => {
    // MAT-2: formula of ASTM C1074 (2nd), Q = 5000 K, 20 °C; synthetic record, recomputed outside.
    const { tempC, dt_h: stepH } = reference.c1074;
    const ageH = tempC.slice(1).reduce((sum, endC, index) => {
      const meanK = kelvinFromCelsius((endC + (tempC[index] ?? 0)) / 2);
      return sum + stepH * ratioOf(5000 * gas, { atK: meanK, fromK: kelvinFromCelsius(20) });
    }, 0);
    expect(ageH).toBeCloseTo(8.120366, 5);
  });
});
