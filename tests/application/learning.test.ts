// A shop that learns: closed batches move the windows of the next, and everything that is taken back takes that back.
import { describe, expect, it } from 'vitest';
import { readLearned, readLessons } from '../../server/application/lessonViews.ts';
import { calibrateCards } from '../../server/application/openShop.ts';
import { readBatch } from '../../server/application/readSnapshot.ts';
import { rebuildViews } from '../../server/application/rebuildViews.ts';
import type { Shop } from '../../server/application/shop.ts';
import type { BatchWire } from '../../server/contract/index.ts';
import type { Card } from '../../server/domain/card.ts';
import { solveBatch } from '../../server/engine/index.ts';
import { act, done, minutesIn, openTestShop, sayAir, start, type TestShop } from '../support/testShop.ts';

/** A product that takes a fifth longer than its card says, by the solver. */
function trueMin(card: Card, airC: number, unlike = 1): number {
  const { testMin } = solveBatch(card, card.constants, {
    substrate: 'steel',
    thicknessMm: 2,
    hardenerPct: 2,
    airC: [[0, airC]],
    humidityPct: [[0, 50]],
    timeScale: 1.2 * unlike,
  });
  return testMin ?? Number.NaN;
}

const bodyOf = (shop: Shop): Card => shop.cards.get('body-filler') as Card;

/** One batch from its mixing to the sandpaper: tested at 21 min and from then on each second minute. */
async function playBatch(test: TestShop, airC: number, unlike: number): Promise<BatchWire> {
  await sayAir(test, airC);
  const { id } = await start(test);
  const readyMin = trueMin(bodyOf(test.shop), airC, unlike);
  let nowMin = 21;
  await test.clock.moveBy(10);
  await sayAir(test, airC);
  await test.clock.moveBy(11);
  while (nowMin < readyMin) {
    done(await act(test, id, { type: 'recordCheck', outcome: 'gums' }));
    nowMin += 2;
    await test.clock.moveBy(2);
    await sayAir(test, airC);
  }
  return done(await act(test, id, { type: 'recordCheck', outcome: 'powders', firstTry: nowMin === 21 }));
}

/** Some batches, none quite like the other. */
async function playBatches(test: TestShop, count: number): Promise<BatchWire[]> {
  const played: BatchWire[] = [];
  for (let index = 0; index < count; index += 1) {
    const batch = await playBatch(test, 20, 1 + 0.06 * ((index % 3) - 1));
    await test.clock.moveBy(15);
    done(await act(test, batch.id, { type: 'finishSanding' }));
    played.push(batch);
  }
  return played;
}

interface Window {
  readonly p50Min: number;
  readonly widthMin: number;
}

/** What a new batch is told at its mixing. */
async function tellNew(test: TestShop): Promise<Window & { batch: BatchWire }> {
  await sayAir(test, 20);
  const batch = await start(test);
  const { p10At, p50At, p90At } = batch.estimate?.test ?? {};
  return {
    batch,
    p50Min: minutesIn(batch, p50At),
    widthMin: minutesIn(batch, p90At) - minutesIn(batch, p10At),
  };
}

const differencesOf = async ({ shop }: TestShop): Promise<readonly string[]> =>
  (await rebuildViews(shop.ledger, { isMending: false })).differences;

describe('a shop whose product is slow', () => {
  it('tells the next batch a later and narrower window, and why', async () => {
    const test = await openTestShop();
    const before = await tellNew(test);
    expect(before.batch.estimate?.learnedVersion).toBe(0);
    await act(test, before.batch.id, { type: 'scrap' });
    await playBatches(test, 10);
    const after = await tellNew(test);
    const truly = trueMin(bodyOf(test.shop), 20);
    expect(Math.abs(after.p50Min - truly)).toBeLessThan(1);
    expect(after.p50Min).toBeGreaterThan(before.p50Min + 2);
    expect(after.widthMin / after.p50Min).toBeLessThan((before.widthMin / before.p50Min) * 0.9);
    expect(after.batch.estimate?.learnedVersion).toBe(10);
    const reasons = after.batch.estimate?.reasons ?? [];
    const product = reasons.find(({ code }) => code === 'product');
    expect(product?.minutes).toBeGreaterThan(2);
    expect(await readLearned(test.shop, 'body-filler')).toMatchObject({ version: 10, batchCount: 10 });
    expect(await differencesOf(test)).toEqual([]);
  });

  it('learns nothing of its other products', async () => {
    const test = await openTestShop();
    await playBatches(test, 2);
    expect(await readLearned(test.shop, 'winter-filler')).toBeNull();
    expect(await readLessons(test.shop, 'winter-filler')).toBeNull();
  });

  it('keeps the lessons and leaves the windows alone when it is told not to learn', async () => {
    const learning = await openTestShop();
    const still = await openTestShop({ facts: { ...learning.shop.facts, isLearning: false } });
    const before = await tellNew(still);
    await act(still, before.batch.id, { type: 'scrap' });
    await playBatches(still, 5);
    const after = await tellNew(still);
    expect(after.batch.estimate?.learnedVersion).toBe(0);
    expect(Math.abs(after.p50Min - before.p50Min)).toBeLessThan(0.01);
    expect(await readLearned(still.shop, 'body-filler')).toBeNull();
    expect((await readLessons(still.shop, 'body-filler'))?.lessons).toHaveLength(5);
    expect(await differencesOf(still)).toEqual([]);
  });
});

