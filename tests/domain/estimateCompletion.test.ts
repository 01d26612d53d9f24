// From a batch and its air to an estimate: the trade's own numbers, what the air does to them, and what must always hold.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Instant } from '../../server/contract/index.ts';
import type { AirPoint, BayAir } from '../../server/domain/airSeries.ts';
import type { BatchState, Check } from '../../server/domain/batch.ts';
import { estimateCompletion } from '../../server/domain/estimateCompletion.ts';
import type { Estimate, Lesson, LessonSeen } from '../../server/domain/facts.ts';
import type { AirOfBays } from '../../server/domain/filmJob.ts';
import { foldLessons, learnedFrom, noLessons, type ProductLessons } from '../../server/domain/learned.ts';
import { minutesBetween } from '../../server/domain/minutes.ts';
import { MODEL_VERSION } from '../../server/engine/index.ts';
import {
  baysOf,
  BODY_FILLER,
  fact,
  minute,
  MIXED_AT,
  NO_TIMES,
  place,
  series,
  stateOf,
  steadyAir,
} from '../support/domainFixtures.ts';

const warm = baysOf({ 'bay-1': steadyAir(20, 50, 0) });
const RUN = { seed: 20_260_112, numRuns: 40 };

/** The estimate of 2 mm of body filler on steel in 20 °C at mixing, with what is given in place of it. */
function estimate(state: Partial<BatchState> = {}, bays = warm, nowMin = 0, testProbability = 0.8): Estimate {
  return estimateCompletion(stateOf(state), {
    card: BODY_FILLER,
    bays,
    nowAt: minute(nowMin),
    testProbability,
    learned: null,
  });
}

/** Minutes after mixing; not a number where there is no such instant. */
const minutesTo = (instantAt: Instant | null): number =>
  instantAt === null ? Number.NaN : minutesBetween(MIXED_AT, instantAt);

const airOf = (airC: number): AirOfBays => baysOf({ 'bay-1': steadyAir(airC, 50, 0) });
const gums = (afterMin: number): Check => ({
  at: minute(afterMin),
  outcome: 'gums',
  firstTry: null,
  by: null,
});
const powders = (afterMin: number): Check => ({ ...gums(afterMin), outcome: 'powders' });

describe('body filler of 2 mm on steel at a constant 20 °C', () => {
  const at20 = estimate();

  it('is worth testing after the trade’s 15 to 20 minutes', () => {
    expect(Math.abs(minutesTo(at20.p50At) - 19.5)).toBeLessThan(1);
    expect(Math.abs(minutesTo(at20.buildP50At) - 15)).toBeLessThan(0.3);
    expect(Math.abs(minutesTo(at20.edgeP50At) - 19.5)).toBeLessThan(1);
  });

  it('has its instants in the order in which they come', () => {
    const { kickedAt, p10At, p50At, testFromAt, p90At } = at20;
    const minutes = [kickedAt, p10At, p50At, testFromAt, p90At].map(minutesTo);
    expect(minutes).toEqual(minutes.toSorted((a, b) => a - b));
    expect(new Set(minutes).size).toBe(5);
    expect(at20.spreadUntilAt).toBe(at20.kickedAt);
  });

  it('waits for its edge above all', () => {
    expect(at20.reasons[0]).toMatchObject({ code: 'edge' });
    expect(at20.reasons.map(({ code }) => code)).toEqual(['edge', 'film']);
  });

  it('costs no more than its card', () => {
    expect(at20.expectedMin).toBe(at20.cardMin);
    expect(at20.expectedMin).toBeCloseTo(minutesTo(at20.p50At), 1);
  });

  it('says what it rests on', () => {
    expect(at20).toMatchObject({
      modelVersion: MODEL_VERSION,
      learnedVersion: 0,
      computedAt: MIXED_AT,
      supported: true,
      notes: [],
      airTemperatureC: 20,
      airAt: MIXED_AT,
    });
  });

  it('is worth testing later the surer the shop wants to be', () => {
    const minutes = [0.5, 0.6, 0.8, 0.95].map((sure) => minutesTo(estimate({}, warm, 0, sure).testFromAt));
    expect(minutes).toEqual(minutes.toSorted((a, b) => a - b));
    expect(minutes[0]).toBeCloseTo(minutesTo(at20.p50At), 3);
  });
});

