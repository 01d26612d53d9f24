// A sensor that floods: it is slowed down to its pace, loses nothing, and keeps nobody else waiting.
import mqtt, { type MqttClient } from 'mqtt';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { openBroker, type OpenBroker } from '../../../server/adapters/broker/openBroker.ts';
import { makePacer } from '../../../server/application/accessLimits.ts';
import type { AccessDoors } from '../../../server/application/ports/accessDoors.ts';
import { makeAccessDoors } from '../../../server/makeAccessDoors.ts';
import { makeDoors } from '../../../server/makeDoors.ts';
import { openTestAccess, type TestAccess } from '../../support/testAccess.ts';

const PREFIX = 'sandby/v1';
const FLOOD_COUNT = 60;
/** What a hundred readings of some sixty bytes each take beyond the burst, at the least. */
const PLACES_OVER_COUNT = 2;
const PLACE_BYTES = 256;
const PACE = { burstCount: 20, refillMs: 25 };

let test: TestAccess;
let access: AccessDoors;
let broker: OpenBroker;
let clients: MqttClient[];

beforeEach(async () => {
  test = await openTestAccess();
  const pacer = makePacer(PACE);
  const { shop, store, secrets } = test.access;
  access = {
    ...(await makeAccessDoors({ shop, store, secrets }, () => undefined)),
    paceUser: (name, payloadBytes) =>
      pacer.take(name, performance.now(), Math.ceil(payloadBytes / PLACE_BYTES)),
  };
  broker = await openBroker(
    { host: '127.0.0.1', port: 0, topicPrefix: PREFIX },
    { doors: makeDoors(test.shop, { version: '0', refused: () => [] }), log: test.shop.log, access },
  );
  clients = [];
});
afterEach(async () => {
  await Promise.all(clients.map((client) => client.endAsync(true)));
  await broker.close();
});

async function connectAs(name: string, sensorId: string): Promise<MqttClient> {
  const made = await access.makeSensorUser({ name, kind: 'sensor', sensorIds: [sensorId] });
  if (typeof made === 'string') throw new Error(made);
  return connectWith(name, made.password);
}

async function connectWith(name: string, password: string): Promise<MqttClient> {
  const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${broker.port}`, {
    username: name,
    password,
    protocolVersion: 4,
    reconnectPeriod: 0,
  });
  clients.push(client);
  return client;
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
  await access.endSensorUser('north');
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
  const again = await access.renewPassword('north');
  if (typeof again === 'string') throw new Error(again);
  const back = await connectWith('north', again.password);
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
