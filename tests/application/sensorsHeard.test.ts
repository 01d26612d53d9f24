// When a sensor was heard, under a wall clock that was put back: nobody stays unheard or unblamed until it comes round again.
import { describe, expect, it } from 'vitest';
import { readAlerts } from '../../server/application/readSnapshot.ts';
import { makeJumpingClock } from '../support/jumpingClock.ts';
import { openTestShop, OPENS_AT, sayAir, type TestShop } from '../support/testShop.ts';

async function openJumping() {
  const clock = makeJumpingClock(OPENS_AT);
  const test = { ...(await openTestShop({ clock })), clock };
  await sayAir(test, 20);
  await clock.moveBy(2);
  return test;
}

async function openKinds({ shop }: TestShop): Promise<string[]> {
  return (await readAlerts(shop)).map(({ kind }) => kind);
}

describe('a sensor under a clock that was put back by a day', () => {
  it('is quiet ten minutes after that, however far ahead it was heard', async () => {
    const test = await openJumping();
    test.clock.jumpBy(-1440);
    await test.clock.moveBy(9.9);
    expect(await openKinds(test)).toEqual([]);
    await test.clock.moveBy(2);
    expect(await openKinds(test)).toEqual(['sensorQuiet']);
  });

  it('that was quiet before is back with its first reading and not sooner', async () => {
    const test = await openJumping();
    await test.clock.moveBy(10);
    test.clock.jumpBy(-1440);
    await test.clock.moveBy(30);
    expect(await openKinds(test)).toEqual(['sensorQuiet']);
    await sayAir(test, 20);
    await test.clock.moveBy(0.1);
    expect(await openKinds(test)).toEqual([]);
  });

  it('is back also where it speaks before anybody looked at the new time', async () => {
    const test = await openJumping();
    await test.clock.moveBy(10);
    test.clock.jumpBy(-1440);
    await sayAir(test, 20);
    await test.clock.moveBy(0.1);
    expect(await openKinds(test)).toEqual([]);
  });

  it('is back also where the program was started anew in between', async () => {
    const test = await openJumping();
    await test.clock.moveBy(10);
    test.clock.jumpBy(-1440);
    const { ledger, air, facts, clock } = test.shop;
    const again = { ...(await openTestShop({ ledger, air, facts, clock })), clock: test.clock };
    await sayAir(again, 20);
    await again.clock.moveBy(0.1);
    expect(await openKinds(again)).toEqual([]);
  });
});
