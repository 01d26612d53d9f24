// What a batch says of its time scale: solved with a known one, it tells that one again.
import { describe, expect, it } from 'vitest';
import {
  BEAD_UNCERTAINTY,
  type FilmJob,
  type LessonReading,
  readLesson,
  solveBatch,
} from '../../server/engine/index.ts';
import { bodyConstants, bodyFiller, constantsOf, plainJob } from './samples.ts';

const question = (job: Partial<FilmJob> = {}) => ({
  card: bodyFiller,
  constants: bodyConstants,
  job: { ...plainJob, ...job },
});
const read = (job: Partial<FilmJob>, ...instantsMin: number[]): LessonReading =>
  readLesson(question(job), instantsMin, BEAD_UNCERTAINTY);

/** When the batch is ready at a scale, its product having another energy than the card says but meeting its minutes. */
function readyMin(job: Partial<FilmJob>, logScale: number, z = 0): number {
  const card = { ...bodyFiller, activationKJPerMol: 46 + 8 * z };
  const constants = z === 0 ? bodyConstants : constantsOf(card);
  const film = { ...plainJob, ...job, timeScale: Math.exp(logScale) };
  return solveBatch(card, constants, film).testMin ?? Number.NaN;
}

const airs: [string, Partial<FilmJob>][] = [
  ['at the card’s own air', {}],
  ['in a cold bay', { airC: [[0, 9]] }],
  [
    'in air that warms up, on plastic',
    {
      airC: [
        [0, 12],
        [40, 22],
      ],
      substrate: 'plastic',
    },
  ],
  ['thick, on a cold car', { thicknessMm: 4, airC: [[0, 16]], cavityStartC: 0 }],
  ['of nothing but edge', { thicknessMm: 0.4, airC: [[0, 24]] }],
];

describe('a batch', () => {
  it.each(airs)('%s tells the scale that it was made with', (_, job) => {
    for (const logScale of [-0.4, -0.1, 0, 0.2, 0.5]) {
      const { logScales } = read(job, readyMin(job, logScale));
      expect(Math.abs(Number(logScales[0]?.[2]) - logScale)).toBeLessThan(0.01);
    }
  });

  it.each(airs)('%s tells it at other energies as well', (_, job) => {
    [-2.8, -1.4, 1.4, 2.8].forEach((z, index) => {
      const { logScales } = read(job, readyMin(job, 0.15, z));
      const place = index < 2 ? index : index + 1;
      expect(Math.abs(Number(logScales[0]?.[place]) - 0.15)).toBeLessThan(0.015);
    });
  });

  it('tells a higher energy a smaller scale where it was colder than on its card, a larger one where warmer', () => {
    const [cold] = read({ airC: [[0, 9]] }, 60).logScales as [number[]];
    expect(cold).toEqual(cold.toSorted((a, b) => b - a));
    const [warm] = read({ airC: [[0, 30]], thicknessMm: 0.4 }, 9).logScales as [number[]];
    expect(warm).toEqual(warm.toSorted((a, b) => a - b));
  });

  it('tells one row for each instant, a later one a larger scale', () => {
    const { logScales } = read({}, 12, 19, 31);
    expect(logScales).toHaveLength(3);
    const middles = logScales.map((row) => Number(row[2]));
    expect(middles).toEqual(middles.toSorted((a, b) => a - b));
    expect(new Set(middles).size).toBe(3);
  });

  it('says 9 to either side where no scale would do', () => {
    const { logScales, withinLogSd } = read({}, 2, 400);
    expect(logScales).toEqual([
      [-9, -9, -9, -9, -9],
      [9, 9, 9, 9, 9],
    ]);
    // Where no slope is to be had, a scale is worth its time.
    expect(withinLogSd).toBeGreaterThan(0.05);
    expect(withinLogSd).toBeLessThan(0.2);
    expect(read({}, 400, 2).logScales).toEqual(logScales.toReversed());
  });

  it('that stalls at its slowest is read from those that do not', () => {
    const { logScales } = read(
      {
        airC: [
          [0, 20],
          [60, 20],
          [65, -40],
        ],
      },
      70,
      719.99,
    );
    expect(Number(logScales[0]?.[2])).toBeGreaterThan(0.9);
    for (const row of logScales) for (const value of row) expect(Number.isFinite(value)).toBe(true);
    // The slowest that is ready within twelve hours, at the highest energy.
    const last = Number(read({ airC: [[0, -5]] }, 719.999).logScales[0]?.[4]);
    expect(Math.abs(readyMin({ airC: [[0, -5]] }, last - 0.02, 2.8) / 720 - 1)).toBeLessThan(0.05);
    expect(read({ airC: [[0, -40]] }, 100).logScales).toEqual([[-9, -9, -9, -9, -9]]);
  });
});

describe('the blur', () => {
  const blurOf = (job: Partial<FilmJob>, logScale = 0): number =>
    read(job, readyMin(job, logScale)).withinLogSd;

  it('is what is not measured and the tester’s error: less where the hardener was weighed', () => {
    const bead = blurOf({ thicknessMm: 0.4 });
    expect(bead).toBeGreaterThan(Math.hypot(0.05, 0.05));
    expect(bead).toBeLessThan(0.2);
    const atMin = readyMin({ thicknessMm: 0.4 }, 0);
    const weighed = readLesson(question({ thicknessMm: 0.4 }), [atMin], {
      ...BEAD_UNCERTAINTY,
      hardenerLogSd: 0.03,
    });
    expect(weighed.withinLogSd).toBeLessThan(bead - 0.01);
  });

  it('is that of the last instant', () => {
    const warming: Partial<FilmJob> = {
      airC: [
        [0, 10],
        [30, 10],
        [60, 30],
      ],
    };
    expect(read(warming, 20, 40).withinLogSd).toBe(read(warming, 40).withinLogSd);
  });

  it('is large under a lamp whose cooling decides: the time says little of the scale then', () => {
    const lamp: Partial<FilmJob> = { lampMinWPerM2: [[1, 15, 1200]] };
    const cooled = solveBatch(bodyFiller, bodyConstants, { ...plainJob, ...lamp });
    expect(cooled.governedBy).toBe('cooling');
    expect(blurOf(lamp)).toBeGreaterThan(2);
    expect(blurOf({})).toBeLessThan(0.2);
    // So it is a little before and behind the moments in which every scale is ready.
    const atMin = Number(cooled.testMin);
    for (const offMin of [-1, 1]) expect(read(lamp, atMin + offMin).withinLogSd).toBeGreaterThan(2);
  });
});
