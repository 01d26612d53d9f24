// The main job in memory: a reading becomes a window, colder air moves it, people and time move the batch on.
import { describe, expect, it } from 'vitest';
import type { BatchWire } from '../../server/contract/index.ts';
import { readSnapshot } from '../../server/application/readSnapshot.ts';
import { act, done, minutesIn, openTestShop, sayAir, start } from '../support/testShop.ts';

describe('a batch at 20 °C', () => {
  it('is worth testing between 15 and 20 minutes, with the thin edge as the reason', async () => {
    // The trade's "15 to 20 minutes" at shop temperature: common practice, no source (REFERENCES TP-3).
    const test = await openTestShop();
    await sayAir(test, 20);
    const batch = await start(test);
    expect(minutesIn(batch, batch.estimate?.test.p50At)).toBeGreaterThan(18.5);
    expect(minutesIn(batch, batch.estimate?.test.p50At)).toBeLessThan(20.5);
    expect(minutesIn(batch, batch.estimate?.buildP50At)).toBeCloseTo(15.0, 0);
    expect(batch.estimate?.reasons[0]?.code).toBe('edge');
    expect(batch.estimate?.slowdown).toBeCloseTo(1, 2);
  });

  it('tells every screen a later time within two seconds of colder air', async () => {
    const test = await openTestShop();
    await sayAir(test, 20);
    const batch = await start(test);
    await test.clock.moveBy(0.2);
    await sayAir(test, 11);
    await test.clock.moveBy(2 / 60);
    const told = test.changes.at(-1)?.batches[0];
    expect(Date.parse(String(told?.estimate?.test.p50At))).toBeGreaterThan(
      Date.parse(String(batch.estimate?.test.p50At)) + 5 * 60_000,
    );
    expect(told?.estimate?.reasons[0]).toMatchObject({
      code: 'bay-cold',
      bayId: 'bay-1',
      airTemperatureC: 11,
    });
  });

  it('kicks, asks for a test, goes back after gums and is sanded after powders', async () => {
    const test = await openTestShop();
    await sayAir(test, 20);
    const { id } = await start(test);
    expect(done(await act(test, id, { type: 'markSpread' })).stage).toBe('wet');
    for (let minute = 0; minute < 26; minute += 1) {
      await test.clock.moveBy(1);
      await sayAir(test, 20);
      if (minute === 10) expect((await batchOf(test, id)).stage).toBe('kicked');
    }
    expect((await batchOf(test, id)).stage).toBe('test');
    const gummed = done(await act(test, id, { type: 'recordCheck', outcome: 'gums' }));
    expect(gummed.stage).toBe('kicked');
    expect(minutesIn(gummed, gummed.estimate?.testFromAt)).toBeGreaterThan(26);
    const powdered = done(await act(test, id, { type: 'recordCheck', outcome: 'powders', firstTry: false }));
    expect(powdered.stage).toBe('sanding');
    expect(done(await act(test, id, { type: 'finishSanding' })).stage).toBe('sanded');
    expect((await readSnapshot(test.shop)).batches).toEqual([]);
  });

  it('raises one test alert, withdraws it when somebody tests, and says spread by when nobody spread', async () => {
    const test = await openTestShop();
    await sayAir(test, 20);
    const { id } = await start(test);
    await test.clock.moveBy(4.5);
    expect((await readSnapshot(test.shop)).alerts.map((alert) => alert.kind)).toEqual(['spreadBy']);
    for (let minute = 0; minute < 20; minute += 1) {
      await test.clock.moveBy(1);
      await sayAir(test, 20);
    }
    expect((await readSnapshot(test.shop)).alerts.map((alert) => alert.kind)).toEqual(['test']);
    await act(test, id, { type: 'recordCheck', outcome: 'powders' });
    expect((await readSnapshot(test.shop)).alerts).toEqual([]);
  });
});

async function batchOf(test: Awaited<ReturnType<typeof openTestShop>>, id: string): Promise<BatchWire> {
  const { batches } = await readSnapshot(test.shop);
  const found = batches.find((batch) => batch.id === id);
  if (found === undefined) throw new Error(`batch ${id} is not open`);
  return found;
}
