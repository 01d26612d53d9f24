// What was set by hand lives in the ledger: it survives a restart, follows from facts alone, and the config shows through.
import { describe, expect, it } from 'vitest';
import { putSettings } from '../../server/application/changeSettings.ts';
import { findStrays } from '../../server/application/openShop.ts';
import { readSettings } from '../../server/application/presentSettings.ts';
import { putCard } from '../../server/application/putCard.ts';
import { putSensor } from '../../server/application/putSensor.ts';
import { readBays } from '../../server/application/readSnapshot.ts';
import { rebuildViews } from '../../server/application/rebuildViews.ts';
import type { Shop } from '../../server/application/shop.ts';
import {
  instantFromMs,
  type PutCard,
  type PutSensor,
  type PutSettings,
} from '../../server/contract/index.ts';
import type { FactBodies } from '../../server/domain/facts.ts';
import { act, openTestShop, OPENS_AT, sayAir, start, type TestShop } from '../support/testShop.ts';

const CARD: PutCard = {
  name: 'Night filler',
  fill: 'regular',
  atC: 20,
  thicknessMm: 1,
  hardenerPct: 2,
  workingMin: 6,
  sandMin: 22,
  lowestC: 10,
  thicknessMaxMm: 6,
};

let keyCount = 0;
const key = (): string => `setup-${(keyCount += 1)}`;

const set = ({ shop }: TestShop, body: PutSettings) => putSettings(shop, { key: key(), body });
const setCard = ({ shop }: TestShop, id: string, body: PutCard) => putCard(shop, id, { key: key(), body });
const setSensor = ({ shop }: TestShop, id: string, body: PutSensor) =>
  putSensor(shop, id, { key: key(), body });

/** The same stores opened anew, with what is given in place of the config's. */
async function reopen({ shop }: TestShop, replaced: Partial<Shop> = {}): Promise<TestShop> {
  const { ledger, air, clock } = shop;
  let count = 0;
  return openTestShop({ ledger, air, clock, makeId: () => `later-${(count += 1)}`, ...replaced });
}

describe('what was set by hand', () => {
  it('is there again after a restart, and follows from facts alone', async () => {
    const test = await openTestShop();
    await sayAir(test, 9, { sensorId: 'stray' });
    await set(test, { shop: { name: 'Dent and Sons' }, people: [{ initials: 'AB' }], by: 'AB' });
    await setCard(test, 'night-filler', { ...CARD, beadGramsPer10Cm: 2 });
    await setSensor(test, 'stray', { bayId: 'bay-1', airTemperatureOffsetK: 1 });
    const again = await reopen(test);
    expect(again.shop.facts).toEqual(test.shop.facts);
    expect(again.shop.cards).toEqual(test.shop.cards);
    expect(await readSettings(again.shop)).toEqual(await readSettings(test.shop));
    expect((await rebuildViews(test.shop.ledger)).differences).toEqual([]);
    await test.shop.ledger.replaceViews([]);
    expect((await rebuildViews(test.shop.ledger)).differences).toContain('settings by-hand');
    expect((await reopen(test)).shop.facts).toEqual(test.shop.facts);
  });

  it('lets an edited config through in all that was never changed by hand', async () => {
    const test = await openTestShop();
    const config = test.shop.facts;
    await set(test, { alerts: { waitingMin: 20 } });
    const edited = { ...config, name: 'Edited', alerts: { ...config.alerts, waitingMin: 99, spreadByS: 30 } };
    const { shop } = await reopen(test, { facts: edited });
    expect(shop.facts).toMatchObject({ name: 'Edited', alerts: { waitingMin: 20, spreadByS: 30 } });
  });

  it('keeps a bay and a product that only hands brought, with the batches on them', async () => {
    const test = await openTestShop();
    await set(test, { bays: [{ id: 'booth', name: 'Booth' }] });
    await setCard(test, 'night-filler', CARD);
    await start(test, { bayId: 'booth', cardId: 'night-filler' });
    expect(await findStrays((await reopen(test)).shop)).toEqual([]);
  });

  it('writes a calibration once, not at each start', async () => {
    const test = await openTestShop();
    await setCard(test, 'night-filler', CARD);
    const head = await test.shop.ledger.readHead();
    await reopen(test);
    expect(await test.shop.ledger.readHead()).toBe(head);
  });

  it('keeps the constants of a card for which a newer model finds none', async () => {
    const test = await openTestShop();
    await setCard(test, 'night-filler', CARD);
    const { ledger } = test.shop;
    const unfit = { ...((await ledger.readView('card', 'night-filler')) as FactBodies['CardCalibrated']) };
    // As if this card had been kept by a model with other bounds.
    const stated = { ...(JSON.parse(unfit.statement) as object), atC: 60 };
    const byHand = (await ledger.readView('settings', 'by-hand')) as {
      cards: Record<string, { said: object }>;
    };
    Object.assign(byHand.cards['night-filler']?.said ?? {}, { stated });
    const settings = { kind: 'settings', id: 'by-hand', isOpen: true, body: byHand } as const;
    const card = (statement: string) =>
      ({ kind: 'card', id: 'night-filler', isOpen: true, body: { ...unfit, statement } }) as const;
    await ledger.replaceViews([settings, card(JSON.stringify(stated))]);
    expect((await reopen(test)).shop.cards.get('night-filler')?.constants).toEqual(unfit.constants);
    await ledger.replaceViews([settings, card('another')]);
    const lost = await reopen(test);
    expect(lost.shop.cards.has('night-filler')).toBe(false);
    expect(lost.logged).toContain('card.not-recalled');
  });
});

