// The door for air: stored once, judged, marked, and told to screens with its own instant.
import { describe, expect, it } from 'vitest';
import { PortFailure } from '../../server/application/ports/portFailure.ts';
import { readAirHistory } from '../../server/application/readAirHistory.ts';
import { readBatches, readBays, readHealth, readSensors } from '../../server/application/readSnapshot.ts';
import { advanceTime } from '../../server/application/advanceTime.ts';
import { instantFromMs } from '../../server/contract/index.ts';
import { makeMemoryStore } from '../../server/adapters/ledger/memory/makeMemoryStore.ts';
import { openTestShop, OPENS_AT, sayAir, start } from '../support/testShop.ts';

const MINUTE_MS = 60_000;

describe('a reading', () => {
  it('counts as repeated when it comes again and as contradicted with another value', async () => {
    const test = await openTestShop();
    expect(await sayAir(test, 20)).toEqual({ recorded: 1, repeated: 0, setAside: [] });
    expect(await sayAir(test, 20)).toEqual({ recorded: 0, repeated: 1, setAside: [] });
    expect(await sayAir(test, 21)).toEqual({
      recorded: 0,
      repeated: 0,
      setAside: [{ index: 0, reason: 'contradicted' }],
    });
    expect((await readBays(test.shop))[0]).toMatchObject({ airTemperatureC: 20, trust: 'good', ageS: 0 });
  });

  it.each([
    ['two minutes ahead', 2 * MINUTE_MS, 'future'],
    ['25 hours old', -25 * 60 * MINUTE_MS, 'late'],
  ])('that is %s is kept, marked and not used', async (_what, offsetMs, reason) => {
    const test = await openTestShop();
    const at = instantFromMs(OPENS_AT + offsetMs);
    expect((await sayAir(test, 5, { at })).setAside).toEqual([{ index: 0, reason }]);
    expect((await readBays(test.shop))[0]?.trust).toBe('none');
    const columns = await readAirHistory(test.shop, 'bay-1', {
      fromAt: instantFromMs(at - 1),
      toAt: instantFromMs(at + 1),
      stepMin: 0,
    });
    expect(columns).toMatchObject({ airTemperatureC: [5], trust: ['aside'], sensorId: ['bay-1-air'] });
  });

  it('of an unknown sensor is kept aside and the sensor is listed without a bay', async () => {
    const test = await openTestShop();
    const answer = await sayAir(test, 18, { sensorId: 'stranger' });
    expect(answer.setAside).toEqual([{ index: 0, reason: 'unknown-sensor' }]);
    expect(await readSensors(test.shop)).toContainEqual(
      expect.objectContaining({
        id: 'stranger',
        bayId: null,
        lastValues: expect.objectContaining({ airTemperatureC: 18 }) as unknown,
      }),
    );
  });

  it('that jumps by 15 K within a minute is suspect, one that jumps by 9 K is an open door', async () => {
    const test = await openTestShop();
    await sayAir(test, 20);
    await test.clock.moveBy(0.5);
    expect((await sayAir(test, 5)).setAside).toEqual([{ index: 0, reason: 'step' }]);
    await test.clock.moveBy(0.1);
    expect((await sayAir(test, 11)).recorded).toBe(1);
  });

  it('is told to screens with its own instant, the other quantity beside it and the dew point', async () => {
    const test = await openTestShop();
    await sayAir(test, 20, { relativeHumidityPct: 50 });
    await test.clock.moveBy(1);
    await sayAir(test, 19);
    expect(test.air).toHaveLength(2);
    expect(test.air[0]).toMatchObject({ at: '2026-01-12T07:00:00.000Z', airTemperatureC: 20 });
    expect(test.air[0]?.dewPointC).toBeCloseTo(9.255, 2); // REFERENCES DP-2, 20 °C and 50 %.
    expect(test.air[1]).toMatchObject({ at: '2026-01-12T07:01:00.000Z', relativeHumidityPct: 50 });
  });

  it('that cannot be stored is not acknowledged, and the shop says that it is degraded until it can', async () => {
    const store = makeMemoryStore();
    let isBroken = false;
    const air: typeof store.air = {
      ...store.air,
      readSpan: (span) =>
        isBroken
          ? Promise.reject(new PortFailure('air', 'readSpan', { isRetriable: true }))
          : store.air.readSpan(span),
      record: (rows) =>
        isBroken
          ? Promise.reject(new PortFailure('air', 'record', { isRetriable: true }))
          : store.air.record(rows),
    };
    const test = await openTestShop({ ...store, air });
    await sayAir(test, 20);
    await start(test);
    isBroken = true;
    await expect(sayAir(test, 19)).rejects.toBeInstanceOf(PortFailure);
    await advanceTime(test.shop);
    expect((await readHealth(test.shop, '1')).status).toBe('degraded');
    isBroken = false;
    await advanceTime(test.shop);
    expect((await readHealth(test.shop, '1')).status).toBe('ok');
  });
});

describe('the air of a bay', () => {
  it('comes as means over steps, and as every reading with step 0', async () => {
    const test = await openTestShop();
    for (const airTemperatureC of [18, 20, 22, 24]) {
      await sayAir(test, airTemperatureC);
      await test.clock.moveBy(1);
    }
    const span = { fromAt: OPENS_AT, toAt: test.clock.nowAt() };
    const means = await readAirHistory(test.shop, 'bay-1', { ...span, stepMin: 2 });
    expect(means).toMatchObject({
      airTemperatureC: [19, 23],
      at: ['2026-01-12T07:01:00.000Z', '2026-01-12T07:03:00.000Z'],
    });
    const all = await readAirHistory(test.shop, 'bay-1', { ...span, stepMin: 0 });
    expect(all?.airTemperatureC).toEqual([18, 20, 22, 24]);
    expect(await readAirHistory(test.shop, 'nowhere', { ...span, stepMin: 0 })).toBeNull();
  });
});

describe('a sensor that falls silent', () => {
  it('takes the support from an estimate after 45 minutes, however much another bay has to say', async () => {
    const test = await openTestShop();
    await sayAir(test, 5);
    const { id } = await start(test, { thicknessMm: 1 });
    for (let minute = 0; minute < 47; minute += 1) {
      await test.clock.moveBy(0.5);
      await sayAir(test, 20, { sensorId: 'bay-2-air' });
      await test.clock.moveBy(0.5);
    }
    const { batches } = await readBatches(test.shop, { openOnly: true });
    const estimate = batches.find((batch) => batch.id === id)?.estimate;
    expect(estimate?.supported).toBe(false);
    expect(estimate?.notes).toContain('air-stale');
  });
});