describe('the largest reason', () => {
  it('of a cold bay names it and its air', () => {
    const cold = estimate({}, airOf(11));
    expect(minutesTo(cold.p50At)).toBeGreaterThan(minutesTo(estimate().p90At));
    expect(cold.reasons[0]).toMatchObject({ code: 'bay-cold', bayId: 'bay-1', airTemperatureC: 11 });
    expect(cold.reasons[0]?.minutes).toBeGreaterThan(10);
  });

  it.each([
    ['a warm bay', {}, airOf(30), { code: 'bay-warm', bayId: 'bay-1', airTemperatureC: 30 }],
    [
      'a car from the cold',
      { rolledInAt: minute(-30), outdoorTemperatureC: -5 },
      warm,
      { code: 'car-cold', panelTemperatureC: 12.3 },
    ],
    ['a warmed panel', { panelTemperatureC: 40 }, warm, { code: 'car-warm', panelTemperatureC: 40 }],
    [
      'a lamp that must cool down again',
      {
        lamps: [
          { lampId: 'lamp-1', fromAt: minute(2), untilAt: minute(32), distanceCm: 60, fluxWPerM2: 2500 },
        ],
      },
      warm,
      { code: 'lamp' },
    ],
  ])('is %s', (_, state, bays, reason) => {
    const [largest, ...rest] = estimate(state, bays).reasons;
    expect(largest).toMatchObject(reason);
    for (const { minutes } of rest)
      expect(Math.abs(minutes)).toBeLessThanOrEqual(Math.abs(largest?.minutes ?? 0));
  });

  it('names the bay where the batch stands now', () => {
    const bays = baysOf({ 'bay-1': steadyAir(20, 50, 0), 'bay-2': steadyAir(8, 40, 0) });
    const stays = [
      { bayId: 'bay-1', fromAt: MIXED_AT },
      { bayId: 'bay-2', fromAt: minute(3) },
    ];
    const { reasons } = estimate({ bayId: 'bay-2', stays }, bays, 5);
    expect(reasons[0]).toMatchObject({ code: 'bay-cold', bayId: 'bay-2', airTemperatureC: 8 });
  });

  it('adds up with all others to the minutes beyond the card’s own statement', () => {
    for (const bays of [warm, airOf(11), airOf(28)]) {
      const { reasons, expectedMin } = estimate({ hardenerPct: 2.6 }, bays);
      const sum = reasons.reduce((total, { minutes }) => total + minutes, 0);
      expect(Math.abs(sum - (Number(expectedMin) - BODY_FILLER.sandMin))).toBeLessThan(0.05 * reasons.length);
    }
  });
});

describe('air that is missing or old', () => {
  it('leaves no times without any reading, and says so', () => {
    expect(estimate({ hardenerPct: 4 }, baysOf({}))).toEqual({
      modelVersion: MODEL_VERSION,
      learnedVersion: 0,
      computedAt: MIXED_AT,
      supported: false,
      ...NO_TIMES,
      cardMin: null,
      expectedMin: null,
      reasons: [],
      notes: ['no-air', 'hardener-high'],
      airTemperatureC: null,
      airAt: null,
    });
  });

  const told = (afterMin: number): AirOfBays =>
    baysOf({ 'bay-1': { air: series([afterMin, 20]), humidity: [] } });

  it.each([
    ['told at mixing, 45 min ago', 0, 45, true],
    ['told at mixing, longer ago', 0, 45.001, false],
    ['told 40 min before mixing, now', -40, 0, true],
    ['told 40 min before mixing, ten minutes ago', -40, 10, false],
    ['told a day before mixing, now', -1440, 0, false],
  ])('%s: supported or not', (_, toldMin, nowMin, supported) => {
    const { p50At, notes, airAt, ...rest } = estimate({}, told(toldMin), nowMin);
    expect(rest.supported).toBe(supported);
    expect(notes.includes('air-stale')).toBe(!supported);
    expect(airAt).toBe(minute(toldMin));
    expect(minutesTo(p50At)).toBeGreaterThan(15);
  });

  it('is not made up for by the bay that the batch has left', () => {
    const bays = baysOf({
      'bay-1': steadyAir(20, 50, 0),
      'bay-2': { air: series([-100, 12]), humidity: [] },
    });
    const stays = [
      { bayId: 'bay-1', fromAt: MIXED_AT },
      { bayId: 'bay-2', fromAt: minute(3) },
    ];
    expect(estimate({ bayId: 'bay-2', stays }, bays, 5)).toMatchObject({
      supported: false,
      airTemperatureC: 12,
    });
  });

  it('was all told after the batch had left', () => {
    const bays = baysOf({ 'bay-1': { air: series([9, 20]), humidity: [] } });
    const stays = [
      { bayId: 'bay-1', fromAt: MIXED_AT },
      { bayId: 'bay-2', fromAt: minute(3) },
    ];
    const lost = estimate({ bayId: 'bay-2', stays }, bays, 10);
    expect(lost).toMatchObject({ supported: false, airTemperatureC: null, airAt: null });
  });
});

