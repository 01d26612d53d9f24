// A sensor that floods: it is slowed down to its pace, loses nothing, and keeps nobody else waiting.
import type { MqttClient } from 'mqtt';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { makePacer } from '../../../server/application/accessLimits.ts';
import { type AccessBroker, openAccessBroker } from '../../support/accessBroker.ts';

const PREFIX = 'sandby/v1';
const FLOOD_COUNT = 60;
/** What a hundred readings of some sixty bytes each take beyond the burst, at the least. */
const PLACES_OVER_COUNT = 2;
const PLACE_BYTES = 256;
const PACE = { burstCount: 20, refillMs: 25 };

let test: AccessBroker;

beforeEach(async () => {
  const pacer = makePacer(PACE);
  test = await openAccessBroker(PREFIX, {
    paceUser: (name, payloadBytes) =>
      pacer.take(name, performance.now(), Math.ceil(payloadBytes / PLACE_BYTES)),
  });
});
afterEach(() => test.close());

async function connectAs(name: string, sensorId: string): Promise<MqttClient> {
  return test.connect({ username: name, password: await test.makeSensor(name, sensorId) });
}

async function storedCount(): Promise<number> {
  const toAt = test.shop.clock.nowAt();
  const fromAt = (toAt - 3_600_000) as typeof toAt;
  const span = { sensorIds: ['bay-1-air'], fromAt, toAt, goodOnly: false };
  return (await test.shop.air.readSpan(span)).length;
}

function publish(client: MqttClient, sensorId: string, second: number): Promise<unknown> {
  const at = new Date(test.shop.clock.nowAt() - 1000 * second).toISOString();
  const payload = JSON.stringify({ at, airTemperatureC: 20 });
  return client.publishAsync(`${PREFIX}/readings/${sensorId}`, payload, { qos: 1 });
}

it('waits for its own messages, while another sensor’s are taken at once, and all of them are stored', async () => {
  const north = await connectAs('north', 'bay-1-air');
  const south = await connectAs('south', 'bay-2-air');
  let ackedCount = 0;
  const begunMs = performance.now();
  const flood = Array.from({ length: FLOOD_COUNT }, async (_, index) => {
    await publish(north, 'bay-1-air', index + 1);
    ackedCount += 1;
  });
  await publish(south, 'bay-2-air', 1);
  expect(ackedCount).toBeLessThan(FLOOD_COUNT);
  await Promise.all(flood);
  expect(performance.now() - begunMs).toBeGreaterThan((FLOOD_COUNT - PACE.burstCount - 1) * PACE.refillMs);
  expect(await storedCount()).toBe(FLOOD_COUNT);
});

it('takes nothing more of a user that was ended while its messages waited', async () => {
  const north = await connectAs('north', 'bay-1-air');
  const flood = Array.from({ length: FLOOD_COUNT }, (_, index) => publish(north, 'bay-1-air', index + 1));
  void Promise.allSettled(flood);
  await flood[0];
  await test.doors.endSensorUser('north');
  const takenCount = await storedCount();
  expect(takenCount).toBeLessThan(FLOOD_COUNT);
  await new Promise((done) => setTimeout(done, FLOOD_COUNT * PACE.refillMs));
  expect(await storedCount()).toBe(takenCount);
});

it('leaves no debt behind that goes with its connection: who comes back is soon heard again', async () => {
  const north = await connectAs('north', 'bay-1-air');
  const flood = Array.from({ length: 400 }, (_, index) => publish(north, 'bay-1-air', index + 1));
  void Promise.allSettled(flood);
  await flood[0];
  north.stream.destroy();
  await new Promise((done) => setTimeout(done, 100));
  const again = await test.doors.renewPassword('north');
  if (typeof again === 'string') throw new Error(again);
  const back = await test.connect({ username: 'north', password: again.password });
  const begunMs = performance.now();
  await publish(back, 'bay-1-air', 3000);
  // In the line of all that was sent it would have waited for ten seconds.
  expect(performance.now() - begunMs).toBeLessThan(5000);
});

it('counts a message of many readings as many', async () => {
  const north = await connectAs('north', 'bay-1-air');
  const readings = Array.from({ length: 100 }, (_, index) => ({
    at: new Date(test.shop.clock.nowAt() - 1000 * index).toISOString(),
    airTemperatureC: 20,
  }));
  const begunMs = performance.now();
  await north.publishAsync(`${PREFIX}/readings/bay-1-air`, JSON.stringify(readings), { qos: 1 });
  expect(await storedCount()).toBe(100);
  expect(performance.now() - begunMs).toBeGreaterThan(PLACES_OVER_COUNT * PACE.refillMs);
});
