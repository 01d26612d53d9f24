// Sensors by HTTP: hung by one tap, moved, put right, taken down; what a wrong wish is told.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { SensorWire, SnapshotWire } from '../../../server/contract/index.ts';
import { pathsOf, serveShop, type ServedShop } from '../../support/serveShop.ts';
import { sayAir, start } from '../../support/testShop.ts';

let test: ServedShop;
beforeEach(async () => {
  test = await serveShop();
});
afterEach(() => test.close());

describe('sensors', () => {
  it('that are unknown are hung by one tap, count with what they just said, and move their bay', async () => {
    await sayAir(test, 20);
    const batch = await start(test);
    await sayAir(test, 9, { sensorId: 'stray', relativeHumidityPct: 50 });
    expect(await test.read('/sensors/stray')).toMatchObject({ bayId: null, version: 0 });
    const reply = await test.put('/sensors/stray', { bayId: 'bay-2', name: 'By the door', by: 'AB' });
    expect(reply).toMatchObject({
      status: 200,
      body: {
        id: 'stray',
        version: 1,
        name: 'By the door',
        bayId: 'bay-2',
        lastValues: { airTemperatureC: 9 },
        changes: [{ by: 'AB', paths: ['sensors.stray.bayId', 'sensors.stray.name'] }],
      },
    });
    const [, bay2] = (await test.read<{ bays: SnapshotWire['bays'] }>('/bays')).bays;
    expect(bay2).toMatchObject({ airTemperatureC: 9, relativeHumidityPct: 50, trust: 'good' });
    expect(bay2?.sensorIds).toEqual(['bay-2-air', 'stray']);
    // The next reading of a bay's new sensor moves the windows of what stands there.
    await test.put('/sensors/stray', { bayId: 'bay-1' });
    await test.clock.moveBy(1);
    await sayAir(test, 9, { sensorId: 'stray' });
    await test.clock.moveBy(1);
    const after = await test.read<{ estimate: typeof batch.estimate }>(`/batches/${batch.id}`);
    expect(Date.parse(after.estimate?.test.p50At ?? '')).toBeGreaterThan(
      Date.parse(batch.estimate?.test.p50At ?? '') + 60_000,
    );
  });

  it('leave what they said in the bay where they said it', async () => {
    await sayAir(test, 12);
    await test.clock.moveBy(5);
    await test.put('/sensors/bay-1-air', { bayId: 'bay-2' });
    await test.clock.moveBy(5);
    await sayAir(test, 25);
    const [bay1, bay2] = (await test.read<{ bays: SnapshotWire['bays'] }>('/bays')).bays;
    expect([bay1?.airTemperatureC, bay2?.airTemperatureC]).toEqual([12, 25]);
    const history = await test.read<{ airTemperatureC: number[] }>(
      '/bays/bay-2/air?stepMin=0&to=2026-01-12T09:00:00Z',
    );
    expect(history.airTemperatureC).toEqual([25]);
  });

  it('that are put right say so in their bay at once, as they were heard', async () => {
    await sayAir(test, 20, { relativeHumidityPct: 1 });
    const reply = await test.put('/sensors/bay-1-air', {
      airTemperatureOffsetK: -1.5,
      relativeHumidityOffsetPct: -3,
    });
    expect(reply).toMatchObject({
      status: 200,
      body: { airTemperatureOffsetK: -1.5, lastValues: { airTemperatureC: 20, relativeHumidityPct: 1 } },
    });
    const [bay1] = (await test.read<{ bays: SnapshotWire['bays'] }>('/bays')).bays;
    expect(bay1).toMatchObject({ airTemperatureC: 18.5, relativeHumidityPct: 0 });
    await sayAir(test, 21, { at: (test.clock.nowAt() + 1000) as never });
    expect(test.air.at(-1)).toMatchObject({ bayId: 'bay-1', airTemperatureC: 19.5 });
  });

  it('that are taken down say nothing of their bay any more', async () => {
    await test.put('/sensors/bay-1-air', { bayId: null });
    expect(await sayAir(test, 20)).toMatchObject({ recorded: 0, setAside: [{ reason: 'unknown-sensor' }] });
    expect(await test.read<SensorWire>('/sensors/bay-1-air')).toMatchObject({ bayId: null, version: 1 });
  });

  it.each<[string, unknown, string[]]>([
    ['a bay that is none', { bayId: 'bay-9' }, ['bayId']],
    ['an offset out of bounds', { airTemperatureOffsetK: 11 }, ['airTemperatureOffsetK']],
    [
      'an offset of a sensor that hangs nowhere',
      { bayId: null, airTemperatureOffsetK: 1 },
      ['airTemperatureOffsetK'],
    ],
    ['an unknown field', { room: 'x' }, ['room']],
  ])('refuse %s', async (_what, body, paths) => {
    expect(pathsOf(await test.put('/sensors/bay-1-air', body))).toEqual(paths);
  });

  it('may be called like something that every object has', async () => {
    expect((await test.put('/sensors/__proto__', { bayId: 'bay-1', expectedVersion: 0 })).status).toBe(404);
    await sayAir(test, 15, { sensorId: 'constructor' });
    const reply = await test.put('/sensors/constructor', { bayId: 'bay-1', expectedVersion: 0 });
    expect(reply).toMatchObject({ status: 200, body: { bayId: 'bay-1', version: 1 } });
  });

  it('must have spoken once, or be of the config', async () => {
    expect(await test.put('/sensors/ghost', { bayId: 'bay-1' })).toMatchObject({
      status: 404,
      body: { code: 'unknown-sensor' },
    });
    await sayAir(test, 15, { sensorId: 'ghost' });
    await test.put('/sensors/ghost', { bayId: 'bay-1', by: 'AB' });
    expect(await test.put('/sensors/ghost', { bayId: 'bay-2', expectedVersion: 0 })).toMatchObject({
      status: 409,
    });
  });
});
