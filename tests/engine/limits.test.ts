// Every number of a card and of a job, driven past its bounds and out of the numbers altogether.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  calibrateCard,
  type CardStatement,
  type FilmJob,
  judgeCard,
  judgeJob,
  solveBatch,
} from '../../server/engine/index.ts';
import { bodyConstants, bodyFiller, fixed, plainJob } from './samples.ts';

const beyond = (min: number, max: number): number[] => [
  NaN,
  Infinity,
  -Infinity,
  min - 1e-6,
  max + 1e-6,
  1e300,
];

/** Bounds as design MODEL §6 has them, and chosen ones beside. */
const jobNumbers: readonly [
  path: string,
  min: number,
  max: number,
  change: (value: number) => Partial<FilmJob>,
][] = [
  ['airC.0.1', -40, 60, (value) => ({ airC: [[0, value]] })],
  ['humidityPct.0.1', 0, 104, (value) => ({ humidityPct: [[0, value]] })],
  ['thicknessMm', 0.1, 12, (thicknessMm) => ({ thicknessMm })],
  ['hardenerPct', 0.5, 5, (hardenerPct) => ({ hardenerPct })],
  ['lampMinWPerM2.0.2', 0, 3000, (value) => ({ lampMinWPerM2: [[0, 5, value]] })],
  ['lampMinWPerM2.0.0', -10_080, 10_080, (value) => ({ lampMinWPerM2: [[value, 5, 400]] })],
  [
    'lampMinWPerM2.1.1',
    -10_080,
    10_080,
    (value) => ({
      lampMinWPerM2: [
        [0, 5, 400],
        [6, value, 400],
      ],
    }),
  ],
  [
    'airC.1.0',
    -10_080,
    10_080,
    (value) => ({
      airC: [
        [-10_080, 20],
        [value, 20],
      ],
    }),
  ],
  ['humidityPct.0.0', -10_080, 10_080, (value) => ({ humidityPct: [[value, 20]] })],
  ['cavityStartC', -40, 60, (cavityStartC) => ({ cavityStartC })],
  ['panelStartC', -40, 100, (panelStartC) => ({ panelStartC })],
  ['mixC', -40, 60, (mixC) => ({ mixC })],
  ['underlayMm', 0, 20, (underlayMm) => ({ underlayMm })],
  ['timeScale', 0.1, 10, (timeScale) => ({ timeScale })],
];

const cardNumbers: readonly [keyof CardStatement, min: number, max: number][] = [
  ['atC', -10, 45],
  ['thicknessMm', 0.1, 12],
  ['hardenerPct', 0.5, 5],
  ['workingMin', 0.2, 240],
  ['sandMin', 0.5, 600],
  ['activationKJPerMol', 10, 150],
  ['inductionActivationKJPerMol', 10, 150],
  ['humidityEffectPer10Pct', -0.5, 0.5],
];

