// What a bay's air cost, asked of a whole shop in memory: the sums agree with the batches, and bad questions have answers.
import { describe, expect, it } from 'vitest';
import { readCost } from '../../server/application/readCost.ts';
import type { CostQuestion } from '../../server/application/ports/doors.ts';
import { readBatches } from '../../server/application/readSnapshot.ts';
import { recordReading } from '../../server/application/recordReading.ts';
import { type CostWire, costSchema, type Instant, instantFromIso } from '../../server/contract/index.ts';
import { act, openTestShop, sayAir, start, type TestShop } from '../support/testShop.ts';

const PLAIN: CostQuestion = {
  fromAt: null,
  toAt: null,
  cardId: null,
  heatFrom: '6',
  heatTo: '10:00',
  heatC: 18,
};

async function costOf(test: TestShop, question: Partial<CostQuestion> = {}): Promise<CostWire> {
  const answer = await readCost(test.shop, 'bay-1', { ...PLAIN, ...question });
  if (answer.kind !== 'done') throw new Error(answer.kind);
  return costSchema.parse(answer.cost);
}

/** Two mornings at 11 °C with a batch each; readings each five minutes from five to eleven. */
async function playMornings(): Promise<TestShop> {
  const test = await openTestShop();
  for (const day of [12, 13]) {
    for (let atMin = 0; atMin <= 360; atMin += 5) {
      const at = ((instantFromIso(`2026-01-${day}T05:00:00Z`) as number) + atMin * 60_000) as Instant;
      if (at > test.clock.nowAt()) await test.clock.moveTo(at);
      await recordReading(test.shop, [
        {
          index: 0,
          sensorId: 'bay-1-air',
          at,
          airTemperatureC: 11 + (atMin > 240 ? 6 : 0),
          relativeHumidityPct: 80,
        },
      ]);
      if (atMin === 120) await start(test, { panel: `Door ${day}` });
    }
  }
  await test.clock.moveBy(1);
  return test;
}

const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);

