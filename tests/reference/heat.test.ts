// The film's heat operator as a plane wall, a lumped bead and an insulated block.
import { describe, expect, it } from 'vitest';
import { SURFACES } from '../../server/engine/constants.ts';
import { fillHeatOperator, makeHeatOperator, type Wall } from '../../server/engine/heatOperator.ts';
import reference from '../fixtures/reference/plane-wall.json' with { type: 'json' };

/** Node temperatures of a wall that starts at 1 above its air, after some time; front first. */
function relax(wall: Wall, durationS: number): number[] {
  const operator = makeHeatOperator();
  fillHeatOperator(operator, wall);
  const { nodeCount: n, decaysPerS, modeWeights, nodeJPerM2K } = operator;
  const modes = Array.from({ length: n }, (_, j) => {
    let sum = 0;
    for (let i = 0; i < n; i++) sum += (modeWeights[i * n + j] ?? 0) * (nodeJPerM2K[i] ?? 0);
    return sum * Math.exp(-(decaysPerS[j] ?? 0) * durationS);
  });
  return Array.from({ length: n }, (_, i) =>
    modes.reduce((sum, mode, j) => sum + (modeWeights[i * n + j] ?? 0) * mode, 0),
  );
}

/** Half a symmetric wall: insulated behind, so the back is its centre and the front its surface. */
function halfWall(part: Partial<Wall>): Wall {
  return {
    nodeCount: 15,
    thicknessM: 1,
    densityKgPerM3: 1,
    heatCapacityJPerKgK: 1,
    conductivityWPerMK: 1,
    panelJPerM2K: 0,
    frontWPerM2K: 1,
    backWPerM2K: 0,
    ...part,
  };
}

describe('a plane wall', () => {
  // PW-1: Incropera Table 5.1, Cengel Table 4-2 (memory), recomputed.
  it.each(reference.oneTerm as [number, number, number][])(
    'of Biot number %f decays with the tabled root %f',
    (biot, zeta) => {
      const operator = makeHeatOperator();
      fillHeatOperator(operator, halfWall({ frontWPerM2K: biot }));
      const slowest = Math.min(...operator.decaysPerS.subarray(0, operator.nodeCount));
      expect(Math.abs(Math.sqrt(slowest) - zeta)).toBeLessThan(1e-4);
    },
  );

  it.each(reference.oneTerm as [number, number, number][])(
    'of Biot number %f has the tabled weight beside %f: %f',
    (biot, zeta, weight) => {
      const fourier = 3;
      const centre = relax(halfWall({ frontWPerM2K: biot }), fourier).at(-1) ?? 0;
      const root = rootNear(biot, zeta);
      expect(Math.abs(centre * Math.exp(root * root * fourier) - weight)).toBeLessThan(1e-4);
    },
  );

  // PW-2: full series.
  it.each(reference.series as [number, number, number, number][])(
    'of Biot number %f at Fourier number %f and place %f is %f of its start above the air',
    (biot, fourier, place, theta) => {
      const temperatures = relax(halfWall({ frontWPerM2K: biot }), fourier);
      const node = { 0: 14, 0.5: 7, 1: 0 }[place] ?? -1;
      expect(Math.abs((temperatures[node] ?? 0) - theta)).toBeLessThan(1e-7);
    },
  );

  it('of brass in a hot furnace is as warm as the series says', () => {
    // PW-3: Cengel & Ghajar, 5th ed., example 4-4; the book reads 282 °C off a chart.
    const { brassPlate } = reference;
    const { thickness_m, Ti, Tinf, h, k, rho, cp, t_s } = brassPlate.in;
    const temperatures = relax(
      halfWall({
        thicknessM: thickness_m / 2,
        densityKgPerM3: rho,
        heatCapacityJPerKgK: cp,
        conductivityWPerMK: k,
        frontWPerM2K: h,
      }),
      t_s,
    ).map((theta) => Tinf + (Ti - Tinf) * theta);
    expect(temperatures[0]).toBeCloseTo(brassPlate.surfaceC_series, 2);
    expect(temperatures.at(-1)).toBeCloseTo(brassPlate.centreC_series, 2);
  });

  it('of thinner brass is as warm as the series says, not as the misprint', () => {
    // PW-4: the same book, problem 4-50 and its published solution.
    const { thickness_m, Ti, Tinf, h, k, alpha, t_s } = reference.brassPlate3cm.in;
    const [surface = 0] = relax(
      halfWall({
        thicknessM: thickness_m / 2,
        densityKgPerM3: k / alpha,
        conductivityWPerMK: k,
        frontWPerM2K: h,
      }),
      t_s,
    );
    expect(Tinf + (Ti - Tinf) * surface).toBeCloseTo(reference.brassPlate3cm.surfaceC, 2);
  });
});

