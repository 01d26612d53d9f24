// A bay that warms up or cools down: the window is that of the air to come, in the running middle.
import { describe, expect, it } from 'vitest';
import type { EstimateWire } from '../../server/contract/index.ts';
import { minutesIn, openTestShop, sayAir, start } from '../support/testShop.ts';

/** Half an hour of readings that end at 16 °C, after a day that has seen it all; then a batch on a car of 16 °C. */
async function estimateAfter(changeCPerMin: number): Promise<{ p50Min: number; estimate: EstimateWire }> {
  const test = await openTestShop();
  for (const airTemperatureC of [6, 26]) {
    await sayAir(test, airTemperatureC);
    await test.clock.moveBy(90);
  }
  for (let leftMin = 30; leftMin >= 0; leftMin -= 2) {
    await test.clock.moveBy(2);
    await sayAir(test, 16 - changeCPerMin * leftMin);
  }
  const batch = await start(test, { rolledInAt: test.clock.nowAt(), outdoorTemperatureC: 16 });
  return { p50Min: minutesIn(batch, batch.estimate?.test.p50At), estimate: batch.estimate as EstimateWire };
}

describe('a window', () => {
  it('is earlier in a bay that is being heated and later in one that cools down than at the same air held', async () => {
    const [heated, held, cooling] = [
      await estimateAfter(0.08),
      await estimateAfter(0),
      await estimateAfter(-0.08),
    ];
    expect(heated.p50Min).toBeLessThan(held.p50Min - 0.5);
    expect(cooling.p50Min).toBeGreaterThan(held.p50Min + 0.5);
    for (const { estimate } of [heated, held, cooling])
      expect(estimate).toMatchObject({ supported: true, notes: ['humidity-assumed'] });
  });
});
