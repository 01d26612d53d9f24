// The plan of a whole shop: order, a promise in danger, and what a lamp and a warmer bay would bring.
import { describe, expect, it } from 'vitest';
import { previewBatch } from '../../server/application/previewEstimate.ts';
import { readPlan } from '../../server/application/readPlan.ts';
import { type PlanEntryWire, planSchema } from '../../server/contract/index.ts';
import { instantAfter } from '../../server/domain/minutes.ts';
import { act, OPENS_AT, openTestShop, sayAir, start, type TestShop } from '../support/testShop.ts';

async function entriesOf({ shop }: TestShop): Promise<PlanEntryWire[]> {
  return planSchema.parse(await readPlan(shop)).entries;
}

/** Bay 1 at 11 °C, bay 2 at 22 °C, and a promise that the cold door panel cannot keep. */
async function coldShop(): Promise<TestShop> {
  const test = await openTestShop();
  await sayAir(test, 11);
  await sayAir(test, 22, { sensorId: 'bay-2-air' });
  return test;
}

describe('the plan', () => {
  it('is at the sequence of the ledger and follows what people do', async () => {
    const test = await coldShop();
    const { id } = await start(test, { repairOrder: '4711' });
    const { sequence, entries } = await readPlan(test.shop);
    expect(sequence).toBe(await test.shop.ledger.readHead());
    expect(entries).toMatchObject([
      { batchId: id, need: 'spread', repairOrder: '4711', slackMin: null, danger: null },
    ]);
    await act(test, id, { type: 'markSpread' });
    expect(await entriesOf(test)).toMatchObject([{ need: 'test' }]);
    await act(test, id, { type: 'scrap' });
    expect(await entriesOf(test)).toEqual([]);
  });

  it('says by how much a promise is missed and what would help, as previews do', async () => {
    const test = await coldShop();
    const { id, estimate } = await start(test, {
      promisedAt: instantAfter(OPENS_AT, 60),
      remainingWorkMin: 45,
    });
    await act(test, id, { type: 'markSpread' });
    const [entry] = await entriesOf(test);
    const p50Ms = Date.parse(String(estimate?.test.p50At));
    expect(entry?.danger?.kind).toBe('late');
    expect(entry?.danger?.byMin).toBeCloseTo((p50Ms - OPENS_AT) / 60_000 - 15, 1);
    const help = entry?.danger?.help ?? [];
    expect(help.map(({ kind }) => kind).sort()).toEqual(['lamp', 'warmBay']);
    expect(help.map(({ gainMin }) => gainMin)).toEqual(
      help.map(({ gainMin }) => gainMin).toSorted((a, b) => b - a),
    );
    const moved = await previewBatch(test.shop, { batchId: id, bayId: 'bay-2' });
    if (moved.kind === 'refused') throw new Error(moved.refusal.sentence);
    const gainedMin = (p50Ms - Date.parse(String(moved.estimate.test.p50At))) / 60_000;
    expect(help.find(({ kind }) => kind === 'warmBay')).toMatchObject({ bayId: 'bay-2' });
    expect(help.find(({ kind }) => kind === 'warmBay')?.gainMin).toBeCloseTo(gainedMin, 1);
  });

  it('stores nothing, and says the same again while nothing has changed', async () => {
    const test = await coldShop();
    await start(test, { promisedAt: instantAfter(OPENS_AT, 60), remainingWorkMin: 45 });
    const head = await test.shop.ledger.readHead();
    const first = await readPlan(test.shop);
    expect(await readPlan(test.shop)).toEqual(first);
    expect(await test.shop.ledger.readHead()).toBe(head);
  });

  it('tries no lamp where one is on, no bay that is not warmer, and nothing once sanding has begun', async () => {
    const test = await coldShop();
    await sayAir(test, 12, { sensorId: 'bay-2-air' });
    const { id } = await start(test, { promisedAt: instantAfter(OPENS_AT, 30), remainingWorkMin: 45 });
    await act(test, id, { type: 'markSpread' });
    await act(test, id, { type: 'switchLamp', lampId: 'lamp-1', forMin: 10 });
    expect((await entriesOf(test))[0]?.danger?.help).toEqual([]);
    await test.clock.moveBy(60);
    await act(test, id, { type: 'recordCheck', outcome: 'powders', firstTry: true });
    expect(await entriesOf(test)).toMatchObject([{ need: 'sanding', danger: { kind: 'late', help: [] } }]);
  });

  it('asks for more hands where two panels in danger need someone in the same minutes', async () => {
    const test = await coldShop();
    const promise = { promisedAt: instantAfter(OPENS_AT, 60), remainingWorkMin: 45, by: 'MK' };
    const first = await start(test, { ...promise, panel: 'Bonnet' });
    const second = await start(test, { ...promise, panel: 'Roof' });
    const hands = (await entriesOf(test)).flatMap(({ danger }) =>
      (danger?.help ?? []).filter(({ kind }) => kind === 'hands'),
    );
    expect(hands.flatMap(({ batchIds }) => batchIds ?? []).toSorted()).toEqual(
      [first.id, second.id].toSorted(),
    );
  });
});