describe('an undo', () => {
  it('within ten minutes takes the lesson back, and the belief is what it was', async () => {
    const test = await openTestShop();
    await playBatches(test, 3);
    const before = await readLearned(test.shop, 'body-filler');
    const batch = await playBatch(test, 20, 1.3);
    const taught = await readLearned(test.shop, 'body-filler');
    expect(taught).toMatchObject({ version: 4, batchCount: 4 });
    await test.clock.moveBy(9);
    done(await act(test, batch.id, { type: 'undo', factSequence: Number(batch.lastAct?.factSequence) }));
    const back = await readLearned(test.shop, 'body-filler');
    expect(back).toEqual({ ...before, version: 5 });
    expect(await differencesOf(test)).toEqual([]);
    // Said again, it teaches again, and no more than once.
    done(await act(test, batch.id, { type: 'recordCheck', outcome: 'powders' }));
    expect((await readLessons(test.shop, 'body-filler'))?.lessons).toHaveLength(4);
  });

  it('of anything else leaves the lessons alone', async () => {
    const test = await openTestShop();
    await playBatches(test, 1);
    const batch = await start(test);
    await act(test, batch.id, { type: 'undo', factSequence: Number(batch.lastAct?.factSequence) });
    expect(await readLearned(test.shop, 'body-filler')).toMatchObject({ version: 1 });
  });
});

describe('a batch that is scrapped while it is sanded', () => {
  it('teaches once', async () => {
    const test = await openTestShop();
    const batch = await playBatch(test, 20, 1);
    done(await act(test, batch.id, { type: 'scrap' }));
    expect((await readLessons(test.shop, 'body-filler'))?.lessons).toHaveLength(1);
    expect(await differencesOf(test)).toEqual([]);
  });
});

describe('other open batches of the product', () => {
  it('are estimated anew at the next look', async () => {
    const test = await openTestShop();
    const closing = await start(test);
    await sayAir(test, 20);
    await test.clock.moveBy(8);
    const { batch } = await tellNew(test);
    await test.clock.moveBy(7);
    await sayAir(test, 20);
    await test.clock.moveBy(1);
    const before = await readBatch(test.shop, batch.id);
    expect(before?.estimate?.learnedVersion).toBe(0);
    // Ready long before anybody would think so: the belief moves by minutes.
    done(await act(test, closing.id, { type: 'recordCheck', outcome: 'powders', firstTry: true }));
    await test.clock.moveBy(1.1);
    const after = await readBatch(test.shop, batch.id);
    expect(after?.estimate?.learnedVersion).toBe(1);
    expect(Date.parse(String(after?.estimate?.test.p50At))).toBeLessThan(
      Date.parse(String(before?.estimate?.test.p50At)) - 20_000,
    );
  });
});

describe('a card that is edited while batches are open', () => {
  async function reopen(test: TestShop, minutes: { sandMin: number; workingMin: number }): Promise<TestShop> {
    const stated = [...test.shop.cards.values()].map((card) =>
      card.id === 'body-filler' ? { ...card, ...minutes } : card,
    );
    const calibrated = calibrateCards(stated);
    if (calibrated.kind === 'rejected') throw new Error(JSON.stringify(calibrated.rejections));
    const { ledger, air, clock } = test.shop;
    const again = await openTestShop({
      ledger,
      air,
      clock,
      cards: calibrated.cards,
      makeId: () => `again-${clock.nowAt()}`,
    });
    return { ...again, clock: test.clock };
  }

  it('begins to learn anew; put back as it was, it knows again what it knew', async () => {
    const test = await openTestShop();
    await playBatches(test, 5);
    const known = await readLearned(test.shop, 'body-filler');
    const { batch, p50Min } = await tellNew(test);
    await test.clock.moveBy(1);

    const edited = await reopen(test, { sandMin: 26, workingMin: 7 });
    expect(await readLearned(edited.shop, 'body-filler')).toMatchObject({ version: 5, batchCount: 0 });
    const open = await readBatch(edited.shop, batch.id);
    expect(minutesIn(batch, open?.estimate?.test.p50At)).toBeGreaterThan(p50Min + 2);
    expect(open?.estimate?.reasons.some(({ code }) => code === 'product')).toBe(false);
    expect(await differencesOf(edited)).toEqual([]);

    const restored = await reopen(edited, { sandMin: 17.5, workingMin: 5 });
    expect(await readLearned(restored.shop, 'body-filler')).toEqual(known);
    const again = await readBatch(restored.shop, batch.id);
    expect(Math.abs(minutesIn(batch, again?.estimate?.test.p50At) - p50Min)).toBeLessThan(0.5);
    expect(await differencesOf(restored)).toEqual([]);
  });
});
