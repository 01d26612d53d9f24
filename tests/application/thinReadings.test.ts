// Old readings as means: what was learned, what it cost and what the records say keep their meaning.
import { describe, expect, it } from 'vitest';
import { readCost } from '../../server/application/readCost.ts';
import { readRepairOrder } from '../../server/application/readRecords.ts';
import { readReliability } from '../../server/application/readReliability.ts';
import { readCards } from '../../server/application/readSnapshot.ts';
import { keepThin, thinReadings } from '../../server/application/thinReadings.ts';
import { PortFailure } from '../../server/application/ports/portFailure.ts';
import { type CostWire, type Instant, instantFromMs } from '../../server/contract/index.ts';
import { type JumpingClock, makeJumpingClock } from '../support/jumpingClock.ts';
import { act, openTestShop, OPENS_AT, sayAir, start, type TestShop } from '../support/testShop.ts';

const MIN_MS = 60_000;
const DAY_MIN = 24 * 60;

/** A morning of readings each minute, with three batches of one order. */
async function playMorning(): Promise<TestShop> {
  const test = await openTestShop();
  const pending: { id: string; dueMin: number }[] = [];
  for (let minute = 0; minute < 240; minute += 1) {
    await test.clock.moveTo(instantFromMs(OPENS_AT + minute * MIN_MS));
    const airTemperatureC = 14 + minute / 60 + 0.3 * Math.sin(minute / 5);
    await sayAir(test, airTemperatureC, { relativeHumidityPct: 60 + Math.sin(minute / 9) });
    if (minute % 70 === 10 && minute < 160) {
      const { id } = await start(test, { repairOrder: '4711' });
      pending.push({ id, dueMin: minute + 55 });
    }
    for (const { id, dueMin } of pending) {
      if (dueMin === minute) await act(test, id, { type: 'recordCheck', outcome: 'powders', firstTry: true });
      if (dueMin + 5 === minute) await act(test, id, { type: 'finishSanding' });
    }
  }
  return test;
}
async function costOf({ shop }: TestShop): Promise<CostWire> {
  const question = {
    fromAt: OPENS_AT,
    toAt: instantFromMs(OPENS_AT + 240 * MIN_MS),
    cardId: null,
    heatFrom: '6',
    heatTo: '10',
    heatC: 18,
  };
  const answer = await readCost(shop, 'bay-1', question);
  if (answer.kind !== 'done') throw new Error(answer.kind);
  return answer.cost;
}

/** Steps rest between each other: the clock has to go on meanwhile. */
async function thinAll(test: TestShop, beforeAt: Instant): Promise<number> {
  const thinning = thinReadings(test.shop, beforeAt);
  await test.clock.moveBy(5);
  return thinning;
}

describe('readings that became means', () => {
  it('change neither lessons nor promises kept nor what was added, and records by less than a sensor errs', async () => {
    const test = await playMorning();
    const before = {
      cards: await readCards(test.shop),
      reliability: await readReliability(test.shop),
      cost: await costOf(test),
      order: await readRepairOrder(test.shop, '4711'),
    };
    expect(before.cards.some(({ learned }) => learned !== null)).toBe(true);
    await test.clock.moveBy(70);
    await sayAir(test, 20, { relativeHumidityPct: 50 });
    const removedCount = await thinAll(test, instantFromMs(OPENS_AT + 240 * MIN_MS));
    // Of each ten minutes one of ten stays, temperature and humidity each.
    expect(removedCount).toBe(2 * 240 * 0.9);
    expect(await readCards(test.shop)).toEqual(before.cards);
    expect(await readReliability(test.shop)).toEqual(before.reliability);
    const cost = await costOf(test);
    const { addedMin, batchCount, untimedCount, days, weeks, batches } = cost;
    expect({ addedMin, batchCount, untimedCount, days, weeks, batches }).toEqual({
      addedMin: before.cost.addedMin,
      batchCount: before.cost.batchCount,
      untimedCount: before.cost.untimedCount,
      days: before.cost.days,
      weeks: before.cost.weeks,
      batches: before.cost.batches,
    });
    const airOf = (order: typeof before.order) =>
      (order?.batches ?? []).map(({ air }) => Object.values(air as Record<string, number | null>));
    const order = await readRepairOrder(test.shop, '4711');
    expect(order?.batches.map(({ id, mixedAt }) => [id, mixedAt])).toEqual(
      before.order?.batches.map(({ id, mixedAt }) => [id, mixedAt]),
    );
    const [was, is] = [airOf(before.order).flat(), airOf(order).flat()];
    expect(is).toHaveLength(was.length);
    for (const [index, value] of is.entries())
      expect(Math.abs((value ?? 0) - (was[index] ?? 0))).toBeLessThan(0.6);
  });

  /** For how many days readings were to be kept whole, at each time that older ones were to go. */
  async function watchThinning(clock: JumpingClock): Promise<number[]> {
    const keptDays: number[] = [];
    const { shop } = await openTestShop({ clock });
    const thin = (beforeAt: Instant) => {
      keptDays.push((clock.nowAt() - beforeAt) / (DAY_MIN * MIN_MS));
      return Promise.resolve({ removedCount: 0, isDone: true });
    };
    keepThin({ ...shop, air: { ...shop.air, thin } }, { keepDays: 400, quietMin: 150 });
    return keptDays;
  }

  it('come six hours after the start and then each night, from before as many days as are kept whole', async () => {
    const clock = makeJumpingClock(OPENS_AT);
    const keptDays = await watchThinning(clock);
    await clock.moveBy(355);
    expect(keptDays).toEqual([]);
    await clock.moveBy(10);
    expect(keptDays).toEqual([400]);
    await clock.moveBy(DAY_MIN);
    expect(keptDays).toEqual([400, 400]);
  });

  it('are not made by a clock that is a year ahead for some minutes, and go on when it was put right', async () => {
    const clock = makeJumpingClock(OPENS_AT);
    const keptDays = await watchThinning(clock);
    await clock.moveBy(370);
    expect(keptDays).toHaveLength(1);
    clock.jumpBy(401 * DAY_MIN);
    await clock.moveBy(5);
    clock.jumpBy(-401 * DAY_MIN);
    await clock.moveBy(5 * 60);
    expect(keptDays).toHaveLength(1);
    await clock.moveBy(70);
    expect(keptDays).toHaveLength(2);
  });

  it('are planned anew where the clock was ahead for a day', async () => {
    const clock = makeJumpingClock(OPENS_AT);
    const keptDays = await watchThinning(clock);
    clock.jumpBy(401 * DAY_MIN);
    await clock.moveBy(DAY_MIN);
    clock.jumpBy(-401 * DAY_MIN);
    keptDays.length = 0;
    await clock.moveBy(370);
    expect(keptDays).toHaveLength(1);
  });

  it('wait for the next day where the store fails', async () => {
    const test = await openTestShop();
    const failing = {
      ...test.shop,
      air: {
        ...test.shop.air,
        thin: () => Promise.reject(new PortFailure('air', 'thin', { isRetriable: true })),
      },
    };
    expect(await thinReadings(failing, OPENS_AT)).toBe(0);
  });
});
