// What if the bay had been warmer: heated air, the nine ways a product may be, and the range against brute force.
import { describe, expect, it } from 'vitest';
import type { AirPoint } from '../../server/domain/airSeries.ts';
import { filmJobFrom } from '../../server/domain/filmJob.ts';
import type { LearnedProduct } from '../../server/domain/learned.ts';
import {
  heatBay,
  likeliestNode,
  type ProductNode,
  productNodes,
  steadySlowdown,
  takenFrom,
  takenRange,
} from '../../server/domain/warmerMorning.ts';
import { DEFAULT_WINDOW_PRIOR, type FilmJob, recalibrate, solveBatch } from '../../server/engine/index.ts';
import {
  baysOf,
  BODY_FILLER,
  cardOf,
  drawsFrom,
  minute,
  series,
  stateOf,
  steadyAir,
} from '../support/domainFixtures.ts';

const COLD = baysOf({ 'bay-1': steadyAir(9, 50, 720), 'bay-2': steadyAir(15) });
const spells = [{ fromAt: minute(-60), toAt: minute(180) }];
const jobOf = (bays = COLD): FilmJob => {
  const film = filmJobFrom(stateOf(), bays, minute(600));
  if (film === null) throw new Error('no air');
  return film.job;
};
const learnedAs = (belief: Partial<LearnedProduct['belief']>): LearnedProduct => ({
  cardId: 'body-filler',
  version: 1,
  batchCount: 5,
  constants: BODY_FILLER.constants,
  belief: {
    ...DEFAULT_WINDOW_PRIOR,
    activationMeanKJPerMol: 46,
    logTimeScaleTiltRatio: 0,
    logScatterLogSd: 0.35,
    fromIndex: 0,
    ...belief,
  },
  told: { sandMin: 17.5, doublingK: 10 },
});

describe('heated air', () => {
  const heat = (air: readonly AirPoint[], heatC = 18): (readonly [number, number])[] =>
    heatBay(baysOf({ 'bay-1': { air, humidity: [] } }), { bayId: 'bay-1', spells, heatC })
      .airOf('bay-1')
      .air.map(({ at, measurement }) => [(at - minute(0)) / 60_000, measurement] as const);

  it('is at least so warm inside the spell, and as it was outside, with steps between', () => {
    const heated = heat(series([-120, 8], [-90, 8], [-60, 9], [0, 20], [170, 10], [190, 12]));
    const ms = 1 / 60_000;
    expect(heated).toEqual([
      [-120, 8],
      [-90, 8],
      [-60, 9],
      [-60 + ms, 18],
      [0, 20],
      [170, 18],
      [180, 18],
      [180 + ms, 11],
      [190, 12],
    ]);
  });

  it('has no step where the air is not known', () => {
    expect(heat(series([0, 10], [100, 12]))).toEqual([
      [0, 18],
      [100, 18],
    ]);
  });

  it('leaves other bays, humidity and the yard as they were', () => {
    const heated = heatBay(COLD, { bayId: 'bay-1', spells, heatC: 18 });
    expect(heated.airOf('bay-2')).toBe(COLD.airOf('bay-2'));
    expect(heated.airOf('bay-1').humidity).toBe(COLD.airOf('bay-1').humidity);
    expect(heated.outside).toBe(COLD.outside);
  });
});

