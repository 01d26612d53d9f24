import { describe, expect, it } from 'vitest';
import {
  type BatchTruth,
  isGelled,
  isPowdering,
  makeBatchTruth,
  stepBatchTruth,
} from '../../../sensors-sim/film/batchTruth.ts';
import { GEL_SHARE, hardnessShareOf, paceRatioAt, SAND_SHARE } from '../../../sensors-sim/film/maturity.ts';
import { coldMorning } from '../../../sensors-sim/scenarios/coldMorning.ts';
import type { ProductPlan } from '../../../sensors-sim/scenarios/scenario.ts';

const [filler] = coldMorning.products as [ProductPlan];

interface Trial {
  readonly airC?: number;
  readonly bodyC?: number;
  readonly thicknessMm?: number;
  readonly hardenerShare?: number;
  readonly lampWPerM2?: number;
  readonly product?: ProductPlan;
  readonly seed?: number;
}

function mixed(trial: Trial): BatchTruth {
  const { airC = 20, bodyC = airC, thicknessMm = 1, hardenerShare = 1, product = filler, seed } = trial;
  const coat = { cardId: product.cardId, thicknessMm, underlayMm: 0, hardenerShare };
  const mix = {
    seed: seed ?? 1,
    name: 'a',
    product,
    coat,
    substrate: 'steel',
    isWeighed: true,
    relativeHumidityPct: 50,
  } as const;
  const truth = makeBatchTruth(mix, { airC, bodyC, isAirMoving: false });
  if (seed !== undefined) return truth;
  // Without a seed: a mix exactly as meant.
  const exact = { paceRatio: hardenerShare ** 0.75 };
  return {
    ...truth,
    build: { ...truth.build, ...exact, thicknessMm },
    edge: { ...truth.edge, ...exact, thicknessMm: Math.min(0.5, thicknessMm) },
  };
}

/** Minutes until it gels and until it powders, and every hardness on the way. */
function cure(trial: Trial): { gelMin: number; powdersMin: number; hardness: number[]; peakC: number } {
  const { airC = 20, lampWPerM2 = 0 } = trial;
  let truth = mixed(trial);
  const hardness: number[] = [];
  let gelMin = Infinity;
  let peakC = -Infinity;
  for (let step = 1; step < 6 * 60 * 8; step += 1) {
    truth = stepBatchTruth(truth, { airC, isAirMoving: false, lampWPerM2, stepS: 10 });
    hardness.push(hardnessShareOf(truth.edge.product, truth.edgeNow.doseMin));
    peakC = Math.max(peakC, truth.buildNow.filmC);
    if (gelMin === Infinity && isGelled(truth)) gelMin = step / 6;
    if (isPowdering(truth)) return { gelMin, powdersMin: step / 6, hardness, peakC };
  }
  return { gelMin, powdersMin: Infinity, hardness, peakC };
}

describe('the law of ripening', () => {
  it('counts a minute as one at 20 °C and about half at 10 °C', () => {
    expect(paceRatioAt(20)).toBe(1);
    expect(paceRatioAt(10)).toBeGreaterThan(0.43);
    expect(paceRatioAt(10)).toBeLessThan(0.53);
  });

  it('does more a degree where its data say so', () => {
    const steep = { frozenC: -72, paceK: 700 };
    expect(paceRatioAt(20, steep)).toBe(1);
    expect(paceRatioAt(10, steep)).toBeLessThan(paceRatioAt(10));
    expect(paceRatioAt(30, steep)).toBeGreaterThan(paceRatioAt(30));
  });

  it('goes through the product’s two measured points', () => {
    expect(hardnessShareOf(filler, filler.gelDoseMin)).toBeCloseTo(GEL_SHARE, 9);
    expect(hardnessShareOf(filler, filler.sandDoseMin)).toBeCloseTo(SAND_SHARE, 9);
    expect(hardnessShareOf(filler, 0)).toBe(0);
  });
});

describe('a film', () => {
  it('only ever gets harder', () => {
    const { hardness } = cure({ airC: 12 });
    expect(hardness.length).toBeGreaterThan(100);
    expect(hardness.every((each, index) => index === 0 || each > (hardness[index - 1] ?? 0))).toBe(true);
  });

  it.each(coldMorning.products.map((product) => [product.cardId, product] as const))(
    'takes longer the colder it is: %s',
    (_, product) => {
      const temperatures = [2, 6, 10, 15, 20, 25, 30];
      const cures = temperatures.map((airC) => cure({ airC, product }));
      for (const times of [cures.map(({ gelMin }) => gelMin), cures.map(({ powdersMin }) => powdersMin)]) {
        expect(times).toEqual(times.toSorted((a, b) => b - a));
        expect(new Set(times).size).toBe(times.length);
      }
    },
  );

  it('is about as quick as its tin says in a warm shop', () => {
    const { gelMin, powdersMin } = cure({});
    expect(gelMin).toBeGreaterThan(4);
    expect(gelMin).toBeLessThan(6.5);
    expect(powdersMin).toBeGreaterThan(16);
    expect(powdersMin).toBeLessThan(21);
  });

  it('warms itself the more the thicker it is', () => {
    expect(cure({ thicknessMm: 4 }).peakC).toBeGreaterThan(cure({ thicknessMm: 1 }).peakC + 3);
  });

  it('waits on a car that came in cold', () => {
    expect(cure({ airC: 15, bodyC: -3 }).powdersMin).toBeGreaterThan(cure({ airC: 15 }).powdersMin * 1.1);
  });

  it('is quicker under a lamp but loads the paper while it is hot', () => {
    const lit = cure({ airC: 10, lampWPerM2: 400 });
    expect(lit.powdersMin).toBeLessThan(cure({ airC: 10 }).powdersMin / 2);
    expect(cure({ airC: 10, lampWPerM2: 900 }).powdersMin).toBe(Infinity);
  });

  it('comes far too late with hardly any hardener', () => {
    expect(cure({ hardenerShare: 0.15 }).powdersMin).toBeGreaterThan(60);
  });

  it('gives a thumb that feels it greener a later yes', () => {
    let truth = mixed({});
    while (!isPowdering(truth))
      truth = stepBatchTruth(truth, { airC: 20, isAirMoving: false, lampWPerM2: 0, stepS: 10 });
    expect(isPowdering(truth, 0.9)).toBe(false);
  });

  it('varies from one mix to the next, by its seed', () => {
    const times = Array.from({ length: 30 }, (_, seed) => cure({ seed }).powdersMin);
    expect(cure({ seed: 3 }).powdersMin).toBe(times[3]);
    expect(Math.max(...times) / Math.min(...times)).toBeGreaterThan(1.15);
    expect(Math.max(...times) / Math.min(...times)).toBeLessThan(2);
  });
});