describe('air with a gap', () => {
  /** Told each five minutes for an hour before mixing, then not for some minutes, then again until an instant. */
  const torn = (fromMin: number, gapMin: number, untilMin: number): AirOfBays => {
    const minutes = Array.from({ length: (untilMin + 60) / 5 + 1 }, (_, index) => index * 5 - 60);
    const told = minutes.filter((atMin) => atMin <= fromMin || atMin >= fromMin + gapMin);
    return baysOf({
      'bay-1': {
        air: series(...told.map((atMin) => [atMin, 20] as const)),
        humidity: series(...minutes.map((atMin) => [atMin, 50] as const)),
      },
    });
  };
  const widthOf = ({ p10At, p90At }: Estimate): number => minutesTo(p90At) - minutesTo(p10At);

  it.each([
    [20, 15, []],
    [25, 15, ['air-gap']],
  ])('of %f min is told when it is longer than twenty', (gapMin, nowMin, notes) => {
    expect(estimate({}, torn(-15, gapMin, nowMin), nowMin)).toMatchObject({ supported: true, notes });
  });

  it('that lasts on is told as one, and past three quarters of an hour as air that is too old', () => {
    const silentFor = (silentMin: number): Estimate =>
      estimate({}, torn(5 - silentMin, silentMin + 100, 5), 5);
    expect(silentFor(20).notes).toEqual([]);
    expect(silentFor(25)).toMatchObject({ supported: true, notes: ['air-gap'] });
    expect(silentFor(45)).toMatchObject({ supported: true, notes: ['air-gap'] });
    expect(silentFor(50)).toMatchObject({ supported: false, notes: ['air-stale'] });
    const widths = [0, 20, 25, 45, 60].map((silentMin) => widthOf(silentFor(silentMin)));
    expect(widths[4]).toBeGreaterThan(Number(widths[3]));
    expect(widths[3]).toBeGreaterThan(Number(widths[2]));
    expect(widths[2]).toBeGreaterThan(Number(widths[0]));
  });

  it('has a wider window about the same middle', () => {
    const [whole, gap] = [torn(-15, 5, 15), torn(-15, 30, 15)].map((bays) => estimate({}, bays, 15));
    expect(widthOf(gap as Estimate)).toBeGreaterThan(1.002 * widthOf(whole as Estimate));
    expect(Math.abs(minutesTo((gap as Estimate).p50At) - minutesTo((whole as Estimate).p50At))).toBeLessThan(
      0.3,
    );
  });
});

