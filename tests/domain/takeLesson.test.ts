// What a closed batch teaches: what was seen of it, why it teaches nothing, and what had been promised.
import { describe, expect, it } from 'vitest';
import { foldBatch } from '../../server/domain/evolveBatch.ts';
import type { BatchInputs, Lesson, LessonSeen, Sequence } from '../../server/domain/facts.ts';
import { probabilityAt } from '../../server/domain/phase.ts';
import { takeLesson } from '../../server/domain/takeLesson.ts';
import { MODEL_VERSION, solveBatch } from '../../server/engine/index.ts';
import type { BatchState } from '../../server/domain/batch.ts';
import {
  baysOf,
  BODY_FILLER,
  estimated,
  estimateOf,
  fact,
  minute,
  place,
  type Placeable,
  series,
  started,
  steadyAir,
} from '../support/domainFixtures.ts';

const steady = baysOf({ 'bay-1': steadyAir(20, 50, 600) });
const gums = (afterMin: number): Placeable =>
  fact('CheckRecorded', afterMin, { outcome: 'gums', firstTry: null });
const powders = (afterMin: number, firstTry: boolean | null = null): Placeable[] => [
  fact('CheckRecorded', afterMin, { outcome: 'powders', firstTry }),
  fact('SandingStarted', afterMin, {}),
];
const alert = (afterMin: number, round = 1): Placeable =>
  fact('AlertRaised', afterMin, { alertId: `b1.test.${round}`, kind: 'test' });
const scrap = (afterMin: number): Placeable => fact('BatchScrapped', afterMin, {});
const undo = (afterMin: number, sequence: number): Placeable =>
  fact('FactUndone', afterMin, { factSequence: sequence as Sequence });

function lessonOf(
  placeables: readonly Placeable[],
  bays = steady,
  inputs: Partial<BatchInputs> = {},
): Lesson | null {
  const facts = place([started(inputs), ...placeables]);
  return takeLesson(foldBatch(facts) as BatchState, { card: BODY_FILLER, bays, facts });
}

function seenIn(lesson: Lesson | null): LessonSeen {
  const seen = lesson?.seen ?? null;
  if (seen === null) throw new Error(`nothing seen: ${lesson?.whyNot}`);
  return seen;
}

/** ln time scale with which this film is ready at a minute, by the solver alone: halving until it is. */
function scaleReadyAt(atMin: number): number {
  let [low, high] = [-2, 2];
  for (let step = 0; step < 40; step++) {
    const middle = (low + high) / 2;
    const { testMin } = solveBatch(BODY_FILLER, BODY_FILLER.constants, {
      substrate: 'steel',
      thicknessMm: 2,
      hardenerPct: 2,
      airC: [[0, 20]],
      humidityPct: [[0, 50]],
      timeScale: Math.exp(middle),
    });
    if ((testMin ?? Infinity) < atMin) low = middle;
    else high = middle;
  }
  return low;
}
const near = (logScales: readonly number[] | null, atMin: number): void => {
  // At the card's own energy.
  expect(Math.abs(Number(logScales?.[2]) - scaleReadyAt(atMin))).toBeLessThan(0.01);
};

describe('a batch that powders', () => {
  it('at the first try lay before that check', () => {
    const lesson = lessonOf([alert(22), ...powders(24, true)]);
    expect(lesson).toMatchObject({
      cardId: 'body-filler',
      constants: BODY_FILLER.constants,
      modelVersion: MODEL_VERSION,
      closingSequence: 3,
      whyNot: null,
      seen: { gumsLogScales: null, firstTry: true },
    });
    const seen = seenIn(lesson);
    near(seen.checkLogScales, 24);
    near(seen.alertLogScales, 22);
    expect(seen.checkLogScales).toHaveLength(5);
    expect(seen.withinLogSd).toBeGreaterThan(0.05);
  });

  it('after it gummed lay behind the last "gums"', () => {
    const seen = seenIn(lessonOf([gums(14), alert(22), gums(18), ...powders(26, false)]));
    near(seen.gumsLogScales, 18);
    near(seen.checkLogScales, 26);
    expect(seen.firstTry).toBe(false);
  });

  it('without a word of a first try lay anywhere from the first alert on', () => {
    const seen = seenIn(lessonOf([alert(21), alert(23, 2), ...powders(27)]));
    expect(seen).toMatchObject({ gumsLogScales: null, firstTry: null });
    near(seen.alertLogScales, 21);
  });

  it('before any alert, or at its minute, says nothing of an alert', () => {
    expect(seenIn(lessonOf([...powders(17)])).alertLogScales).toBeNull();
    expect(seenIn(lessonOf([alert(17), ...powders(17)])).alertLogScales).toBeNull();
    const promise = fact('AlertRaised', 10, { alertId: 'b1.spreadBy.1', kind: 'spreadBy' });
    expect(seenIn(lessonOf([promise, ...powders(17)])).alertLogScales).toBeNull();
  });

  it('with checks out of order, or dated before mixing, is read by their times', () => {
    const seen = seenIn(lessonOf([gums(19), gums(15), gums(-5), gums(40), ...powders(26)]));
    near(seen.gumsLogScales, 19);
    expect(seenIn(lessonOf([gums(-5), gums(26), ...powders(26)])).gumsLogScales).toBeNull();
  });

  it('is less blurred when its hardener was weighed', () => {
    const [bead, weighed] = [false, true].map((isWeighed) =>
      seenIn(lessonOf([...powders(24)], steady, { weighed: isWeighed })),
    );
    expect(weighed?.withinLogSd).toBeLessThan(Number(bead?.withinLogSd) - 0.01);
    expect(weighed?.checkLogScales).toEqual(bead?.checkLogScales);
  });

  it('is more blurred by a gap in its air', () => {
    const torn = steadyAir(20).air.filter(({ at }) => at <= minute(0) || at >= minute(30));
    const [whole, gap] = [steady, baysOf({ 'bay-1': { air: torn, humidity: [] } })].map((bays) =>
      seenIn(lessonOf([...powders(32)], bays)),
    );
    expect(gap?.withinLogSd).toBeGreaterThan(Number(whole?.withinLogSd) + 0.002);
  });

  it('and is scrapped later has taught already', () => {
    expect(lessonOf([...powders(24), scrap(40)])).toBeNull();
    expect(lessonOf([...powders(24), undo(25, 3), undo(25, 2), scrap(40)])).toBeNull();
  });
});

