import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { isPowdering, makeBatchTruth, stepBatchTruth } from '../../../sensors-sim/film/batchTruth.ts';
import { changedProduct } from '../../../sensors-sim/scenarios/changedProduct.ts';
import { coldMorning } from '../../../sensors-sim/scenarios/coldMorning.ts';
import { coldSnap } from '../../../sensors-sim/scenarios/coldSnap.ts';
import { driftingSensor } from '../../../sensors-sim/scenarios/driftingSensor.ts';
import { humidWeek } from '../../../sensors-sim/scenarios/humidWeek.ts';
import { lampWork } from '../../../sensors-sim/scenarios/lampWork.ts';
import { nightSetback } from '../../../sensors-sim/scenarios/nightSetback.ts';
import type { ProductPlan, Scenario } from '../../../sensors-sim/scenarios/scenario.ts';
import { scenarioByName, scenarios } from '../../../sensors-sim/scenarios/scenarioByName.ts';
import { windyDoor } from '../../../sensors-sim/scenarios/windyDoor.ts';
import { commandsOf, diaryOf, medianOf, readingsOf, trueTimesOf, truthsOf } from '../playDiaries.ts';

const named = scenarios.map((scenario) => [scenario.name, scenario] as const);
const ofTwoBays = named.filter(([name]) => name !== coldMorning.name);

/** Minutes until one mix powders everywhere in air that stays as it is. */
function readyMin(
  product: ProductPlan,
  {
    airC = 20,
    seed = 1,
    relativeHumidityPct = 50,
  }: { airC?: number; seed?: number; relativeHumidityPct?: number },
): number {
  const coat = { cardId: product.cardId, thicknessMm: 2, underlayMm: 0, hardenerShare: 1 };
  const mix = {
    seed,
    name: 'a',
    product,
    coat,
    substrate: 'steel',
    isWeighed: true,
    relativeHumidityPct,
  } as const;
  let truth = makeBatchTruth(mix, { airC, bodyC: airC, isAirMoving: false });
  for (let step = 1; step < 6 * 60 * 12; step += 1) {
    truth = stepBatchTruth(truth, { airC, isAirMoving: false, lampWPerM2: 0, stepS: 10 });
    if (isPowdering(truth)) return step / 6;
  }
  return Infinity;
}

describe.each(named)('two working days of %s without a server', (_, scenario) => {
  const lines = diaryOf(scenario, { forDays: 2 });
  const starts = commandsOf(lines).filter(({ type }) => type === 'startBatch');

  it('tell the true time of each of at least fifteen batches, once', () => {
    const truths = truthsOf(lines);
    expect(truths.length).toBeGreaterThanOrEqual(15);
    expect(truths.map(({ batch }) => batch).toSorted()).toEqual(starts.map(({ batch }) => batch).toSorted());
    expect(trueTimesOf(lines).length).toBeGreaterThanOrEqual(15);
  });

  it('bring checks of both outcomes, and sanding after powders only', () => {
    const acts = commandsOf(lines);
    const outcomes = acts.flatMap((act) => (act.type === 'recordCheck' ? [act.outcome] : []));
    expect(new Set(outcomes)).toEqual(new Set(['gums', 'powders']));
    for (const { batch, at } of acts.filter(({ type }) => type === 'finishSanding')) {
      const before = acts.filter((act) => act.batch === batch && act.at < at);
      expect(before[0]?.type).toBe('startBatch');
      expect(before.at(-1)).toMatchObject({ type: 'recordCheck', outcome: 'powders' });
    }
  });

  it('have air that an oven or a freezer has not', () => {
    for (const line of lines.filter(({ kind }) => kind === 'reading')) {
      if (line.kind !== 'reading') continue;
      expect(line.airTemperatureC).toBeGreaterThan(-20);
      expect(line.airTemperatureC).toBeLessThan(32);
    }
  });
});