describe('a product that was learned', () => {
  const lessonsOf = (logScale: number): ProductLessons => {
    const at = (value: number): number[] => Array<number>(5).fill(value);
    const seen: LessonSeen = {
      gumsLogScales: at(logScale - 0.07),
      alertLogScales: null,
      checkLogScales: at(logScale + 0.07),
      withinLogSd: 0.1,
      firstTry: null,
    };
    const lesson = { cardId: 'body-filler', constants: BODY_FILLER.constants, seen, whyNot: null };
    return Array.from({ length: 30 }, (_, index) =>
      place([fact('LessonTaken', -3000 + index, { ...lesson, closingSequence: index } as unknown as Lesson)]),
    )
      .flat()
      .reduce(foldLessons, noLessons('body-filler'));
  };
  const learnedAs = (logScale: number): Estimate =>
    estimateCompletion(stateOf(), {
      card: BODY_FILLER,
      bays: warm,
      nowAt: MIXED_AT,
      testProbability: 0.8,
      learned: learnedFrom(lessonsOf(logScale), BODY_FILLER),
    });

  it.each([
    ['slower', 0.2],
    ['faster', -0.2],
  ])('to be %s moves the window and is among the reasons, which still add up', (_, logScale) => {
    const [before, after] = [estimate(), learnedAs(logScale)];
    expect(after.learnedVersion).toBe(30);
    const ratio = minutesTo(after.p50At) / minutesTo(before.p50At);
    expect(Math.abs(Math.log(ratio) - logScale)).toBeLessThan(0.03);
    const product = after.reasons.find(({ code }) => code === 'product');
    expect(Math.sign(product?.minutes ?? 0)).toBe(Math.sign(logScale));
    const sum = after.reasons.reduce((total, { minutes }) => total + minutes, 0);
    expect(Math.abs(sum - (Number(after.expectedMin) - BODY_FILLER.sandMin))).toBeLessThan(
      0.05 * after.reasons.length,
    );
    expect(Math.abs(Number(after.expectedMin) - minutesTo(after.p50At))).toBeLessThan(0.5);
  });

  it('by many batches has a narrower window than one by its card alone', () => {
    const partOf = ({ p10At, p50At, p90At }: Estimate): number =>
      (minutesTo(p90At) - minutesTo(p10At)) / minutesTo(p50At);
    expect(partOf(learnedAs(0))).toBeLessThan(0.9 * partOf(estimate()));
  });

  it('is named by an estimate without air as well', () => {
    const learned = learnedFrom(lessonsOf(0.1), BODY_FILLER);
    expect(
      estimateCompletion(stateOf(), {
        card: BODY_FILLER,
        bays: baysOf({}),
        nowAt: MIXED_AT,
        testProbability: 0.8,
        learned,
      }),
    ).toMatchObject({ learnedVersion: 30, notes: ['no-air'] });
  });
});

describe('air that changes', () => {
  const changing = (toC: number): AirOfBays =>
    baysOf({
      'bay-1': {
        air: series(
          [-600, 30],
          [-300, 6],
          [-30, 16 - toC],
          [-20, 16 - (toC * 2) / 3],
          [-10, 16 - toC / 3],
          [0, 16],
        ),
        humidity: [],
      },
    });

  /** The air behind the panel is the same whatever the bay met before. */
  const rolledIn = { rolledInAt: MIXED_AT, outdoorTemperatureC: 16 };

  it('is led on: earlier in a bay that warms up, later in one that cools down, than at the same air held', () => {
    const [cooling, held, warming] = [-3, 0, 3].map((toC) =>
      minutesTo(estimate(rolledIn, changing(toC)).p50At),
    );
    expect(warming).toBeLessThan(Number(held) - 0.5);
    expect(cooling).toBeGreaterThan(Number(held) + 0.5);
  });

  it('still is what the sensor last said to a reader', () => {
    expect(estimate({}, changing(-3))).toMatchObject({ airTemperatureC: 16, airAt: MIXED_AT });
    expect(estimate({}, changing(-3)).reasons.find(({ code }) => code === 'bay-cold')).toMatchObject({
      airTemperatureC: 16,
    });
  });
});

describe('a note', () => {
  it.each([
    ['of unmeasured humidity', {}, baysOf({ 'bay-1': steadyAir(20, null, 0) }), ['humidity-assumed']],
    ['of a check that gummed', { checks: [gums(12)] }, warm, ['gummed']],
    ['of a bay below the card’s lowest temperature', {}, airOf(5), ['too-cold']],
    ['of a damp panel', { panelTemperatureC: 11 }, warm, ['condensation-hold']],
    ['of hardener beyond practice', { hardenerPct: 0.8 }, warm, ['hardener-low']],
    ['of a film that stalls', {}, airOf(-25), ['too-cold', 'stalled']],
    ['of a film that may stall before it is sure enough', {}, airOf(-10), ['too-cold', 'stalled']],
  ] as const)('tells %s', (_, state, bays, notes) => {
    expect(estimate(state, bays).notes).toEqual(notes);
  });

  it('of a lamp that blisters tells it', () => {
    const lamps = [
      { lampId: 'lamp-1', fromAt: minute(1), untilAt: minute(30), distanceCm: 60, fluxWPerM2: 2500 },
    ];
    expect(estimate({ lamps }).notes).toContain('too-hot');
  });

  it('of a stall comes with no time at which to test', () => {
    expect(estimate({}, airOf(-25))).toMatchObject({
      p10At: null,
      p50At: null,
      p90At: null,
      testFromAt: null,
    });
    expect(estimate({}, airOf(-10))).toMatchObject({ p90At: null, testFromAt: null });
  });
});

