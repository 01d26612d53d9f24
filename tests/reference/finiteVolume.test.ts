// The engine against a second, plain solver over generated jobs, and over cards it calibrated itself.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CardStatement, type FilmJob, solveBatch } from '../../server/engine/index.ts';
import { bodyFiller, constantsOf, plainJob } from '../engine/samples.ts';
import { type PlainSolution, solvePlain } from './finiteVolume.ts';
import { scenarios, tolerances } from './scenarioTable.ts';

const seed = 20_260_118;
const sampleAtMin = [2.5, 5.5, 9.25, 13.75, 19.5, 28.25, 41.5];
const cards = [...new Map(scenarios.map(({ card }) => [card.name, card])).values()];

const rounded = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: Math.round(min * 100), max: Math.round(max * 100) }).map((value) => value / 100);
/** Present in about a third of the jobs. */
const sometimes = <T>(arbitrary: fc.Arbitrary<T>): fc.Arbitrary<T | null> =>
  fc.oneof({ weight: 2, arbitrary: fc.constant(null) }, { weight: 1, arbitrary });

const walk = (value: fc.Arbitrary<number>, drift: number): fc.Arbitrary<(readonly [number, number])[]> =>
  fc
    .tuple(value, fc.array(fc.tuple(rounded(0.5, 14), rounded(-drift, drift)), { maxLength: 5 }))
    .map(([base, moves]) => {
      let atMin = 0;
      return [
        [0, base] as const,
        ...moves.map(([waitMin, by]) => [(atMin += waitMin), Math.min(104, base + by)] as const),
      ];
    });

const lamp = fc
  .tuple(rounded(0, 14), rounded(1, 16), rounded(200, 1300), rounded(0.5, 6), rounded(200, 900))
  .map(([fromMin, forMin, flux, pauseMin, second]): NonNullable<FilmJob['lampMinWPerM2']> => [
    [fromMin, fromMin + forMin, flux],
    [fromMin + forMin + pauseMin, fromMin + forMin + 2 * pauseMin, second],
  ]);

interface Case {
  readonly card: CardStatement & { readonly name: string };
  readonly job: FilmJob;
}

const anyCase: fc.Arbitrary<Case> = fc
  .record({
    card: fc.constantFrom(...cards),
    humidityEffect: sometimes(rounded(-0.03, 0.03)),
    substrate: fc.constantFrom('steel' as const, 'aluminium' as const, 'plastic' as const),
    thicknessMm: rounded(0.3, 6),
    hardenerPct: rounded(1, 3),
    airC: walk(rounded(5, 34), 6),
    humidityPct: walk(rounded(25, 104), 30),
    cavityStartC: sometimes(rounded(-6, 28)),
    panelStartC: sometimes(rounded(5, 45)),
    mixC: sometimes(rounded(4, 28)),
    lampMinWPerM2: sometimes(lamp),
    movingAir: sometimes(fc.constant(true)),
    underlayMm: sometimes(rounded(0.5, 4)),
    timeScale: sometimes(rounded(0.7, 1.5)),
  })
  .map(({ card, humidityEffect, substrate, thicknessMm, hardenerPct, airC, humidityPct, ...optional }) => {
    const given = Object.fromEntries(Object.entries(optional).filter(([, value]) => value !== null));
    return {
      card: { ...card, humidityEffectPer10Pct: humidityEffect ?? 0 },
      job: { substrate, thicknessMm, hardenerPct, airC, humidityPct, ...given },
    };
  });

const cases = fc.sample(anyCase, { seed, numRuns: 66 });

interface Errors {
  /** Parts of what is allowed: 1 is the limit. */
  readonly gel: number;
  readonly sand: number;
  readonly cool: number;
  readonly edge: number;
  readonly test: number;
  readonly peak: number;
  readonly temperature: number;
  readonly conversion: number;
}

function errorsOf({ card, job }: Case): Errors {
  const constants = constantsOf({ ...card, humidityEffectPer10Pct: 0 });
  const mine = solveBatch(card, constants, job, { sampleAtMin });
  const build = solvePlain(card, constants, job, { sampleAtMin, stepRatio: 0.5 });
  const edgeJob = { ...job, thicknessMm: Math.min(0.5, job.thicknessMm) };
  const edge = solvePlain(card, constants, edgeJob, { stepRatio: 0.5, cellCount: 24 });
  const pairs = mine.samples.map((sample, index) => [sample, build.samples[index]] as const);
  const largest = (...keys: readonly (keyof PlainSolution['samples'][number])[]): number =>
    Math.max(
      ...pairs.flatMap(([left, right]) => keys.map((key) => Math.abs(left[key] - (right?.[key] ?? NaN)))),
    );
  return {
    gel: timeError(mine.gelMin, build.gelMin),
    sand: timeError(mine.sandMin, build.sandMin),
    cool: timeError(mine.coolMin, build.coolMin),
    edge: timeError(mine.edgeSandMin, edge.sandMin),
    test: timeError(mine.testMin, Math.max(build.coolMin, edge.coolMin)),
    peak: Math.abs(mine.peakC - build.peakC) / tolerances.temperatureK,
    temperature: largest('frontC', 'backC') / tolerances.temperatureK,
    conversion: largest('minConversion', 'maxConversion') / tolerances.conversion,
  };
}

