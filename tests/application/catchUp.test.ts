// The start of a shop of many open batches: its doors open while the last ones are still brought up to now.
import { expect, it } from 'vitest';
import { catchUp } from '../../server/application/openShop.ts';
import { instantAfter } from '../../server/domain/minutes.ts';
import { makeSimulatedClock } from '../support/simulatedClock.ts';
import { openTestShop, OPENS_AT, sayAir, start, type TestShop } from '../support/testShop.ts';

const OFF_MIN = 12;
const PATIENCE_MS = 150;

/** A shop that was off for a while; each of its batches is brought up to now only once it is let. */
async function openLater(batchCount: number): Promise<{
  opened: () => boolean;
  broughtCount: () => Promise<number>;
  letOne: () => Promise<void>;
  waitFor: (durationMs: number) => Promise<void>;
}> {
  const test: TestShop = await openTestShop();
  await sayAir(test, 20);
  for (let count = 0; count < batchCount; count += 1) await start(test, { panel: `Panel ${count + 1}` });
  const clock = makeSimulatedClock(instantAfter(OPENS_AT, OFF_MIN));
  const held: (() => void)[] = [];
  const breathe = (): Promise<void> => new Promise((resolve) => held.push(resolve));
  const shop = { ...test.shop, clock: { ...clock, breathe } };
  const headBefore = await shop.ledger.readHead();
  let isOpened = false;
  void catchUp(shop, PATIENCE_MS).then(() => (isOpened = true));
  return {
    opened: () => isOpened,
    broughtCount: async () =>
      (await shop.ledger.readFacts({ afterSequence: headBefore, limit: 100 })).filter(
        ({ type }) => type === 'EstimateChanged',
      ).length,
    async letOne() {
      held.shift()?.();
      await clock.moveBy(0);
    },
    waitFor: (durationMs) => clock.moveBy(durationMs / 60_000),
  };
}

it('waits for a few batches', async () => {
  const { opened, letOne, waitFor, broughtCount } = await openLater(1);
  await waitFor(0);
  expect(opened()).toBe(false);
  await letOne();
  expect([opened(), await broughtCount()]).toEqual([true, 1]);
});

it('opens after its patience, and brings the others up to now all the same', async () => {
  const { opened, letOne, waitFor, broughtCount } = await openLater(3);
  await waitFor(PATIENCE_MS - 1);
  expect([opened(), await broughtCount()]).toEqual([false, 1]);
  await waitFor(1);
  expect([opened(), await broughtCount()]).toEqual([true, 1]);
  for (let count = 0; count < 3; count += 1) await letOne();
  expect(await broughtCount()).toBe(3);
});

it('hands on a fault that comes once the doors are open, and looks again', async () => {
  const test = await openTestShop();
  await sayAir(test, 20);
  await start(test);
  const clock = makeSimulatedClock(instantAfter(OPENS_AT, OFF_MIN));
  let fail: (reason: Error) => void = () => undefined;
  const breathe = (): Promise<void> => new Promise((_, reject) => (fail = reject));
  const shop = { ...test.shop, clock: { ...clock, breathe } };
  const opening = catchUp(shop, PATIENCE_MS);
  await clock.moveBy(PATIENCE_MS / 60_000);
  const { caughtUp } = await opening;
  fail(new Error('a fault of ours'));
  await expect(caughtUp).rejects.toThrow('a fault of ours');
  expect(shop.wake.isLooking).toBe(false);
});