describe('whatever the batch', () => {
  const airs = fc.double({ min: 8, max: 32, noNaN: true });
  const checks = fc.array(fc.tuple(fc.integer({ min: 1, max: 60 }), fc.boolean()), { maxLength: 2 });
  const checked = checks.map((list) =>
    list.map(([afterMin, isGood]) => (isGood ? powders(afterMin) : gums(afterMin))),
  );

  it('the same question has the same answer', () => {
    fc.assert(
      fc.property(airs, checked, (airC, seen) => {
        const bays = airOf(airC);
        expect(estimate({ checks: seen }, bays)).toEqual(estimate({ checks: [...seen] }, airOf(airC)));
      }),
      { ...RUN, numRuns: 10 },
    );
  });

  it('a later day shifts every instant and nothing else', () => {
    fc.assert(
      fc.property(airs, checked, fc.integer({ min: -1e11, max: 1e11 }), (airC, seen, ms) => {
        const [stays, lamps] = [
          [
            { bayId: 'bay-1', fromAt: MIXED_AT },
            { bayId: 'bay-2', fromAt: minute(7.3) },
          ],
          [{ lampId: 'lamp-1', fromAt: minute(4), untilAt: minute(9), distanceCm: null, fluxWPerM2: 300 }],
        ];
        const state = stateOf({
          bayId: 'bay-2',
          stays,
          lamps,
          checks: seen,
          rolledInAt: minute(-40),
          outdoorTemperatureC: 1,
        });
        const bays = baysOf({ 'bay-1': steadyAir(airC, 45, 0), 'bay-2': steadyAir(airC + 3, 55, 0) });
        const inputs = { card: BODY_FILLER, bays, nowAt: minute(8), testProbability: 0.8, learned: null };
        const shifted = estimateCompletion(shiftInstants(state, ms), {
          ...inputs,
          bays: shiftAir(bays, ms),
          nowAt: shiftInstant(inputs.nowAt, ms),
        });
        expect(shifted).toEqual(shiftInstants(estimateCompletion(state, inputs), ms));
      }),
      RUN,
    );
  });

  it('"gums" never makes it earlier and "powders" never later', () => {
    fc.assert(
      fc.property(airs, checked, fc.integer({ min: 1, max: 60 }), (airC, seen, afterMin) => {
        const bays = airOf(airC);
        const p50 = (more: readonly Check[]): number =>
          minutesTo(estimate({ checks: [...seen, ...more] }, bays).p50At);
        const before = p50([]);
        // Instants are whole milliseconds: the same time may be rounded either way.
        const roundingMin = 1 / 60_000 + 1e-9;
        expect(p50([gums(afterMin)])).toBeGreaterThanOrEqual(before - roundingMin);
        expect(p50([powders(afterMin)])).toBeLessThanOrEqual(before + roundingMin);
      }),
      RUN,
    );
  });

  it('hotter air never makes it later while the film’s own heat leaves it cool enough to sand', () => {
    const minutes = [5, 8, 11, 14, 17, 20, 23, 26].map((airC) => minutesTo(estimate({}, airOf(airC)).p50At));
    expect(minutes).toEqual(minutes.toSorted((a, b) => b - a));
  });
});

function shiftInstant(instantAt: Instant, ms: number): Instant {
  return (instantAt + ms) as Instant;
}

/** The same value with every field that ends in At, or is at, later by some milliseconds. */
function shiftInstants<T>(value: T, ms: number): T {
  if (Array.isArray(value)) return value.map((one: unknown) => shiftInstants(one, ms)) as T;
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).map(([key, held]: [string, unknown]) => {
    const isInstant = typeof held === 'number' && (key === 'at' || key.endsWith('At'));
    return [key, isInstant ? held + ms : shiftInstants(held, ms)];
  });
  return Object.fromEntries(entries) as T;
}

function shiftAir(bays: AirOfBays, ms: number): AirOfBays {
  const shift = (points: readonly AirPoint[]): AirPoint[] => points.map((point) => shiftInstants(point, ms));
  const airOfBay = (bayId: string): BayAir => {
    const { air, humidity } = bays.airOf(bayId);
    return { air: shift(air), humidity: shift(humidity) };
  };
  return { ...bays, airOf: airOfBay, outside: shift(bays.outside) };
}