function timeError(mineMin: number | null, theirsMin: number): number {
  if ((mineMin ?? Infinity) === theirsMin) return 0;
  const allowedMin = Math.max(tolerances.timeMin, tolerances.timeRatio * theirsMin);
  return Math.abs((mineMin ?? Infinity) - theirsMin) / allowedMin;
}

describe('the engine beside a plain solver', () => {
  const rows = cases.map((each) => ({ ...each, errors: errorsOf(each) }));

  it.each(rows.map((row, index) => ({ ...row, index })))(
    'agrees on generated job $index of $card.name within the tolerances of the reference',
    ({ errors, card, job }) => {
      for (const [name, error] of Object.entries(errors)) {
        expect(error, `${name} of ${JSON.stringify({ card, job })}`).toBeLessThanOrEqual(1);
      }
    },
  );

  it('met every kind of job', () => {
    const keys = [
      'cavityStartC',
      'panelStartC',
      'mixC',
      'lampMinWPerM2',
      'movingAir',
      'underlayMm',
      'timeScale',
    ];
    for (const key of keys) expect(rows.filter(({ job }) => key in job).length).toBeGreaterThan(9);
    for (const substrate of ['steel', 'aluminium', 'plastic'])
      expect(rows.filter(({ job }) => job.substrate === substrate).length).toBeGreaterThan(9);
    for (const fill of ['regular', 'light'])
      expect(rows.filter(({ card }) => card.fill === fill).length).toBeGreaterThan(9);
    expect(rows.filter(({ card }) => card.humidityEffectPer10Pct !== 0).length).toBeGreaterThan(9);
    const names = ['gel', 'sand', 'cool', 'edge', 'test', 'peak', 'temperature', 'conversion'] as const;
    const worst = names.map(
      (name) => `${name} ${(100 * Math.max(...rows.map(({ errors }) => errors[name]))).toFixed(0)} %`,
    );
    process.stdout.write(
      `\n${rows.length} generated jobs, seed ${seed}, largest part of what is allowed: ${worst.join(', ')}\n`,
    );
  });
});

describe('a calibrated card beside a plain solver', () => {
  it.each<Partial<CardStatement>>([
    {},
    { fill: 'light', workingMin: 5.5, sandMin: 18 },
    { atC: 5, workingMin: 9, sandMin: 60, thicknessMm: 0.5 },
    { atC: 12, workingMin: 15, sandMin: 40, thicknessMm: 3 },
    { atC: 28, workingMin: 2, sandMin: 8, thicknessMm: 1 },
    { atC: 35, workingMin: 5, sandMin: 14, thicknessMm: 6 },
    { atC: 20, workingMin: 9, sandMin: 25, thicknessMm: 0.3, activationKJPerMol: 60 },
    { atC: 15, workingMin: 12, sandMin: 30, thicknessMm: 6, fill: 'light', hardenerPct: 2.5 },
  ])('is met by its film: %j', (change) => {
    const card = { ...bodyFiller, ...change };
    const { thicknessMm, hardenerPct, atC } = card;
    const job: FilmJob = { ...plainJob, thicknessMm, hardenerPct, airC: [[0, atC]] };
    const { gelMin, sandMin } = solvePlain(card, constantsOf(card), job, { stepRatio: 0.5 });
    expect(timeError(gelMin, card.workingMin)).toBeLessThan(0.5);
    expect(timeError(sandMin, card.sandMin)).toBeLessThan(0.5);
  });
});

describe('the plain solver', () => {
  it('meets the independent scenarios itself, and changes little with half the step or the cells', () => {
    for (const { card, job, expected } of scenarios.filter((_, index) => index % 6 === 4)) {
      const constants = constantsOf(card);
      const usual = solvePlain(card, constants, job, { stepRatio: 0.5 });
      const finer = solvePlain(card, constants, job, { stepRatio: 0.25 });
      const coarser = solvePlain(card, constants, job, { stepRatio: 0.5, cellCount: 60 });
      for (const instant of ['gelMin', 'sandMin', 'coolMin'] as const) {
        expect(timeError(usual[instant], expected[instant])).toBeLessThan(0.12);
        expect(timeError(usual[instant], finer[instant])).toBeLessThan(0.03);
        expect(timeError(usual[instant], coarser[instant])).toBeLessThan(0.03);
      }
    }
  });
});
