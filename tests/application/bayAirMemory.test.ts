// Air that is kept between passes is what the air table would give: after any readings, late ones and settings that change.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { recallBayAir } from '../../server/application/bayAirMemory.ts';
import type { Shop } from '../../server/application/shop.ts';
import { instantFromMs } from '../../server/contract/index.ts';
import type { BayAir } from '../../server/domain/airSeries.ts';
import { OPENS_AT, openTestShop, sayAir, type TestShop } from '../support/testShop.ts';

const FROM_AT = instantFromMs(OPENS_AT - 60_000);
const ASKED = { bayId: 'bay-1', fromAt: FROM_AT };

/** What a shop that remembers nothing reads: the same shop under another name. */
async function readFresh({ shop }: TestShop): Promise<BayAir> {
  const forgetful: Shop = { ...shop };
  return recallBayAir(forgetful, ASKED);
}

describe('the remembered air of a bay', () => {
  it('is the air table’s, whatever order readings come in and however late they are', async () => {
    const moves = fc.array(
      fc.record({
        waitS: fc.integer({ min: 0, max: 200 }),
        lateS: fc.integer({ min: 0, max: 400 }),
        c: fc.nat(50),
      }),
      { minLength: 1, maxLength: 25 },
    );
    await fc.assert(
      fc.asyncProperty(moves, async (said) => {
        const test = await openTestShop();
        for (const { waitS, lateS, c } of said) {
          await test.clock.moveBy(waitS / 60);
          const at = instantFromMs(Math.max(OPENS_AT, test.clock.nowAt() - (lateS > 100 ? lateS * 1000 : 0)));
          await sayAir(test, 15 + c / 10, { at, relativeHumidityPct: 50 + (c % 5) });
          expect(await recallBayAir(test.shop, ASKED)).toEqual(await readFresh(test));
        }
      }),
      { numRuns: 25 },
    );
  });

  it('is read anew when the settings say otherwise where a sensor hangs', async () => {
    const test = await openTestShop();
    await sayAir(test, 15);
    const before = await recallBayAir(test.shop, ASKED);
    expect(before.air).toHaveLength(1);
    const sensors = new Map(test.shop.facts.sensors);
    sensors.delete('bay-1-air');
    test.shop.facts = { ...test.shop.facts, sensors };
    expect((await recallBayAir(test.shop, ASKED)).air).toEqual([]);
  });

  it('lets go of air that nobody has asked for in an hour', async () => {
    const test = await openTestShop();
    await recallBayAir(test.shop, ASKED);
    for (let minute = 0; minute < 200; minute += 1) {
      await test.clock.moveBy(1);
      await sayAir(test, 15 + (minute % 3));
    }
    const recent = { bayId: 'bay-1', fromAt: instantFromMs(test.clock.nowAt() - 10 * 60_000) };
    const { air } = await recallBayAir(test.shop, recent);
    expect(air.length).toBeLessThan(13);
    // An early question after that still gets everything, from the table.
    expect((await recallBayAir(test.shop, ASKED)).air).toHaveLength(200);
  });
});