describe('a product', () => {
  const momentsOf = (nodes: readonly ProductNode[], valueOf: (node: ProductNode) => number) => {
    const mean = nodes.reduce((sum, node) => sum + node.weight * valueOf(node), 0);
    return {
      mean,
      sd: Math.sqrt(nodes.reduce((sum, node) => sum + node.weight * (valueOf(node) - mean) ** 2, 0)),
    };
  };

  it('may be nine ways, with the mean and the spread that are believed', () => {
    const nodes = productNodes(BODY_FILLER, null);
    expect(nodes).toHaveLength(9);
    const scale = momentsOf(nodes, ({ timeScale }) => Math.log(timeScale));
    expect(scale.mean).toBeCloseTo(0, 12);
    expect(scale.sd).toBeCloseTo(0.12, 12);
    const energy = momentsOf(nodes, ({ card }) => card.activationKJPerMol);
    expect(energy.mean).toBeCloseTo(46, 9);
    expect(energy.sd).toBeCloseTo(8, 9);
    expect(likeliestNode(BODY_FILLER, null)).toMatchObject({
      timeScale: 1,
      card: { activationKJPerMol: 46 },
    });
  });

  it('is as the shop has learned it, its scale tilted with its energy', () => {
    const learned = learnedAs({ logTimeScale: 0.2, logTimeScaleSd: 0.05, logTimeScaleTiltRatio: 0.1 });
    const nodes = productNodes(BODY_FILLER, learned);
    const scale = momentsOf(nodes, ({ timeScale }) => Math.log(timeScale));
    expect(scale.mean).toBeCloseTo(0.2, 12);
    expect(scale.sd).toBeCloseTo(Math.hypot(0.05, 0.1), 12);
  });

  it('keeps its constants where its energy cannot be calibrated, and never has an energy below five', () => {
    const nodes = productNodes(BODY_FILLER, learnedAs({ activationMeanKJPerMol: 6 }));
    expect(Math.min(...nodes.map(({ card }) => card.activationKJPerMol))).toBe(5);
    const odd = { ...cardOf('body-filler'), workingMin: 17.49 };
    expect(recalibrate(odd)).toBeNull();
    expect(likeliestNode(odd, null).constants).toEqual(BODY_FILLER.constants);
  });
});

describe('the slowdown of steady air', () => {
  it('is 1 at the card’s temperature, and about 2.1 ten degrees colder', () => {
    const node = likeliestNode(BODY_FILLER, null);
    expect(steadySlowdown(BODY_FILLER, node, 20)).toBe(1);
    // design MODEL §2: 2.1 × from 20 to 10 °C
    expect(steadySlowdown(BODY_FILLER, node, 10)).toBeGreaterThan(2);
    expect(steadySlowdown(BODY_FILLER, node, 10)).toBeLessThan(2.25);
    expect(steadySlowdown(BODY_FILLER, node, 30)).toBeLessThan(0.6);
  });

  it('of air in which it never cures counts twelve hours', () => {
    const node = likeliestNode(BODY_FILLER, null);
    const cardMin = solveBatch(BODY_FILLER, BODY_FILLER.constants, {
      substrate: 'steel',
      thicknessMm: 1,
      hardenerPct: 2,
      airC: [[0, 20]],
      humidityPct: [[0, 50]],
    }).testMin;
    // The node's constants are the quick fit's, within its tolerance of the card's own.
    expect(steadySlowdown(BODY_FILLER, node, -40)).toBeCloseTo(720 / Number(cardMin), 1);
  });
});

