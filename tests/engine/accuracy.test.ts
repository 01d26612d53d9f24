// How the error falls with the step and with the nodes, and the instants that a small error could move far.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type FilmJob, solveFilm } from '../../server/engine/index.ts';
import { airC, bodyConstants, bodyFiller, fixed, lamplessJob, plainJob, solveBody } from './samples.ts';

const jobs: readonly (readonly [string, FilmJob])[] = [
  ['2 mm, 20 °C', plainJob],
  ['1 mm, plastic, 10 °C', { ...plainJob, substrate: 'plastic', thicknessMm: 1, airC: [[0, 10]] }],
  ['6 mm, lamp', { ...plainJob, thicknessMm: 6, airC: [[0, 14]], lampMinWPerM2: [[4, 12, 900]] }],
];

const solve = (job: FilmJob, tolerance: number, nodeCount?: number) => {
  const { gelMin, sandMin, peakC, stepCount } = solveFilm(bodyFiller, bodyConstants, job, {
    tolerance,
    ...(nodeCount === undefined ? {} : { nodeCount }),
  });
  return { gelMin: gelMin ?? NaN, sandMin: sandMin ?? NaN, peakC, stepCount };
};

describe('the order of convergence', () => {
  it('is about 3 in the step, as the step control supposes', () => {
    const films = fc.sample(lamplessJob, { seed: fixed.seed, numRuns: 40 });
    const exact = films.map((job) => solve(job, 1e-9).sandMin);
    const rows = [6.4e-3, 8e-4, 1e-4, 1.25e-5, 1.5625e-6].map((tolerance) => {
      const solutions = films.map((job) => solve(job, tolerance));
      const steps = solutions.reduce((sum, { stepCount }) => sum + stepCount, 0) / films.length;
      const errors = solutions.map(({ sandMin }, index) => sandMin / (exact[index] ?? NaN) - 1);
      return { tolerance, steps, error: Math.sqrt(errors.reduce((sum, e) => sum + e * e, 0) / films.length) };
    });
    const order = -slopeOf(rows.map(({ steps, error }) => [Math.log(steps), Math.log(error)] as const));
    const lines = rows.map(
      ({ tolerance, steps, error }) =>
        `${tolerance.toExponential(1)}  ${steps.toFixed(0).padStart(4)}  ${error.toExponential(1)}`,
    );
    process.stdout.write(
      `\n${films.length} films without lamp: tolerance, mean steps, error of the sandable instant (rms)\n` +
        `${lines.join('\n')}\norder ${order.toFixed(2)}\n`,
    );
    expect(order).toBeGreaterThan(2.7);
    expect(order).toBeLessThan(4.3);
  });

  it('has no end in the nodes: each further one takes most of the error, down to that of the step', () => {
    const lines: string[] = [];
    for (const [name, job] of jobs) {
      const exact = solve(job, 1e-8, 16);
      const errors = [2, 3, 4, 5, 6].map((count) =>
        Math.abs(solve(job, 1e-8, count).sandMin / exact.sandMin - 1),
      );
      lines.push(
        `${name.padEnd(22)} ${errors.map((error, i) => `${i + 2}: ${error.toExponential(1)}`).join('  ')}`,
      );
      errors.slice(1).forEach((error, index) => {
        expect(error).toBeLessThan(Math.max((errors[index] ?? 0) / 5, 3e-7));
      });
    }
    process.stdout.write(`\nnodes: error of the sandable instant\n${lines.join('\n')}\n`);
  });
});

describe('an instant that is easily missed', () => {
  const hot = {
    thicknessMm: 4.5,
    hardenerPct: 2.9,
    airC: [[0, 24]] as const,
    timeScale: 0.8,
    movingAir: true,
  };
  const coolMin = solveBody(hot).coolMin ?? NaN;
  const coolWith = (earlierMin: number): number =>
    solveBody({ ...hot, lampMinWPerM2: [[coolMin - earlierMin, coolMin + 20, 460]] }).coolMin ?? NaN;

  it('is found when a film cools for a moment while its lamp comes on', () => {
    // The lamp warms the face while the middle, hottest, still cools through 45 °C; a lamp a little earlier keeps it hot.
    expect(coolWith(0.08)).toBeCloseTo(coolMin, 2);
    expect(coolWith(0.15)).toBeGreaterThan(coolMin + 19);
  });

  it('is looked for at every depth, not at the nodes alone', () => {
    const thick = {
      thicknessMm: 7.5,
      hardenerPct: 2.7,
      airC: [[0, 22]] as const,
      substrate: 'plastic',
    } as const;
    const usual = solveBody(thick);
    const fine = solveFilm(
      bodyFiller,
      bodyConstants,
      { ...plainJob, ...thick },
      { nodeCount: 16, tolerance: 1e-6 },
    );
    expect(fine.coolMin).toBeGreaterThan(fine.sandMin ?? Infinity);
    expect(Math.abs(usual.peakC - fine.peakC)).toBeLessThan(0.03);
    expect(usual.coolMin).toBeCloseTo(fine.coolMin ?? NaN, 1.7);
  });
});

describe('a shift of all instants', () => {
  it('shifts the answer: what lies before mixing counts only by the air at mixing', () => {
    fc.assert(
      fc.property(lamplessJob, airC(5, 30), fc.integer({ min: 1, max: 500 }), (job, longAgoC, agoMin) => {
        const [first = [0, 20] as const] = job.airC;
        const earlier = longAgoC.map(([atMin, value]) => [atMin - 1000 - agoMin, value] as const);
        const before = [...earlier, [-agoMin, first[1]] as const, ...job.airC];
        const plain = solveFilm(bodyFiller, bodyConstants, job);
        const shifted = solveFilm(bodyFiller, bodyConstants, { ...job, airC: before });
        expect(shifted.gelMin).toBeCloseTo(plain.gelMin ?? NaN, 9);
        expect(shifted.sandMin).toBeCloseTo(plain.sandMin ?? NaN, 9);
        expect(shifted.coolMin).toBeCloseTo(plain.coolMin ?? NaN, 9);
      }),
      { ...fixed, numRuns: 60 },
    );
  });

  it('of air that goes on steadily is only a later start of the same film', () => {
    const ramp = (shiftMin: number): FilmJob['airC'] => [
      [-100 - shiftMin, 10],
      [200 - shiftMin, 25],
    ];
    const later = solveBody({ airC: ramp(30) });
    const alike = solveBody({
      airC: [
        [0, 16.5],
        [170, 25],
      ],
    });
    expect(later.sandMin).toBeCloseTo(alike.sandMin ?? NaN, 9);
  });
});

/** Least squares. */
function slopeOf(points: readonly (readonly [number, number])[]): number {
  const mean = (axis: 0 | 1): number => points.reduce((sum, point) => sum + point[axis], 0) / points.length;
  const [x, y] = [mean(0), mean(1)];
  const top = points.reduce((sum, point) => sum + (point[0] - x) * (point[1] - y), 0);
  return top / points.reduce((sum, point) => sum + (point[0] - x) ** 2, 0);
}
