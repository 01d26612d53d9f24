// Films that may grow hot: the parts between a probe and its members, each against the film solved whole.
import { describe, expect, it } from 'vitest';
import {
  coolInstantMin,
  LIT_CLOCK,
  outsideAtK,
  SINCE_SAND_MIN,
  UNLIT_CLOCK,
} from '../../server/engine/coolInstant.ts';
import { BATCH, KINETICS } from '../../server/engine/constants.ts';
import {
  BEAD_UNCERTAINTY,
  DEFAULT_WINDOW_PRIOR,
  estimateWindow,
  type FilmJob,
  solveFilm,
} from '../../server/engine/index.ts';
import { mixLists, mixTimes, stencilAt, stencilsOver } from '../../server/engine/lagrange.ts';
import { pileUp, probabilityBy, quantileMin } from '../../server/engine/pileUp.ts';
import { splitWarmth } from '../../server/engine/splitWarmth.ts';
import { traceHeat } from '../../server/engine/traceHeat.ts';
import { minutesFromSeconds } from '../../server/engine/units.ts';
import { moveLadder, solveLadder } from '../../server/engine/warmLadder.ts';
import { bodyConstants, bodyFiller, plainJob } from './samples.ts';

const film = { card: bodyFiller, constants: bodyConstants, heatJPerKg: KINETICS.heatJPerKg };
const thick: FilmJob = { ...plainJob, thicknessMm: 4.5, airC: [[0, 29]] };
const lit: FilmJob = { ...thick, airC: [[0, 26]], lampMinWPerM2: [[14, 22, 800]] };

/** Own heat and heat from outside of one film, put together again. */
function coolOf(job: FilmJob): { apartMin: number; wholeMin: number | null } {
  const lamps = job.lampMinWPerM2 ?? [];
  const clock = lamps.length > 0 ? LIT_CLOCK : UNLIT_CLOCK;
  const listsK = traceHeat({ ...film, job, heatJPerKg: 0 }, 'mixing', clock.atMin).heatsK;
  const outside = { clock, listsK: listsK.subarray(0, 2 * clock.atMin.length) };
  const { sandS, heatsK } = traceHeat({ ...film, job }, 'sandable', SINCE_SAND_MIN);
  const sandMin = minutesFromSeconds(sandS);
  const count = SINCE_SAND_MIN.length;
  const own = heatsK.map((hotK, at) => {
    if (at >= 2 * count) return hotK;
    const sideIndex = at < count ? 0 : 1;
    return hotK - outsideAtK(outside, sideIndex, sandMin + (SINCE_SAND_MIN[at % count] ?? 0));
  });
  const apartMin = coolInstantMin(
    sandMin,
    { ownK: own, stencil: { firstIndex: 0, weights: [1] } },
    outside,
    lamps.map(([from]) => from),
  );
  return { apartMin, wholeMin: solveFilm(bodyFiller, bodyConstants, job).coolMin };
}

describe('heat on two clocks', () => {
  it.each<[string, FilmJob]>([
    ['of a film that stays cool', plainJob],
    ['of a thick film in a warm shop', thick],
    ['of a film that is cool for a while before its lamp is lit', { ...lit, lampMinWPerM2: [[24, 30, 900]] }],
    ['of a film whose lamp is lit while it is hot', lit],
    [
      'of a film that is hot longer than its own heat is followed',
      { ...plainJob, lampMinWPerM2: [[5, 95, 900]] },
    ],
    ['of a film sandable after two hours', { ...plainJob, airC: [[0, 2]], hardenerPct: 1 }],
  ])('finds the cool instant %s', (_, job) => {
    const { apartMin, wholeMin } = coolOf(job);
    // Straight lines over at most five minutes, against the solver's own search.
    expect(Math.abs(apartMin / (wholeMin ?? NaN) - 1)).toBeLessThan(0.012);
  });

  it('has no end where the air itself is too hot', () => {
    const { apartMin, wholeMin } = coolOf({ ...plainJob, airC: [[0, 48]] });
    expect([apartMin, wholeMin]).toEqual([Infinity, null]);
  });

  it('counts from an instant that never comes as nothing, and stays at the last heat past 12 h', () => {
    const never = traceHeat({ ...film, job: { ...plainJob, airC: [[0, -40]] } }, 'sandable', [0, 5]);
    expect(never.sandS).toBe(Infinity);
    expect([...never.heatsK]).toEqual([0, 0, 0, 0, 0, 0]);
    const { heatsK } = traceHeat({ ...film, job: plainJob }, 'mixing', [0, 700, 900]);
    expect(heatsK[2]).toBe(heatsK[1]);
    const still = { clock: UNLIT_CLOCK, listsK: new Float64Array(2 * UNLIT_CLOCK.atMin.length).fill(290) };
    expect(outsideAtK(still, 1, Infinity)).toBe(290);
  });
});