describe('what a warmer morning takes', () => {
  const before = jobOf();
  const after = jobOf(heatBay(COLD, { bayId: 'bay-1', spells, heatC: 18 }));
  const nodes = productNodes(BODY_FILLER, null);
  const taken = (addedMin: number, to = after): number[] =>
    takenFrom({ addedMin, card: BODY_FILLER, nodes, before, after: to });

  it('is most of the minutes, never more than all at the likeliest, and nothing where nothing changes', () => {
    const [likeliest = NaN] = taken(30);
    expect(likeliest).toBeGreaterThan(20);
    expect(likeliest).toBeLessThan(30);
    expect(taken(30, before)).toEqual(nodes.map(() => 0));
    const all = jobOf(baysOf({ 'bay-1': steadyAir(25, 50, 720) }));
    expect(taken(30, all)[0]).toBe(30);
    expect(takenFrom({ addedMin: 5, card: BODY_FILLER, nodes, before: all, after: all })[0]).toBe(0);
  });

  it('grows with the temperature', () => {
    const at = (heatC: number): number =>
      taken(30, jobOf(heatBay(COLD, { bayId: 'bay-1', spells, heatC })))[0] as number;
    expect(at(9)).toBeCloseTo(0, 6);
    expect(at(14)).toBeGreaterThan(at(11));
    expect(at(20)).toBeGreaterThan(at(17));
  });

  it('has a range within 3 % of 2000 draws of scale and energy', () => {
    // What was added does not bound it here: the spread itself is looked at.
    const range = takenRange([{ cardId: 'body-filler', addedMin: 1000, takenMin: taken(30) }], nodes);
    const draw = drawsFrom(5);
    const likeliest = likeliestNode(BODY_FILLER, null);
    const scaleUp = 30 / takenAt(likeliest);
    const brute = Array.from({ length: 2000 }, () => {
      const card = { ...BODY_FILLER, activationKJPerMol: 46 + 8 * draw.normal() };
      const constants = recalibrate(card) ?? BODY_FILLER.constants;
      return (
        scaleUp * takenAt({ card, constants, timeScale: Math.exp(0.12 * draw.normal()), weight: 1 }, true)
      );
    }).toSorted((a, b) => a - b);
    expect(Math.abs(range.p10Min / Number(brute[200]) - 1)).toBeLessThan(0.03);
    expect(Math.abs(range.p50Min / Number(brute[1000]) - 1)).toBeLessThan(0.03);
    expect(Math.abs(range.p90Min / Number(brute[1800]) - 1)).toBeLessThan(0.03);
  });

  /** Minutes that one way of the product loses, by the solver alone. */
  function takenAt(node: ProductNode, isDrawn = false): number {
    const minOf = (job: FilmJob): number =>
      solveBatch(node.card, node.constants, { ...job, timeScale: node.timeScale }).testMin ?? 720;
    const { substrate, thicknessMm, hardenerPct } = before;
    const atCard = { substrate, thicknessMm, hardenerPct, airC: [[0, 20]], humidityPct: [[0, 50]] } as const;
    const cardMin = minOf(atCard);
    const added = (job: FilmJob): number => Math.max(0, minOf(job) - cardMin);
    return isDrawn ? added(before) - added(after) : added(before);
  }
});

describe('a sum over batches', () => {
  const nodes = [{ weight: 2 / 3 }, { weight: 1 / 6 }, { weight: 1 / 6 }];
  const batch = (cardId: string, ...takenMin: number[]) => ({ cardId, addedMin: 100, takenMin });

  it('moves together within a product and apart between products', () => {
    const one = takenRange([batch('a', 10, 7, 13), batch('a', 10, 7, 13)], nodes);
    const two = takenRange([batch('a', 10, 7, 13), batch('b', 10, 7, 13)], nodes);
    expect(one.p50Min).toBeCloseTo(two.p50Min, 0);
    expect(one.p90Min - one.p10Min).toBeGreaterThan(1.3 * (two.p90Min - two.p10Min));
  });

  it('is never more than was added', () => {
    const nearlyAll = { cardId: 'a', addedMin: 11, takenMin: [10, 7, 13] };
    const { p10Min, p50Min, p90Min } = takenRange([nearlyAll, nearlyAll], nodes);
    expect(p90Min).toBe(22);
    expect(p10Min).toBeLessThan(p50Min);
    expect(p50Min).toBeLessThan(22);
  });

  it('is nothing of nothing, and exact where nothing is uncertain', () => {
    expect(takenRange([], nodes)).toEqual({ p10Min: 0, p50Min: 0, p90Min: 0 });
    expect(takenRange([batch('a', 0, 0, 0)], nodes)).toEqual({ p10Min: 0, p50Min: 0, p90Min: 0 });
    const sure = takenRange([batch('a', 5, 5, 5)], nodes);
    for (const minutes of Object.values(sure)) expect(minutes).toBeCloseTo(5, 9);
  });
});