describe('a job', () => {
  it.each(
    jobNumbers.flatMap(([path, min, max, change]) =>
      beyond(min, max).map((value) => [path, value, change] as const),
    ),
  )('whose %s is %f is rejected there and nowhere else', (path, value, change) => {
    const rejections = judgeJob({ ...plainJob, ...change(value) });
    expect(rejections.map((rejection) => rejection.path)).toEqual([path]);
    expect(rejections[0]?.reason).toMatch(/^is (not a finite number|-?[\d.e+]+, (below|above) )/);
    expect(rejections[0]?.allowed).toMatch(/ to /);
  });

  it.each(
    jobNumbers.flatMap(([path, min, max, change]) =>
      [min, max].map((value) => [path, value, change] as const),
    ),
  )('whose %s is %f is let through and solved', (path, value, change) => {
    const job = { ...plainJob, ...change(value) };
    if (path !== 'lampMinWPerM2.0.0' && path !== 'lampMinWPerM2.1.1') expect(judgeJob(job)).toEqual([]);
    const { peakC } = solveBatch(bodyFiller, bodyConstants, job);
    expect(Number.isFinite(peakC)).toBe(true);
  });

  it.each<[string, unknown]>([
    ['a word', 'warm'],
    ['nothing', null],
    ['a missing value', undefined],
    ['a list', [20]],
    ['a big integer', 20n],
  ])('with %s for its thickness is rejected, though no type allows it', (_, thicknessMm) => {
    const rejections = judgeJob({ ...plainJob, thicknessMm: thicknessMm as number });
    expect(rejections.map(({ path }) => path)).toEqual(['thicknessMm']);
  });

  it('says one thing of each point, however many are wrong, and nothing of more than it may hold', () => {
    const wrong = Array.from({ length: 20_000 }, () => [NaN, NaN] as const);
    expect(judgeJob({ ...plainJob, airC: wrong })).toHaveLength(20_000);
    expect(judgeJob({ ...plainJob, airC: [...wrong, [0, 0]] })).toHaveLength(1);
    const falling = [3, 2, 5, 4, 4, 9].map((atMin) => [atMin, 50] as const);
    expect(judgeJob({ ...plainJob, humidityPct: falling }).map(({ path }) => path)).toEqual([
      'humidityPct.1.0',
      'humidityPct.3.0',
    ]);
  });

  it('within its bounds always has an answer, whatever its air does', () => {
    const any = fc.record({
      substrate: fc.constantFrom('steel' as const, 'plastic' as const),
      thicknessMm: fc.double({ min: 0.1, max: 12, noNaN: true }),
      hardenerPct: fc.double({ min: 0.5, max: 5, noNaN: true }),
      airC: fc
        .array(
          fc.tuple(
            fc.double({ min: -500, max: 500, noNaN: true }),
            fc.double({ min: -40, max: 60, noNaN: true }),
          ),
          {
            minLength: 1,
            maxLength: 30,
          },
        )
        .map((points) => points.sort(([left], [right]) => left - right)),
      humidityPct: fc.constant([[0, 104]] as const),
      cavityStartC: fc.double({ min: -40, max: 60, noNaN: true }),
      panelStartC: fc.double({ min: -40, max: 100, noNaN: true }),
      mixC: fc.double({ min: -40, max: 60, noNaN: true }),
      timeScale: fc.double({ min: 0.1, max: 10, noNaN: true }),
      lampMinWPerM2: fc
        .tuple(fc.double({ min: -10, max: 300, noNaN: true }), fc.double({ min: 0, max: 3000, noNaN: true }))
        .map(([fromMin, flux]) => [[fromMin, fromMin + 40, flux] as const]),
    });
    fc.assert(
      fc.property(any, (job) => {
        expect(judgeJob(job)).toEqual([]);
        const { gelMin, sandMin, testMin, peakC } = solveBatch(bodyFiller, bodyConstants, job);
        for (const instant of [gelMin, sandMin, testMin]) expect(instant ?? 0).toBeLessThanOrEqual(720);
        expect((sandMin ?? Infinity) >= (gelMin ?? Infinity)).toBe(true);
        expect(Number.isFinite(peakC)).toBe(true);
      }),
      fixed,
    );
  });
});

describe('a card', () => {
  it.each(
    cardNumbers.flatMap(([field, min, max]) => beyond(min, max).map((value) => [field, value] as const)),
  )('whose %s is %f is rejected there and is not calibrated', (field, value) => {
    const card = { ...bodyFiller, [field]: value };
    expect(judgeCard(card).map(({ path }) => path)).toEqual([field]);
    expect(calibrateCard(card).kind).toBe('rejected');
  });

  it('drawn from everything a tin may say is met, or turned down for its working time', () => {
    const between = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
    const anyCard = fc.record({
      fill: fc.constantFrom('regular' as const, 'light' as const),
      atC: between(5, 35),
      thicknessMm: between(0.3, 6),
      hardenerPct: between(1, 3),
      workingMin: between(2, 15),
      sandMin: between(8, 60),
      activationKJPerMol: between(38, 54),
      inductionActivationKJPerMol: between(40, 60),
      humidityEffectPer10Pct: between(-0.03, 0.03),
    });
    let metCount = 0;
    let turnedDownCount = 0;
    fc.assert(
      fc.property(anyCard, (card) => {
        const calibration = calibrateCard(card);
        if (calibration.kind === 'calibrated') metCount++;
        else {
          turnedDownCount++;
          expect(calibration.rejections.map(({ path }) => path)).toEqual(['workingMin']);
          const ratio = card.workingMin / card.sandMin;
          const reason = calibration.rejections[0]?.reason;
          expect(reason).toContain(ratio < 0.34 ? 'too short' : ratio < 1 ? 'too close' : 'not below');
          expect(ratio < 0.34 || ratio > 0.97).toBe(true);
        }
      }),
      { ...fixed, numRuns: 500 },
    );
    process.stdout.write(`\n500 generated cards: ${metCount} calibrated, ${turnedDownCount} turned down\n`);
    expect(metCount).toBeGreaterThan(250);
  });
});
