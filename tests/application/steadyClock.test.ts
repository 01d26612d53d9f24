// When the clock may be believed to say what is old: after hours without a jump, so that a wrong one costs no key and no reading.
import { describe, expect, it } from 'vitest';
import { startBatch } from '../../server/application/handleCommand.ts';
import type { Clock } from '../../server/application/ports/clock.ts';
import { isClockSteady } from '../../server/application/steadyClock.ts';
import { instantFromMs } from '../../server/contract/index.ts';
import { makeJumpingClock } from '../support/jumpingClock.ts';
import { makeSimulatedClock } from '../support/simulatedClock.ts';
import { done, openTestShop, OPENS_AT, PLAIN_BATCH } from '../support/testShop.ts';

const HOUR_MIN = 60;
const DAY_MIN = 24 * HOUR_MIN;

describe('a clock', () => {
  it('is steady six hours after it was first looked at, and then stays so', async () => {
    const clock = makeSimulatedClock(OPENS_AT);
    expect(isClockSteady(clock)).toBe(false);
    await clock.moveBy(6 * HOUR_MIN - 1);
    expect(isClockSteady(clock)).toBe(false);
    await clock.moveBy(1);
    expect(isClockSteady(clock)).toBe(true);
    await clock.moveBy(30 * DAY_MIN);
    expect(isClockSteady(clock)).toBe(true);
  });

  it.each([8 * DAY_MIN, -8 * DAY_MIN])(
    'that jumped by %d minutes is steady six hours later',
    async (jumpMin) => {
      const clock = makeJumpingClock(OPENS_AT);
      isClockSteady(clock);
      await clock.moveBy(10 * HOUR_MIN);
      clock.jumpBy(jumpMin);
      expect(isClockSteady(clock)).toBe(false);
      await clock.moveBy(6 * HOUR_MIN - 1);
      expect(isClockSteady(clock)).toBe(false);
      await clock.moveBy(1);
      expect(isClockSteady(clock)).toBe(true);
    },
  );

  it('that was put ahead in small steps has jumped when they come to more than a day', async () => {
    const clock = makeJumpingClock(OPENS_AT);
    isClockSteady(clock);
    await clock.moveBy(6 * HOUR_MIN);
    clock.jumpBy(15 * HOUR_MIN);
    expect(isClockSteady(clock)).toBe(true);
    clock.jumpBy(15 * HOUR_MIN);
    expect(isClockSteady(clock)).toBe(false);
  });

  it('that runs fast does not jump: it is steady after six hours of the shop', () => {
    let elapsedMs = 0;
    const clock: Clock = {
      ...makeSimulatedClock(OPENS_AT),
      rate: 20,
      nowAt: () => instantFromMs(OPENS_AT + 20 * elapsedMs),
      elapsedMs: () => elapsedMs,
    };
    isClockSteady(clock);
    elapsedMs = 17 * 60_000;
    expect(isClockSteady(clock)).toBe(false);
    elapsedMs = 18 * 60_000;
    expect(isClockSteady(clock)).toBe(true);
    elapsedMs = 7 * 24 * 3_600_000;
    expect(isClockSteady(clock)).toBe(true);
  });
});

describe('the answer to a key', () => {
  it('is kept while the clock is a year ahead for some minutes, and forgotten after a week of days', async () => {
    const clock = makeJumpingClock(OPENS_AT);
    const { shop } = await openTestShop({ clock });
    const start = async () => done(await startBatch(shop, { key: 'once', body: PLAIN_BATCH }));
    const { id } = await start();
    await clock.moveBy(7 * HOUR_MIN);
    clock.jumpBy(401 * DAY_MIN);
    await clock.moveBy(5);
    expect((await start()).id).toBe(id);
    clock.jumpBy(-401 * DAY_MIN);
    await clock.moveBy(5);
    expect((await start()).id).toBe(id);
    await clock.moveBy(7 * DAY_MIN);
    expect((await start()).id).not.toBe(id);
  });
});
