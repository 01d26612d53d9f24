// The door for air: stored once, judged, marked, and told to screens with its own instant.
import { describe, expect, it } from 'vitest';
import { PortFailure } from '../../server/application/ports/portFailure.ts';
import { readAirHistory } from '../../server/application/readAirHistory.ts';
import { readSensors } from '../../server/application/readSensors.ts';
import { readBatches, readBays, readHealth } from '../../server/application/readSnapshot.ts';
import { advanceTime } from '../../server/application/advanceTime.ts';
import { recordReading } from '../../server/application/recordReading.ts';
import { instantFromMs, parseReadings } from '../../server/contract/index.ts';
import { makeMemoryStore } from '../../server/adapters/ledger/memory/makeMemoryStore.ts';
import { minutesIn, openTestShop, OPENS_AT, sayAir, start, type TestShop } from '../support/testShop.ts';

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
    // One file holds both: what keeps readings from it keeps facts from it.
    const ledger: typeof store.ledger = {
      ...store.ledger,
      probe: () =>
        isBroken
          ? Promise.reject(new PortFailure('ledger', 'probe', { isRetriable: true }))
          : store.ledger.probe(),
    };
    const test = await openTestShop({ air, ledger });
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

/** Says the same each five minutes for so long, and says how each was taken: a reason, or nothing when it counts. */
async function sayStill(test: TestShop, forMin: number): Promise<(string | undefined)[]> {
  const taken: (string | undefined)[] = [];
  for (let atMin = 0; atMin < forMin; atMin += 5) {
    const answer = await sayAir(test, 20, { relativeHumidityPct: 50 });
    taken.push(answer.setAside[0]?.reason);
    await test.clock.moveBy(5);
  }
  return taken;
}

describe('a measurement as it comes', () => {
  const parse = (measured: object) =>
    parseReadings(measured, { format: 'plain', topicSensorId: 'bay-1-air', nowAt: OPENS_AT });

  it.each([
    // QC-1 (WMO guidelines 2004, 2nd) takes −80 … +60 °C; below −40 °C no film is known (MODEL §6).
    [{ airTemperatureC: -40 }, { airTemperatureC: -40 }],
    [{ airTemperatureC: -40.1 }, null],
    [{ airTemperatureC: 60 }, { airTemperatureC: 60 }],
    [{ airTemperatureC: 60.1 }, null],
    [{ relativeHumidityPct: 0 }, { relativeHumidityPct: 0 }],
    [{ relativeHumidityPct: -0.1 }, null],
    // QC-5 (WMO CBS ET-AWS-1 Doc. 9(2) 2002, seen): up to 104 % accepted and set to 100.
    [{ relativeHumidityPct: 104 }, { relativeHumidityPct: 100 }],
    [{ relativeHumidityPct: 104.1 }, null],
  ])('%j is within or outside what can be', (measured, taken) => {
    const parsed = parse(measured);
    if (taken === null) expect(parsed.kind).toBe('rejected');
    else expect(parsed).toMatchObject({ kind: 'parsed', value: [taken] });
  });
});

describe('a sensor that is stuck', () => {
  it('is kept, marked and not used after three hours of the same, and used again from its first change on', async () => {
    const test = await openTestShop();
    expect(new Set(await sayStill(test, 180))).toEqual(new Set([undefined]));
    const { id } = await start(test);
    expect(new Set(await sayStill(test, 60))).toEqual(new Set(['flat']));
    const estimateNow = async () =>
      (await readBatches(test.shop, { openOnly: true })).batches.find((batch) => batch.id === id)?.estimate;
    expect(await estimateNow()).toMatchObject({ supported: false });
    expect(await readSensors(test.shop)).toContainEqual(expect.objectContaining({ id: 'bay-1-air' }));
    const span = { fromAt: OPENS_AT, toAt: test.clock.nowAt(), stepMin: 0 };
    const { trust } = (await readAirHistory(test.shop, 'bay-1', span)) ?? {};
    expect(trust?.filter((one) => one === 'suspect')).toHaveLength(12);

    expect((await sayAir(test, 20.1, { relativeHumidityPct: 50 })).setAside).toEqual([]);
    await test.clock.moveBy(1);
    expect(await estimateNow()).toMatchObject({ supported: true });
    expect((await sayAir(test, 20.1, { relativeHumidityPct: 50 })).recorded).toBe(1);
  });

  it('is known to be after a restart, from what was stored', async () => {
    const store = makeMemoryStore();
    const before = await openTestShop(store);
    await sayStill(before, 200);
    const after = await openTestShop(store);
    await after.clock.moveTo(before.clock.nowAt());
    expect((await sayAir(after, 20, { relativeHumidityPct: 50 })).setAside).toEqual([
      { index: 0, reason: 'flat' },
    ]);
  });

  it('was not, when another value comes late from in between', async () => {
    const test = await openTestShop();
    await sayStill(test, 200);
    await sayAir(test, 19.5, { at: instantFromMs(test.clock.nowAt() - 63 * MINUTE_MS) });
    expect((await sayAir(test, 20, { relativeHumidityPct: 50 })).recorded).toBe(1);
  });

  it('is one sensor where temperature and humidity come as records of their own', async () => {
    const test = await openTestShop();
    await sayStill(test, 200);
    const say = (relativeHumidityPct: number) => {
      const [sensorId, at] = ['bay-1-air', test.clock.nowAt()];
      return recordReading(test.shop, [
        { index: 0, sensorId, at, airTemperatureC: 20 },
        { index: 1, sensorId, at, relativeHumidityPct },
      ]);
    };
    expect((await say(50)).setAside.map(({ reason }) => reason)).toEqual(['flat', 'flat']);
    await test.clock.moveBy(5);
    expect(await say(51)).toEqual({ recorded: 2, repeated: 0, setAside: [] });
  });
});