describe("Lagrange's four points", () => {
  it('give back any cubic, at and between the nodes', () => {
    const cubic = (x: number): number => 2 - x + 3 * x ** 2 - 0.5 * x ** 3;
    stencilsOver(7, 25).forEach(({ firstIndex, weights }, index) => {
      const near = weights.map((_, node) => cubic(firstIndex + node));
      expect(mixTimes(near, weights)).toBeCloseTo(cubic(index / 4), 10);
    });
    expect(stencilAt(3, 0.25).weights).toEqual([0.375, 0.75, -0.125]);
    expect([...mixLists([Float64Array.of(1, 2), Float64Array.of(10, 20)], [2, -0.1])]).toEqual([1, 2]);
  });

  it('stall next to a film that stalls, not next to one that does not', () => {
    expect(mixTimes([3, Infinity], [0.4, 0.6])).toBe(Infinity);
    expect(mixTimes([3, Infinity, Infinity], [0.8, 0.4, -0.2])).toBe(3);
    expect(mixTimes([3, Infinity], [1, 0])).toBe(3);
  });
});

describe('the split of what is not measured', () => {
  const scale = { sandLogRatio: 0.1, traitValues: [5, -1, 0] };

  it('finds the strongest directions at an unmoved sandable instant, and leaves the scale the rest', () => {
    // One thing is the scale itself, one warms only, one delays and warms a little.
    const effects = [
      { sandLogRatio: 0.05, traitValues: [2.5, -0.5, 0] },
      { sandLogRatio: 0, traitValues: [0, 6, 0] },
      { sandLogRatio: 0.02, traitValues: [1, -0.2, 0.5] },
    ];
    const { firstWeights, secondWeights, restRatio } = splitWarmth(effects, scale);
    expect(firstWeights.map((weight) => Math.abs(weight))).toEqual([0, 1, 0]);
    expect(secondWeights.map((weight) => Math.abs(weight))).toEqual([0, 0, 1]);
    expect(restRatio).toBeCloseTo(0.5, 12);
  });

  it('leaves the scale nothing where the film stalls', () => {
    const still = { sandLogRatio: 0, traitValues: [0, 0, 0] };
    expect(splitWarmth([still, still], still).restRatio).toBe(0);
  });
});

describe('a pile of members', () => {
  const even = Float64Array.of(1, 1, 1, 1);
  const member = {
    weight: 1,
    buildLogMin: Float64Array.of(1, 2, 1.5, 3, Infinity),
    edgeLogMin: Float64Array.of(0, 0, 0, 0, 0),
    testLogMin: Float64Array.of(1, 2, 1.5, 3, Infinity),
  };

  it('spreads each cell between its borders, falling ones too, and keeps what never comes', () => {
    const pile = pileUp([member], even, { which: 'testLogMin', checks: [] });
    // By 1.5: half of the first cell; by 2: that cell, the one falling, and a third of the next, of four.
    expect(probabilityBy(pile, 1.5)).toBeCloseTo(0.5 / 4, 9);
    expect(probabilityBy(pile, 2)).toBeCloseTo((2 + 1 / 3) / 4, 9);
    expect(probabilityBy(pile, 9)).toBeCloseTo(3 / 4, 12);
    expect(quantileMin(pile, 0.76)).toBeNull();
    expect(Math.log(quantileMin(pile, 0.125) ?? NaN)).toBeCloseTo(1.5, 9);
  });

  it('weighs build and edge by what was seen of the test', () => {
    const checks = [{ atMin: Math.exp(1.75), outcome: 'powders' as const }];
    const pile = pileUp([member], even, { which: 'buildLogMin', checks });
    expect(probabilityBy(pile, 2)).toBeGreaterThan(0.9);
    const edge = pileUp([member], even, { which: 'edgeLogMin', checks });
    expect(quantileMin(edge, 0.5)).toBeCloseTo(1, 5);
  });
});