describe('a bead without gradients', () => {
  const conducting = { nodeCount: 2, conductivityWPerMK: 1e7 };

  it('of the computed diameter answers within a second and comes to 199 °C', () => {
    // LC-1: Incropera & DeWitt, example 5.1; a sphere's volume over its surface is D / 6.
    const { rho, c, h, tau_s, Ti, Tinf, Tend } = reference.thermocouple.in;
    const diameter = (6 * tau_s * h) / (rho * c);
    expect(diameter).toBeCloseTo(reference.thermocouple.D_m, 8);
    const wall = {
      ...conducting,
      thicknessM: diameter / 6,
      densityKgPerM3: rho,
      heatCapacityJPerKgK: c,
      frontWPerM2K: h,
    };
    const [theta = 0] = relax(halfWall(wall), reference.thermocouple.t_s);
    expect(Tinf + (Ti - Tinf) * theta).toBeCloseTo(Tend, 3);
  });

  it('of 1 mm has taken 99 % of a change after the published time', () => {
    // LC-2: Cengel & Ghajar, example 4-1.
    const { D_m, rho, cp, h, fraction } = reference.thermocouple1mm.in;
    const wall = {
      ...conducting,
      thicknessM: D_m / 6,
      densityKgPerM3: rho,
      heatCapacityJPerKgK: cp,
      frontWPerM2K: h,
    };
    const [theta = 0] = relax(halfWall(wall), reference.thermocouple1mm.t_s);
    expect(1 - theta).toBeCloseTo(fraction, 5);
  });
});

describe('surface coefficients', () => {
  // CONV-1: Holman, simplified equations for air (memory): h = a (ΔT / L)^¼, here 10 K over 0.5 m.
  it.each([
    ['a vertical plate', 1.42, 3.003],
    ['a hot face up', 1.32, 2.791],
    ['a hot face down', 0.59, 1.248],
  ])('of free convection on %s with factor %f are %f W/m²K', (_, factor, expected) => {
    expect(factor * (10 / 0.5) ** 0.25).toBeCloseTo(expected, 3);
  });

  // RAD-1: identity 4 ε σ T³.
  it.each([
    [20, 5.714],
    [25, 6.011],
  ])('of radiation at %i °C are %f W/m²K', (temperatureC, expected) => {
    expect(4 * 5.670374419e-8 * (temperatureC + 273.15) ** 3).toBeCloseTo(expected, 3);
  });

  it('of the model lie within convection and radiation of a grey panel', () => {
    expect(SURFACES.stillAirWPerM2K).toBeGreaterThan(1.248 + 0.85 * 5.714);
    expect(SURFACES.stillAirWPerM2K).toBeLessThan(3.003 + 0.95 * 6.011);
    // Behind the panel: bare metal radiates less.
    expect(SURFACES.behindPanelWPerM2K).toBeGreaterThan(1.248 + 0.5 * 5.714);
    expect(SURFACES.behindPanelWPerM2K).toBeLessThan(SURFACES.stillAirWPerM2K);
    expect(SURFACES.movingAirWPerM2K).toBeGreaterThan(SURFACES.stillAirWPerM2K);
  });
});

describe('an insulated block', () => {
  it('is warmed by its own heat as the practice of concrete computes', () => {
    // ADI-1: 450 J/g × 400 kg/m³ × 0.7 over 2400 kg/m³ × 1000 J/kgK = 52.5 K.
    const operator = makeHeatOperator();
    fillHeatOperator(
      operator,
      halfWall({ densityKgPerM3: 2400, heatCapacityJPerKgK: 1000, frontWPerM2K: 0 }),
    );
    const { nodeCount: n, decaysPerS, modeWeights, filmJPerM2K } = operator;
    expect(Math.min(...decaysPerS.subarray(0, n).map(Math.abs))).toBeLessThan(1e-9);
    const heatKelvin = (450e3 * 400 * 0.7) / (2400 * 1000);
    const modes = Array.from({ length: n }, (_, j) =>
      Array.from(filmJPerM2K.subarray(0, n)).reduce(
        (sum, film, i) => sum + heatKelvin * film * (modeWeights[i * n + j] ?? 0),
        0,
      ),
    );
    for (let i = 0; i < n; i++) {
      expect(modes.reduce((sum, mode, j) => sum + (modeWeights[i * n + j] ?? 0) * mode, 0)).toBeCloseTo(
        52.5,
        9,
      );
    }
  });
});

/** The first root of ζ tan ζ = Bi beside a rounded one. */
function rootNear(biot: number, guess: number): number {
  let zeta = guess;
  for (let step = 0; step < 20; step++) {
    const value = zeta * Math.tan(zeta) - biot;
    zeta -= value / (Math.tan(zeta) + zeta / Math.cos(zeta) ** 2);
  }
  return zeta;
}