describe.each(ofTwoBays)('the shop of %s', (_, scenario) => {
  const config = JSON.parse(
    readFileSync(resolve(import.meta.dirname, '../../../config/shop.example.json'), 'utf8'),
  ) as {
    bays: { id: string }[];
    sensors: { id: string; bayId: string }[];
    lamps: { id: string; distances: { distanceCm: number }[] }[];
  };

  it('has the bays, the sensors and the lamp of the example config', () => {
    expect(scenario.rooms.map(({ bayId }) => bayId)).toEqual(config.bays.map(({ id }) => id));
    expect(scenario.sensors.map(({ sensorId, roomId }) => ({ id: sensorId, bayId: roomId }))).toEqual(
      config.sensors,
    );
    const lamp = config.lamps.find(({ id }) => id === scenario.lamp.lampId);
    expect(lamp?.distances.map(({ distanceCm }) => distanceCm)).toContain(scenario.lamp.distanceCm);
  });

  it('ripens twice as quick within 8.5 to 11.5 K, about 15 °C', () => {
    const [product] = scenario.products as [ProductPlan];
    const doublingK = (10 * Math.LN2) / Math.log(readyMin(product, { airC: 10 }) / readyMin(product, {}));
    expect(doublingK).toBeGreaterThan(8.5);
    expect(doublingK).toBeLessThan(11.5);
  });

  it('scatters from batch to batch as much as its data say', () => {
    const [product] = scenario.products as [ProductPlan];
    const seeds = Array.from({ length: 400 }, (__, seed) => seed);
    const logs = seeds.map((seed) => Math.log(readyMin(product, { seed })));
    const mean = logs.reduce((sum, each) => sum + each, 0) / logs.length;
    const sd = Math.sqrt(logs.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (logs.length - 1));
    // Weighed hardener adds 0.75 × 0.03. Sampling error of a standard deviation of n normal numbers: sd / √(2 (n − 1)),
    // from memory; three of them are let through.
    const expected = Math.hypot(product.batchSd, 0.75 * 0.03);
    expect(Math.abs(sd / expected - 1)).toBeLessThan(3 / Math.sqrt(2 * 399));
  });
});

describe('a month of working days', () => {
  const lines = diaryOf(nightSetback, { forDays: 28 });
  const dates = commandsOf(lines)
    .filter(({ type }) => type === 'startBatch')
    .map(({ at }) => at.slice(0, 10));
  const days = [...new Set(dates)];

  it('brings about ten batches a bay on each of twenty days, and none at weekends', () => {
    expect(days.length).toBe(20);
    const counts = days.map((date) => dates.filter((each) => each === date).length);
    expect(dates.length / 40).toBeGreaterThan(8);
    expect(dates.length / 40).toBeLessThan(13);
    expect(new Set(counts).size).toBeGreaterThan(4);
    expect(days.every((date) => new Date(`${date}T12:00:00Z`).getUTCDay() % 6 !== 0)).toBe(true);
  });
});