describe('the cost of a bay', () => {
  it('is what its batches took above the card, by day, week, cause and hour', async () => {
    const test = await playMornings();
    const cost = await costOf(test);
    const { batches } = await readBatches(test.shop, { openOnly: false });
    const wanted = sumOf(
      batches.map(({ estimate }) => Number(estimate?.expectedMin) - Number(estimate?.cardMin)),
    );
    expect(wanted).toBeGreaterThan(20);
    expect(cost.addedMin).toBeCloseTo(wanted, 9);
    expect(cost.batchCount).toBe(2);
    expect(cost.days).toHaveLength(7);
    expect(sumOf(cost.days.map(({ addedMin }) => addedMin))).toBeCloseTo(wanted, 9);
    expect(cost.days.slice(-2).map(({ date, batchCount }) => [date, batchCount])).toEqual([
      ['2026-01-12', 1],
      ['2026-01-13', 1],
    ]);
    expect(sumOf(cost.weeks.map(({ addedMin }) => addedMin))).toBeCloseTo(wanted, 9);
    expect(sumOf(cost.causes.map(({ minutes }) => minutes))).toBeCloseTo(wanted, 6);
    expect(sumOf(cost.causes.map(({ share }) => share))).toBeCloseTo(1, 9);
    expect(cost.causes[0]?.code).toBe('heating-off');
    expect(sumOf(cost.map.map(({ addedMin }) => addedMin))).toBeCloseTo(wanted, 6);
    const spent = cost.map.filter(({ addedMin }) => addedMin > 0);
    expect(new Set(spent.map(({ weekday }) => weekday))).toEqual(new Set(['Mon', 'Tue']));
    expect(spent.every(({ hour }) => hour === '07:00')).toBe(true);
    expect(cost.batches.map(({ panel }) => panel)).toEqual(['Door 12', 'Door 13']);
    expect(cost.humidMin).toBeGreaterThan(500);
  });

  it('has a map of 168 cells, slow where it was cold and empty where nobody measured', async () => {
    const cost = await costOf(await playMornings());
    expect(cost.map).toHaveLength(168);
    const cell = (weekday: string, hour: string) =>
      cost.map.find((one) => one.weekday === weekday && one.hour === hour)?.slowdown;
    // Twice per ten degrees (the trade's rule): nine degrees colder is 1.87 times as long.
    expect(cell('Mon', '06:00')).toBeGreaterThan(1.75);
    expect(cell('Mon', '06:00')).toBeLessThan(2.1);
    expect(cell('Tue', '10:00')).toBeLessThan(1.4);
    expect(cell('Wed', '06:00')).toBeNull();
    expect(cost.slowdown).toBeGreaterThan(1);
    expect(cost.slowdown).toBeCloseTo(Number(cost.expectedMin) / Number(cost.cardMin), 9);
  });

  it('shrinks the more the earlier and the warmer the bay is heated, within its range', async () => {
    const test = await playMornings();
    const taken = async (question: Partial<CostQuestion>): Promise<number> => {
      const { whatIf } = await costOf(test, question);
      const { p10Min = NaN, p50Min = NaN, p90Min = NaN } = whatIf?.taken ?? {};
      expect(p10Min <= p50Min && p50Min <= p90Min).toBe(true);
      expect(p50Min).toBeLessThanOrEqual(whatIf?.addedMin ?? NaN);
      return p50Min;
    };
    const warm = await taken({});
    expect(warm).toBeGreaterThan(5);
    expect(await taken({ heatC: 14 })).toBeLessThan(warm);
    expect(await taken({ heatFrom: '07:10' })).toBeLessThan(warm);
    expect(await taken({ heatFrom: '12', heatTo: '14' })).toBe(0);
    expect((await costOf(test)).whatIf).toMatchObject({
      fromDate: '2026-01-07',
      toDate: '2026-01-13',
      heatFrom: '06:00',
      heatTo: '10:00',
      batchCount: 2,
    });
  });

  it('counts only the span, the bay and batches that were not scrapped', async () => {
    const test = await playMornings();
    const monday = await costOf(test, { toAt: instantFromIso('2026-01-13T00:00:00Z') });
    expect(monday.batchCount).toBe(1);
    expect(monday.batches[0]?.untilAt).toBe('2026-01-13T00:00:00.000Z');
    const other = await readCost(test.shop, 'bay-2', PLAIN);
    expect(other).toMatchObject({
      kind: 'done',
      cost: { addedMin: 0, batchCount: 0, slowdown: null, readingMin: 0, whatIf: null, batches: [] },
    });
    await act(test, monday.batches[0]?.id ?? '', { type: 'scrap' });
    expect((await costOf(test)).batchCount).toBe(1);
  });

  it('says how many batches have no time', async () => {
    const test = await openTestShop();
    await start(test);
    await test.clock.moveBy(1);
    expect(await costOf(test)).toMatchObject({ batchCount: 0, untimedCount: 1, addedMin: 0, whatIf: null });
    await sayAir(test, 20);
    await test.clock.moveBy(1);
    expect((await costOf(test)).batchCount).toBe(1);
  });

  it('is asked of known bays and products only', async () => {
    const test = await openTestShop();
    expect(await readCost(test.shop, 'nowhere', PLAIN)).toEqual({ kind: 'unknown-bay' });
    expect(await readCost(test.shop, 'bay-1', { ...PLAIN, cardId: 'nothing' })).toEqual({
      kind: 'unknown-card',
    });
    expect((await costOf(test, { cardId: 'winter-filler' })).cardId).toBe('winter-filler');
  });

  it('lets other turns go first as soon as a slice is used up', async () => {
    let elapsedMs = 0;
    let breathCount = 0;
    const test = await playMornings();
    const clock = {
      ...test.shop.clock,
      elapsedMs: () => (elapsedMs += 7),
      breathe: () => {
        breathCount += 1;
        return Promise.resolve();
      },
    };
    const toAt = test.clock.nowAt();
    const fromAt = (toAt - 92 * 86_400_000) as Instant;
    const answer = await readCost({ ...test.shop, clock }, 'bay-1', { ...PLAIN, fromAt, toAt });
    expect(answer.kind).toBe('done');
    // At seven milliseconds a look at the clock, every second part ends a slice: a quarter of a year has over a thousand.
    expect(breathCount).toBeGreaterThan(300);
  });
});