describe('open batches', () => {
  it('are called at the new probability, and by the new rules', async () => {
    const test = await openTestShop();
    await sayAir(test, 20);
    const { id } = await start(test);
    const before = await testFromAt(test, id);
    await set(test, { alerts: { testProbabilityPct: 95 } });
    await test.clock.moveBy(0.1);
    expect(await testFromAt(test, id)).toBeGreaterThan(before + 60_000);
  });

  it('keep what was learned of a product as it was taught when only its name changes', async () => {
    const test = await openTestShop();
    await sayAir(test, 20);
    const { id } = await start(test);
    await test.clock.moveBy(25);
    await sayAir(test, 20);
    await act(test, id, { type: 'recordCheck', outcome: 'powders', firstTry: true });
    const learned = (await test.shop.ledger.readView('learned', 'body-filler')) as { batchCount: number };
    expect(learned.batchCount).toBe(1);
    const {
      constants: _constants,
      inductionActivationKJPerMol: _model,
      id: _id,
      ...stated
    } = test.shop.cards.get('body-filler') as never as PutCard & Record<string, unknown>;
    await setCard(test, 'body-filler', { ...stated, name: 'House filler' });
    expect(await test.shop.ledger.readView('learned', 'body-filler')).toMatchObject({ batchCount: 1 });
    await setCard(test, 'body-filler', { ...stated, sandMin: 25 });
    expect(await test.shop.ledger.readView('learned', 'body-filler')).toMatchObject({ batchCount: 0 });
  });

  async function testFromAt({ shop }: TestShop, id: string): Promise<number> {
    const view = (await shop.ledger.readView('batch', id)) as { estimate: { testFromAt: number } };
    return view.estimate.testFromAt;
  }
});

describe('what an unknown sensor had said', () => {
  it('counts from two hours back, but not what was a jump or lay in the future', async () => {
    const test = await openTestShop();
    const at = (min: number) => instantFromMs(OPENS_AT + min * 60_000);
    await sayAir(test, 1, { sensorId: 's', at: at(-130) });
    await sayAir(test, 15, { sensorId: 's', at: at(-10), relativeHumidityPct: 50 });
    await sayAir(test, 40, { sensorId: 's', at: at(-9.5), relativeHumidityPct: 99 });
    await sayAir(test, 16, { sensorId: 's', at: at(-1) });
    await sayAir(test, 17, { sensorId: 's', at: at(5) });
    await setSensor(test, 's', { bayId: 'bay-2' });
    const rows = await test.shop.air.readSpan({
      sensorIds: ['s'],
      fromAt: at(-200),
      toAt: at(60),
      goodOnly: true,
    });
    expect(rows.map(({ measurement }) => measurement)).toEqual([15, 50, 16]);
    const [, bay2] = await readBays(test.shop);
    expect(bay2).toMatchObject({ airTemperatureC: 16, relativeHumidityPct: 50 });
  });

  it('is what the next reading is held against', async () => {
    const test = await openTestShop();
    await sayAir(test, 15, { sensorId: 's' });
    await setSensor(test, 's', { bayId: 'bay-2' });
    await test.clock.moveBy(0.5);
    expect(await sayAir(test, 35, { sensorId: 's' })).toMatchObject({ setAside: [{ reason: 'step' }] });
  });
});

describe('screens', () => {
  it('are told before anything that follows from the change', async () => {
    const test = await openTestShop();
    await sayAir(test, 20);
    await start(test);
    const told: string[] = [];
    const shop = test.shop as { live: Shop['live'] };
    shop.live = {
      ...test.shop.live,
      publishResync: (sequence) => told.push(`resync ${sequence}`),
      publishChange: ({ afterSequence }) => told.push(`change after ${afterSequence}`),
    };
    const head = await test.shop.ledger.readHead();
    await set(test, { alerts: { testProbabilityPct: 95 } });
    await test.clock.moveBy(0.1);
    expect(told).toEqual([`resync ${head + 1}`, `change after ${head + 1}`]);
  });
});
