// The small parts of the engine: propagation, eigenvalues, grids, contact, cavity, lamp, assertions.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chooseNodeCount } from '../../server/engine/chooseNodeCount.ts';
import { lagResponseS } from '../../server/engine/conductFilm.ts';
import { contactPeakK } from '../../server/engine/contactPeak.ts';
import {
  cavityTemperatureC,
  Fault,
  lampFluxWPerM2,
  type Series,
  solveFilm,
} from '../../server/engine/index.ts';
import { invariant } from '../../server/engine/invariant.ts';
import { ceilingConversion, hardeningFraction, mobilityFraction } from '../../server/engine/kinetics.ts';
import { lobattoGrid, NODES_MAX } from '../../server/engine/lobattoGrid.ts';
import { fillPhi, fillPhiThirds } from '../../server/engine/phi.ts';
import { quickExponential } from '../../server/engine/quickExponential.ts';
import { diagonalise } from '../../server/engine/symmetricEigen.ts';
import { airC, bodyConstants, bodyFiller, fixed, plainJob, solveBody } from './samples.ts';

describe('the functions of exact propagation', () => {
  it.each([0, 1e-9, 0.3, 0.59, 0.61, 2, 40, 900, -0.4, -3])('hold their recursion at %f', (x) => {
    const values = new Float64Array(5);
    fillPhi(x, values, 1);
    const [untouched, decay = 0, first = 0, second = 0, third = 0] = values;
    expect(untouched).toBe(0);
    expect(Math.abs(decay - Math.exp(-x))).toBeLessThan(1e-12 * Math.exp(Math.max(0, -x)));
    expect(1 - x * first).toBeCloseTo(decay, 12);
    expect(1 - x * second).toBeCloseTo(first, 12);
    expect(0.5 - x * third).toBeCloseTo(second, 12);
  });

  it.each([1e-9, 0.4, 0.7, 1.7, 1.9, 7, 900, -0.5, -3])('are the same at the thirds of %f', (x) => {
    const thirds = new Float64Array(15);
    fillPhiThirds(x, thirds, 1, 5);
    [1, 2, 3].forEach((third, index) => {
      const alone = new Float64Array(4);
      fillPhi((x * third) / 3, alone, 0);
      alone.forEach((value, place) => {
        expect(thirds[1 + 5 * index + place]).toBeCloseTo(value, 12);
      });
    });
  });

  it('answer a fading input smoothly where both decays meet', () => {
    const cavityPerS = 1 / 5400;
    const fade = Math.exp(-600 / 5400);
    const response = (decayPerS: number): number =>
      lagResponseS(decayPerS, Math.exp(-decayPerS * 600), fade, 600);
    const meeting = response(cavityPerS);
    expect(meeting).toBeCloseTo(600 * fade, 9);
    const near = cavityPerS + 0.0099 / 600;
    const far = cavityPerS + 0.0101 / 600;
    expect(response(near) / response(far)).toBeCloseTo(1, 3);
    expect(response(1)).toBeCloseTo(fade / (1 - cavityPerS), 9);
  });
});

describe('the quick exponential', () => {
  it('is within 4e-8 of the exponential, and the exponential itself far out', () => {
    for (let x = -34; x <= 34; x += 0.007) {
      expect(Math.abs(quickExponential(x) / Math.exp(x) - 1)).toBeLessThan(4e-8);
    }
    expect(quickExponential(0)).toBe(1);
    expect(quickExponential(-900)).toBe(0);
    expect(quickExponential(40)).toBe(Math.exp(40));
  });
});