describe('what each scenario is about', () => {
  const workC = (scenario: Scenario, { fromDate = '2026-01-12', sensorId = 'bay-1-air' } = {}): number[] =>
    readingsOf(diaryOf(scenario, { forDays: 1, quietDays: 1, fromDate }), sensorId)
      .filter(({ at }) => at.slice(11, 13) >= '07' && at.slice(11, 13) < '16')
      .map(({ airTemperatureC }) => airTemperatureC);
  const medianMin = (scenario: Scenario, fromDate: string): number =>
    medianOf(trueTimesOf(diaryOf(scenario, { forDays: 2, fromDate })).map((each) => each.readyMin));

  it('cold snap: later true times the longer it lasts, and later than in warm weeks', () => {
    const [mildMin, coldMin] = ['2026-01-15', '2026-01-22'].map((date) => medianMin(coldSnap, date));
    expect(coldMin).toBeGreaterThan((mildMin ?? NaN) * 1.3);
    expect(mildMin).toBeGreaterThan(medianMin(humidWeek, '2026-01-15') * 1.1);
  });

  it('cold snap: the heaters stay below their target all day', () => {
    expect(Math.max(...workC(coldSnap, { fromDate: '2026-01-23' }))).toBeLessThan(15);
  });

  it('night setback: a deep cold start and a warm noon', () => {
    const temperatures = workC(nightSetback);
    expect(temperatures[0]).toBeLessThan(14);
    expect(medianOf(temperatures)).toBeGreaterThan(18);
  });

  it('windy door: the first bay falls by kelvins within minutes, the second less often', () => {
    const falls = (sensorId: string): number => {
      const temperatures = workC(windyDoor, { sensorId });
      return temperatures.filter((each, index) => (temperatures[index - 5] ?? each) - each > 2).length;
    };
    expect(falls('bay-1-air')).toBeGreaterThan(20);
    expect(falls('bay-1-air')).toBeGreaterThan(1.5 * falls('bay-2-air'));
  });

  it('humid week: wet air, which slows the cure by 0.8 % for ten per cent', () => {
    const humidityPct = readingsOf(diaryOf(humidWeek, { forDays: 1, quietDays: 1 }), 'bay-1-air').map(
      (line) => line.relativeHumidityPct,
    );
    expect(medianOf(humidityPct)).toBeGreaterThan(65);
    const [product] = humidWeek.products as [ProductPlan];
    const fine = { ...product, sandDoseMin: product.sandDoseMin * 20, gelDoseMin: product.gelDoseMin * 20 };
    const ratio = readyMin(fine, { relativeHumidityPct: 80 }) / readyMin(fine, {});
    expect(ratio).toBeGreaterThan(1.022);
    expect(ratio).toBeLessThan(1.027);
  });

  it('lamp work: most batches get a lamp', () => {
    const acts = commandsOf(diaryOf(lampWork, { forDays: 3 }));
    const lit = new Set(acts.filter(({ type }) => type === 'switchLamp').map(({ batch }) => batch));
    expect(lit.size).toBeGreaterThan(acts.filter(({ type }) => type === 'startBatch').length * 0.6);
  });

  it('drifting sensor: it goes off over days, is dead for hours, and is right again; the other one is fine', () => {
    const sound = {
      ...driftingSensor,
      sensors: driftingSensor.sensors.map((one) => ({ ...one, fault: null })),
    };
    const inputs = { forDays: 9, quietDays: 9 };
    const [drifting, true_] = [driftingSensor, sound].map((scenario) => diaryOf(scenario, inputs)) as [
      ReturnType<typeof diaryOf>,
      ReturnType<typeof diaryOf>,
    ];
    expect(readingsOf(drifting, 'bay-1-air')).toEqual(readingsOf(true_, 'bay-1-air'));
    const trueC = new Map(readingsOf(true_, 'bay-2-air').map((line) => [line.at, line.airTemperatureC]));
    const told = readingsOf(drifting, 'bay-2-air');
    const offK = (date: string): number => {
      const day = told.filter(({ at }) => at.startsWith(date));
      return (
        day.reduce((sum, line) => sum + line.airTemperatureC - (trueC.get(line.at) ?? NaN), 0) / day.length
      );
    };
    expect(offK('2026-01-13')).toBe(0);
    expect(offK('2026-01-15')).toBeGreaterThan(0.3);
    expect(offK('2026-01-18')).toBeGreaterThan(1.2);
    expect(offK('2026-01-18')).toBeLessThan(2);
    expect(offK('2026-01-20')).toBe(0);
    const silent = [...trueC.keys()].filter((at) => !told.some((line) => line.at === at));
    expect(silent[0]?.slice(0, 16)).toBe('2026-01-19T08:30');
    expect(silent.at(-1)?.slice(0, 16)).toBe('2026-01-19T13:59');
    expect(silent).toHaveLength(330);
  });

  it('changed product: the same mix takes a quarter longer from its day on', () => {
    const same = {
      ...changedProduct,
      products: changedProduct.products.map((one) => ({ ...one, changes: [] })),
    };
    // The day of the change is a Tuesday.
    const inputs = { forDays: 22, quietDays: 19, fromDate: '2026-01-14' };
    const before = new Map(
      trueTimesOf(diaryOf(same, inputs)).map(({ start, readyMin: min }) => [
        `${start.repairOrder} ${start.mixedAt}`,
        min,
      ]),
    );
    const ratios = trueTimesOf(diaryOf(changedProduct, inputs)).flatMap(({ start, readyMin: min }) => {
      const known = before.get(`${start.repairOrder} ${start.mixedAt}`);
      return known === undefined ? [] : [{ start, ratio: min / known }];
    });
    const changed = ratios.filter(({ start }) => start.cardId === 'body-filler' && start.at >= '2026-02-03');
    const others = ratios.filter((one) => !changed.includes(one));
    expect(changed.length).toBeGreaterThan(4);
    expect(medianOf(changed.map(({ ratio }) => ratio))).toBeGreaterThan(1.2);
    expect(medianOf(changed.map(({ ratio }) => ratio))).toBeLessThan(1.3);
    expect(others.length).toBeGreaterThan(10);
    expect(medianOf(others.map(({ ratio }) => ratio))).toBe(1);
  });
});

describe('a scenario', () => {
  it('is found by its name, which no other has', () => {
    expect(new Set(scenarios.map(({ name }) => name)).size).toBe(scenarios.length);
    expect(new Set(scenarios.map(({ repairOrderPrefix }) => repairOrderPrefix)).size).toBe(scenarios.length);
    for (const scenario of scenarios) expect(scenarioByName(scenario.name)).toBe(scenario);
    expect(scenarioByName('warm-evening')).toBeNull();
  });
});
