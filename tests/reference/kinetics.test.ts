// The chemistry's integrator and its variable against closed forms.
import { describe, expect, it } from 'vitest';
import {
  conversionFromProgress,
  conversionPerProgressRatio,
  progressFromConversion,
} from '../../server/engine/kinetics.ts';
import reference from '../fixtures/reference/kinetics.json' with { type: 'json' };
import { integrate } from './integrate.ts';

const many = 4000;

describe("the film's integrator", () => {
  // KAM-1: k t = (α / (1 − α))^(1 − m) / (1 − m), closed form.
  it.each(reference.kamal_m_plus_n_2.rows.slice(1) as [number, number][])(
    'comes to conversion %f of the autocatalytic law of order 2 at k t = %f',
    (conversion, duration) => {
      const { m, rows } = reference.kamal_m_plus_n_2;
      const [startConversion, startDuration] = rows[0] as [number, number];
      const { values } = integrate(
        ([alpha = 0]) => [alpha ** m * (1 - alpha) ** (2 - m)],
        [startConversion],
        {
          durationS: duration - startDuration,
          stepCount: many,
        },
      );
      expect(Math.abs((values[0] ?? 0) / conversion - 1)).toBeLessThan(1e-8);
    },
  );

  // KAM-2: logistic closed form.
  it.each(reference.kamal_k1_k2_m1_n1.rows as [number, number][])(
    'comes to the logistic conversion at %f',
    (durationS, conversion) => {
      const { k1, k2 } = reference.kamal_k1_k2_m1_n1;
      const { values } = integrate(([alpha = 0]) => [(k1 + k2 * alpha) * (1 - alpha)], [0], {
        durationS,
        stepCount: many,
      });
      expect(Math.abs((values[0] ?? 0) / conversion - 1)).toBeLessThan(1e-8);
    },
  );

  // KAM-3: two other solvers and quadrature.
  it.each(reference.kamal_general.rows as [number, number][])(
    'comes to the general autocatalytic conversion at %f',
    (durationS, conversion) => {
      const { k1, k2, m, n } = reference.kamal_general;
      // α^½ has no slope at 0: start behind it, where α ≈ k1 t + (2/3) k2 k1^½ t^1.5 + k2² t²/4, by the first steps.
      const { values } = integrate(
        ([alpha = 0]) => [(k1 + k2 * Math.max(alpha, 0) ** m) * (1 - alpha) ** n],
        [0],
        {
          durationS,
          stepCount: many * 10,
        },
      );
      expect(Math.abs((values[0] ?? 0) - conversion)).toBeLessThan(2e-7);
    },
  );

  // NTH-1: first and n-th order, closed form.
  it.each(reference.nth_order.rows as [number, number, number, number][])(
    'comes to the conversion of order %f with rate %f after %f',
    (order, rate, durationS, conversion) => {
      const { values } = integrate(([alpha = 0]) => [rate * Math.max(0, 1 - alpha) ** order], [0], {
        durationS,
        stepCount: many,
      });
      expect(Math.abs((values[0] ?? 0) / conversion - 1)).toBeLessThan(1e-8);
    },
  );

  // ROB-1: SUNDIALS cvRoberts_dns; tight values by Radau. Explicit steps must be short: only its first two rows.
  it.each((reference.robertson.rows_tight as [number, number, number, number][]).slice(0, 2))(
    'comes through the stiff three-species problem at %f',
    (durationS, y1, y2, y3) => {
      const { values } = integrate(
        ([a = 0, b = 0, c = 0]) => {
          const first = -0.04 * a + 1e4 * b * c;
          const third = 3e7 * b * b;
          return [first, -first - third, third];
        },
        [1, 0, 0],
        { durationS, stepCount: Math.ceil(durationS * 4000) },
      );
      [y1, y2, y3].forEach((expected, index) => {
        expect(Math.abs((values[index] ?? 0) / expected - 1)).toBeLessThan(1e-6);
      });
    },
  );

  it('has fourth order, and a difference that falls with the third power of the step', () => {
    const run = (stepCount: number): { error: number; difference: number } => {
      const { values, difference } = integrate(([y = 0], at) => [y * Math.cos(at)], [1], {
        durationS: 2,
        stepCount,
      });
      return { error: Math.abs((values[0] ?? 0) - Math.exp(Math.sin(2))), difference };
    };
    const coarse = run(80);
    const fine = run(160);
    expect(Math.log2(coarse.error / fine.error)).toBeGreaterThan(3.8);
    expect(Math.log2(coarse.difference / fine.difference)).toBeGreaterThan(2.8);
    expect(Math.log2(coarse.difference / fine.difference)).toBeLessThan(3.2);
  });
});

describe('the progress variable', () => {
  it('turns the power law into a constant rate', () => {
    for (const conversion of [0, 0.01, 0.05, 0.3, 0.75, 0.9]) {
      const progress = progressFromConversion(conversion);
      const rate = (conversion + 1e-4) ** 0.5 * (1 - conversion) ** 1.5;
      expect(conversionPerProgressRatio(progress) * (1 + 1e-4) * 0.5).toBeCloseTo(rate, 12);
      expect(conversionFromProgress(progress)).toBeCloseTo(conversion, 12);
    }
  });
});
