// The way out of the built program: a message that was under way when the program was killed is sent again after the next start,
// under the same identity; lights stand on the broker; keys stay, and no copy of the shop has them.
import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import mqtt from 'mqtt';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { ago, startPanel } from '../support/fillFloor.ts';
import { getJson, postJson } from '../support/http.ts';
import { openReceiver, type Receiver } from '../support/receiver.ts';
import { makeTempFolder, runServer, type RunningServer } from '../support/runServer.ts';

const WAIT_MS = 20_000;
let receiver: Receiver;
let config: string;
const dataFolder = makeTempFolder();

beforeAll(async () => {
  receiver = await openReceiver();
  const shipped = JSON.parse(readFileSync('config/shop.example.json', 'utf8')) as object;
  const webhooks = [{ id: 'desk', name: 'Desk', url: `${receiver.address}/in`, events: ['test'] }];
  config = join(makeTempFolder(), 'shop.json');
  writeFileSync(config, JSON.stringify({ ...shipped, cardsFile: resolve('config/cards.json'), webhooks }));
});
afterAll(() => receiver.close());

const open = (): Promise<RunningServer> => runServer({ config, dataFolder });
const ids = (): unknown[] => receiver.received.map(({ headers }) => headers['webhook-id']);

it('sends again after a kill what was under way, and nothing after that; lights and keys are as they were', async () => {
  receiver.answer = () => undefined;
  const first = await open();
  const { publicKey } = (await getJson(first.address, '/push')).body;
  const reading = { sensorId: 'bay-1-air', airTemperatureC: 22, relativeHumidityPct: 50 };
  await postJson({ address: first.address, path: '/readings' }, reading);
  await startPanel(first.address, { panel: 'Roof', bayId: 'bay-1', mixedAt: ago(60) });
  await expect.poll(() => receiver.received.length, { timeout: WAIT_MS }).toBe(1);
  await first.stop('SIGKILL');

  receiver.answer = (response) => void response.writeHead(204).end();
  const second = await open();
  await expect.poll(() => receiver.received.length, { timeout: WAIT_MS }).toBe(2);
  expect(new Set(ids()).size).toBe(1);
  const owed = async (): Promise<unknown> => (await getJson(second.address, '/health')).body['outbox'];
  await expect.poll(owed).toEqual({ owedCount: 0, oldestS: null, givenUpCount: 0 });

  const client = mqtt.connect(`mqtt://127.0.0.1:${second.mqttPort}`, { protocolVersion: 4 });
  const lights = new Map<string, string>();
  client.on('message', (topic, payload) => void lights.set(topic, payload.toString()));
  await client.subscribeAsync('sandby/v1/bays/+/light');
  await expect
    .poll(() => Object.fromEntries(lights), { timeout: WAIT_MS })
    .toEqual({ 'sandby/v1/bays/bay-1/light': 'test', 'sandby/v1/bays/bay-2/light': 'off' });
  await client.endAsync(true);

  const secret = String(
    (await postJson({ address: second.address, path: '/webhooks/desk/secret' }, {})).body['secret'],
  );
  const copy = await (await fetch(`${second.address}/api/v1/backup`)).arrayBuffer();
  expect(Buffer.from(copy).includes('AlertDelivered')).toBe(true);
  expect(Buffer.from(copy).includes(secret)).toBe(false);
  expect(Buffer.from(copy).includes(String(publicKey))).toBe(false);
  // For the account that runs the program alone.
  expect(statSync(join(dataFolder, 'keys.sqlite')).mode & 0o777).toBe(0o600);
  expect((await getJson(second.address, '/asyncapi.json')).body).toMatchObject({ asyncapi: '3.0.0' });
  expect(await second.stop()).toBe(0);

  const third = await open();
  expect((await getJson(third.address, '/push')).body).toEqual({ publicKey });
  expect(await third.stop()).toBe(0);
  expect(receiver.received).toHaveLength(2);
}, 60_000);