describe('readings out of order', () => {
  it('count at their own time and change the estimate', async () => {
    const test = await openTestShop();
    await sayAir(test, 20);
    const batch = await start(test);
    await test.clock.moveBy(12);
    await sayAir(test, 20);
    expect((await sayAir(test, 9, { at: instantFromMs(OPENS_AT + 2 * MINUTE_MS) })).recorded).toBe(1);
    expect((await sayAir(test, 9, { at: instantFromMs(OPENS_AT + 10 * MINUTE_MS) })).recorded).toBe(1);
    await test.clock.moveBy(0.1);
    const [redone] = (await readBatches(test.shop, { openOnly: true })).batches;
    expect(minutesIn(batch, redone?.estimate?.test.p50At)).toBeGreaterThan(
      minutesIn(batch, batch.estimate?.test.p50At) + 2,
    );
    expect(redone?.estimate?.reasons).toContainEqual(
      expect.objectContaining({ code: 'bay-cold', airTemperatureC: 20 }),
    );
    const span = { fromAt: OPENS_AT, toAt: test.clock.nowAt(), stepMin: 0 };
    expect((await readAirHistory(test.shop, 'bay-1', span))?.airTemperatureC).toEqual([20, 9, 9, 20]);
  });

  it('are held against the reading before their own time', async () => {
    const test = await openTestShop();
    await sayAir(test, 20);
    await test.clock.moveBy(10);
    await sayAir(test, 6);
    const late = (airTemperatureC: number, afterS: number) =>
      sayAir(test, airTemperatureC, { at: instantFromMs(OPENS_AT + afterS * 1000) });
    expect((await late(6, 30)).setAside).toEqual([{ index: 0, reason: 'step' }]);
    expect((await late(21, 40)).recorded).toBe(1);
    expect((await late(19, -30)).recorded).toBe(1);
  });
});

describe('what is remembered of a sensor', () => {
  it('saves a read of the air table for each reading but the first', async () => {
    const store = makeMemoryStore();
    let [spanCount, latestCount] = [0, 0];
    const air: typeof store.air = {
      ...store.air,
      readSpan: (span) => ((spanCount += 1), store.air.readSpan(span)),
      readLatest: (...asked) => ((latestCount += 1), store.air.readLatest(...asked)),
    };
    const test = await openTestShop({ ...store, air });
    for (let count = 0; count < 50; count += 1) {
      await sayAir(test, 20 + count / 10);
      await test.clock.moveBy(1);
    }
    // The one left each time is what screens are shown beside it.
    expect([spanCount, latestCount]).toEqual([1, 50]);
  });

  it('holds two messages of one moment against each other', async () => {
    const test = await openTestShop();
    const at = instantFromMs(OPENS_AT + 20_000);
    const [first, second] = await Promise.all([sayAir(test, 20), sayAir(test, 4, { at })]);
    expect([first.recorded, second.setAside]).toEqual([1, [{ index: 0, reason: 'step' }]]);
  });

  it('is not what could not be stored', async () => {
    const store = makeMemoryStore();
    let isBroken = false;
    const air: typeof store.air = {
      ...store.air,
      record: (rows) =>
        isBroken
          ? Promise.reject(new PortFailure('air', 'record', { isRetriable: true }))
          : store.air.record(rows),
    };
    const test = await openTestShop({ ...store, air });
    await sayAir(test, 20);
    await test.clock.moveBy(0.2);
    isBroken = true;
    await expect(sayAir(test, 9)).rejects.toBeInstanceOf(PortFailure);
    isBroken = false;
    await test.clock.moveBy(0.2);
    expect((await sayAir(test, 24)).recorded).toBe(1);
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