describe('a ladder', () => {
  const spread = {
    logScaleMeanRatio: 0,
    logScaleTiltRatio: 0,
    logScaleSd: 0.2,
    activationMeanKJPerMol: 46,
    activationSdKJPerMol: 8,
    cellCount: 64,
  };
  const variant = { card: bodyFiller, constants: bodyConstants, spread };

  it('of a film in the frost without a lamp stalls at every time scale and has no heat to tell of', () => {
    const frozen = { job: { ...plainJob, airC: [[0, -25]] as const }, heatJPerKg: film.heatJPerKg };
    const { sandLogMin, ownK } = solveLadder(variant, { film: frozen, outside: null }, 2);
    expect(sandLogMin).toEqual(sandLogMin.map(() => Infinity));
    expect(ownK).toHaveLength(0);
  });

  it('moves by what its middle moved, and is not moved along a second direction that stalls', () => {
    const noHeatK = new Float64Array(0);
    const at = (first: number, second: number) => ({ sandLogMin: [first, second], ownK: noHeatK });
    const moved = moveLadder(
      { own: at(1, 2), base: at(1.5, Infinity) },
      { alongWarmth: [at(1.7, 3)], second: [at(1.4, 1), at(Infinity, 1)] },
      { near: { firstIndex: 0, weights: [1] }, secondWeights: [-0.5, 0.5] },
    );
    // 1 + (1.7 − 1.5), and where the middle stalls its own time.
    expect(moved.sandLogMin[0]).toBeCloseTo(1.2, 12);
    expect(moved.sandLogMin[1]).toBe(2);
  });
});

describe('a window of a film that may grow hot', () => {
  const prior = { ...DEFAULT_WINDOW_PRIOR, film: BEAD_UNCERTAINTY };
  const ask = (job: FilmJob): ReturnType<typeof estimateWindow> =>
    estimateWindow({ card: bodyFiller, constants: bodyConstants, job, prior });

  it('takes a film of edge only for both', () => {
    const { p50Min, buildP50Min, edgeP50Min } = ask({
      ...lit,
      thicknessMm: 0.25,
      lampMinWPerM2: [[5, 15, 900]],
    });
    expect(buildP50Min).toBe(edgeP50Min);
    expect(p50Min).toBeCloseTo(buildP50Min ?? NaN, 6);
  });

  it('keeps a time scale of the job', () => {
    const slow = ask({ ...thick, timeScale: 1.2 });
    const believed = estimateWindow({
      card: bodyFiller,
      constants: bodyConstants,
      job: thick,
      prior: { ...prior, logTimeScale: Math.log(1.2) },
    });
    expect(slow.p50Min).toBeCloseTo(believed.p50Min ?? NaN, 9);
  });

  it('says never where the lamp comes too late for a frozen film, and where the air is too hot', () => {
    const frozen = ask({ ...plainJob, airC: [[0, -25]], lampMinWPerM2: [[5, 20, 900]] });
    expect(frozen.p10Min).not.toBeNull();
    expect(frozen.probabilityAtMin(BATCH.horizonMin)).toBeLessThan(1);
    expect(ask({ ...plainJob, airC: [[0, 47]] }).p50Min).toBeNull();
  });
});