describe('undone checks', () => {
  it('were never made', () => {
    // 2: gums, 3: undone; 4, 5: powders, 6, 7: both undone; 8, 9: powders.
    const seen = lessonOf([
      gums(20),
      undo(20.5, 2),
      ...powders(22, true),
      undo(22.5, 5),
      undo(22.5, 4),
      ...powders(27),
    ]);
    expect(seen).toMatchObject({ closingSequence: 8, seen: { gumsLogScales: null, firstTry: null } });
    expect(seen?.firstCheck).toMatchObject({ atMin: 27, outcome: 'powders' });
    near(seenIn(seen).checkLogScales, 27);
  });

  it('of a batch that was scrapped in the end teach nothing', () => {
    expect(lessonOf([gums(20), undo(20.5, 2), scrap(30)])).toBeNull();
  });
});

describe('a batch that teaches nothing', () => {
  it('was never tested', () => {
    expect(lessonOf([scrap(30)])).toBeNull();
  });

  it('was scrapped after it gummed; its promise still counts', () => {
    expect(lessonOf([estimated(10, 'kicked'), gums(20), scrap(30)])).toMatchObject({
      seen: null,
      whyNot: 'scrapped',
      closingSequence: 4,
      firstCheck: { atMin: 20, outcome: 'gums' },
    });
  });

  it.each([
    ['powdered past six hours', 360.5, 'overnight'],
    ['powdered within six hours', 360, null],
    ['powdered before it was mixed', -1, 'overnight'],
    ['powdered when it was mixed', 0, 'overnight'],
  ])('%s, or does', (_, atMin, whyNot) => {
    const lesson = lessonOf([...powders(atMin)]);
    expect(lesson?.whyNot).toBe(whyNot);
    expect(lesson?.seen === null).toBe(whyNot !== null);
  });

  const told = (...minutes: number[]) =>
    baysOf({ 'bay-1': { air: series(...minutes.map((atMin) => [atMin, 20] as const)), humidity: [] } });

  it.each([
    ['never spoke', baysOf({}), 'no-air'],
    ['fell silent 46 min before the check', told(-10, 0, 4), 'no-air'],
    ['fell silent 45 min before the check', told(-10, 0, 5), null],
    ['left a gap of 46 min', told(-10, 2, 48, 50), 'no-air'],
    ['left a gap of 45 min', told(-10, 3, 48, 50), null],
    ['first spoke 46 min after mixing', told(46, 50), 'no-air'],
  ])('stood in a bay that %s', (_, bays, whyNot) => {
    const lesson = lessonOf([...powders(50)], bays);
    expect(lesson?.whyNot).toBe(whyNot);
    expect(lesson?.seen === null).toBe(whyNot !== null);
  });
});

describe('what was promised', () => {
  const promised = [estimated(5, 'kicked'), estimated(15, 'kicked', { p50At: minute(18) })];

  it('is what stood on the slip just before the first check', () => {
    const state = foldBatch(place([started()])) as BatchState;
    const lesson = lessonOf([
      ...promised,
      gums(20),
      estimated(21, 'kicked', { p10At: minute(25), p50At: minute(28), p90At: minute(33) }),
      ...powders(29),
    ]);
    const probability = probabilityAt(state, estimateOf({ p50At: minute(18) }), minute(20));
    expect(lesson?.firstCheck).toEqual({
      atMin: 20,
      outcome: 'gums',
      probability,
      isCalled: false,
      timerMin: 17.5,
      doublingMin: 17.5,
    });
    expect(probability).toBeGreaterThan(0.5);
    expect(probability).toBeLessThan(0.9);
  });

  it('was called for where a test alert stood by then, whatever came of it later', () => {
    const calledBy = (...placeables: Placeable[]): boolean | undefined =>
      lessonOf([...promised, ...placeables])?.firstCheck.isCalled;
    expect(calledBy(alert(19), gums(20), ...powders(30))).toBe(true);
    expect(calledBy(gums(20), alert(25), ...powders(30))).toBe(false);
  });

  it('is nothing where no window stood', () => {
    expect(lessonOf([...powders(20)])?.firstCheck.probability).toBeNull();
  });

  it('stands beside a timer, and beside twice the minutes for each ten degrees colder', () => {
    const cold = lessonOf([...powders(40)], baysOf({ 'bay-1': steadyAir(10, 50, 600) }));
    expect(cold?.firstCheck).toMatchObject({ timerMin: 17.5, doublingMin: 35 });
    const silent = lessonOf([...powders(40)], baysOf({}));
    expect(silent?.firstCheck).toMatchObject({ timerMin: 17.5, doublingMin: null });
  });
});