describe('eigenvalues', () => {
  it('of a symmetric matrix give it back with their vectors', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -9, max: 9, noNaN: true }), { minLength: 16, maxLength: 16 }),
        (entries) => {
          const given = new Float64Array(16);
          for (let i = 0; i < 4; i++) {
            for (let j = 0; j < 4; j++)
              given[i * 4 + j] = (entries[i * 4 + j] ?? 0) + (entries[j * 4 + i] ?? 0);
          }
          const turned = given.slice();
          const vectors = new Float64Array(16);
          diagonalise(turned, vectors, 4);
          for (let i = 0; i < 4; i++) {
            for (let j = 0; j < 4; j++) {
              let sum = 0;
              for (let k = 0; k < 4; k++)
                sum += (vectors[i * 4 + k] ?? 0) * (turned[k * 5] ?? 0) * (vectors[j * 4 + k] ?? 0);
              expect(sum).toBeCloseTo(given[i * 4 + j] ?? 0, 9);
            }
          }
        },
      ),
      fixed,
    );
  });

  it('of a matrix with no number in it are a fault', () => {
    expect(() =>
      diagonalise(new Float64Array([1, Number.NaN, Number.NaN, 1]), new Float64Array(4), 2),
    ).toThrow(Fault);
  });
});

describe('a Gauss–Lobatto grid', () => {
  it('of four points has the published points and weights', () => {
    // Abramowitz & Stegun 1964, table 25.6 (memory): ± 1, ± 5^−½; 1/6, 5/6.
    const { nodeOffsets, nodeWeights } = lobattoGrid(4);
    expect([...nodeOffsets].map((x) => x.toFixed(12))).toEqual(
      [-1, -Math.sqrt(0.2), Math.sqrt(0.2), 1].map((x) => x.toFixed(12)),
    );
    [1 / 6, 5 / 6, 5 / 6, 1 / 6].forEach((weight, index) =>
      expect(nodeWeights[index]).toBeCloseTo(weight, 12),
    );
  });

  it('measures the slope of a straight line and none of a level one', () => {
    for (let count = 2; count <= NODES_MAX; count++) {
      const { nodeOffsets, nodeWeights, stiffnessRatios } = lobattoGrid(count);
      expect(nodeWeights.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(2, 12);
      let level = 0;
      let straight = 0;
      for (let i = 0; i < count; i++) {
        for (let j = 0; j < count; j++) {
          const stiffness = stiffnessRatios[i * count + j] ?? 0;
          level += stiffness;
          straight += (nodeOffsets[i] ?? 0) * stiffness * (nodeOffsets[j] ?? 0);
        }
      }
      expect(level).toBeCloseTo(0, 8);
      expect(straight).toBeCloseTo(2, 8);
    }
  });

  it('is finer for thicker films, up to a limit', () => {
    const counts = [0.3, 0.5, 2, 6, 12].map((thicknessMm) =>
      chooseNodeCount(bodyFiller, { ...plainJob, thicknessMm }),
    );
    expect(counts).toEqual([2, 2, 3, 6, 9]);
  });
});

describe('chemistry', () => {
  it('begins softly when the stabiliser is nearly used up', () => {
    expect([0.9, 0.95, 1, 1.05, 1.2].map(hardeningFraction)).toEqual([0, 0, expect.closeTo(0.5, 9), 1, 1]);
  });

  it('has the ceilings of the model, and stops at them', () => {
    // design MODEL §2.
    for (const [temperatureC, ceiling] of [
      [5, 0.74],
      [10, 0.77],
      [20, 0.81],
      [30, 0.85],
    ] as const) {
      expect(ceilingConversion(temperatureC)).toBeCloseTo(ceiling, 2);
      expect(mobilityFraction(ceilingConversion(temperatureC), temperatureC)).toBeCloseTo(0.5, 9);
    }
    expect(ceilingConversion(-200)).toBeCloseTo(0.01 / 0.406, 9);
    expect(ceilingConversion(200)).toBe(1);
    expect(mobilityFraction(0.1, 20)).toBe(1);
  });

  it('doubles the time of a film for every 10 °C colder', () => {
    // Common practice, no source; design MODEL §2 gives 2.1 and 1.95.
    const sandMin = (air: number): number => solveBody({ airC: [[0, air]] }).sandMin ?? 0;
    expect(sandMin(10) / sandMin(20)).toBeCloseTo(2.15, 1);
    expect(sandMin(20) / sandMin(30)).toBeCloseTo(1.95, 1);
  });

  it('heats 100 g in a cup to the temperatures of a putty standard', () => {
    // UP-11 (2nd): peak 48–70 °C for 100 g at 25 °C; here the thickest film there is, on a light panel.
    const { peakC } = solveFilm(bodyFiller, bodyConstants, { ...plainJob, thicknessMm: 12, airC: [[0, 25]] });
    expect(peakC).toBeGreaterThan(48);
    expect(peakC).toBeLessThan(72);
  });
});

describe('a film on a hotter panel', () => {
  it('takes nearly its warmth where they touch, and nothing from a colder one', () => {
    expect(contactPeakK(288, 280, 1)).toBe(288);
    const peak = contactPeakK(288.15, 308.15, (1800 * 1120 * 0.002) / 2900);
    // The reference solver with 120 cells, "panel warmed first": 32.737 °C.
    expect(peak - 273.15).toBeCloseTo(32.737, 0);
    expect(contactPeakK(288, 308, 0.1)).toBeGreaterThan(peak);
    expect(contactPeakK(288, 308, 8)).toBeLessThan(peak);
  });
});

describe('a cavity', () => {
  it('lags steady air by its own 90 minutes', () => {
    const cavity = cavityTemperatureC({ airC: [[0, 20]], fromMin: 0, toMin: 90, startC: 4 });
    expect(cavity).toBeCloseTo(20 - 16 / Math.E, 9);
  });

  it('comes to trail a ramp by what it rises in 90 minutes', () => {
    const ramp: Series = [
      [0, 0],
      [2000, 200],
    ];
    expect(cavityTemperatureC({ airC: ramp, fromMin: 0, toMin: 2000, startC: 0 })).toBeCloseTo(200 - 9, 6);
  });

  it('does not mind where a history is cut, or when it all happened', () => {
    fc.assert(
      fc.property(airC(-5, 30), fc.double({ min: -20, max: 60, noNaN: true }), (air, cutMin) => {
        const whole = cavityTemperatureC({ airC: air, fromMin: -20, toMin: 60, startC: 5 });
        const half = cavityTemperatureC({ airC: air, fromMin: -20, toMin: cutMin, startC: 5 });
        const shifted = air.map(([atMin, value]) => [atMin - 333, value] as const);
        expect(cavityTemperatureC({ airC: air, fromMin: cutMin, toMin: 60, startC: half })).toBeCloseTo(
          whole,
          9,
        );
        expect(cavityTemperatureC({ airC: shifted, fromMin: -353, toMin: -273, startC: 5 })).toBeCloseTo(
          whole,
          9,
        );
      }),
      fixed,
    );
  });

  it('without air, or with time running backwards, is a fault', () => {
    expect(() => cavityTemperatureC({ airC: [], fromMin: 0, toMin: 1, startC: 5 })).toThrow(Fault);
    expect(() => cavityTemperatureC({ airC: [[0, 1]], fromMin: 2, toMin: 1, startC: 5 })).toThrow(Fault);
  });
});

describe('a lamp', () => {
  it('shows its flux by one reading of a panel under it', () => {
    // 700 W/m² over 14 W/m²K would end 50 K above the air; 2900 J/m²K over 14 W/m²K lags by 207 s.
    const panelC = 20 + 50 * (1 - Math.exp(-(5 * 60 * 14) / 2900));
    const reading = { substrate: 'steel', airC: 20, panelC, afterMin: 5 } as const;
    expect(lampFluxWPerM2(reading)).toBeCloseTo(700, 9);
    expect(lampFluxWPerM2({ ...reading, movingAir: true })).toBeGreaterThan(700);
    expect(() => lampFluxWPerM2({ ...reading, afterMin: 0 })).toThrow(Fault);
  });
});

describe('an invariant', () => {
  it('throws a fault only when it is broken', () => {
    expect(() => {
      invariant(true, 'holds');
    }).not.toThrow();
    expect(() => {
      invariant(false, 'does not hold');
    }).toThrow(new Fault('does not hold'));
    expect(new Fault('x').name).toBe('Fault');
  });
});
