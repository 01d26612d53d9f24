// A disk that is full under the running program: nothing is acknowledged that is not stored, over HTTP and MQTT, and all is
// well again by itself once there is room.
import mqtt from 'mqtt';
import { io } from 'socket.io-client';
import { expect, it, onTestFinished } from 'vitest';
import { getJson, postJson } from '../support/http.ts';
import { runServer } from '../support/runServer.ts';
import { mountSmallDisk } from '../support/smallDisk.ts';

const DISK_BYTES = 24 * 1024 * 1024;
const BATCH = { cardId: 'body-filler', panel: 'Bonnet', bayId: 'bay-1', thicknessMm: 2, substrate: 'steel' };
/** A log keeps some room that it had before: more messages than that. */
const TRIES_COUNT = 400;

it('stores all that it acknowledges, says that the disk is full, and goes on when there is room', async () => {
  const disk = mountSmallDisk(DISK_BYTES);
  if (disk === null) {
    process.stdout.write(
      'NO DISK COULD BE FILLED: this machine mounts none. tests/adapters/http/fullStore.test.ts fills a store by its own limit.\n',
    );
    return;
  }
  const server = await runServer({ dataFolder: disk.folder });
  onTestFinished(async () => {
    await server.stop('SIGKILL');
    disk.remove();
  });
  const { address } = server;
  const { body: snapshot } = await getJson(address, '/snapshot');
  const socket = io(`${address}/live`, {
    auth: { ledgerId: snapshot['ledgerId'], sequence: snapshot['sequence'] },
  });
  onTestFinished(() => void socket.close());
  let resyncCount = 0;
  socket.on('resync', () => (resyncCount += 1));
  await new Promise<void>((done) => socket.once('connect', () => done()));
  const firstMs = Date.now() - 3_600_000;
  const acknowledged: number[] = [];
  let number = 0;
  const send = async (): Promise<number> => {
    const sent = number;
    number += 1;
    const reading = {
      sensorId: 'bay-1-air',
      at: new Date(firstMs + sent * 1000).toISOString(),
      airTemperatureC: 18,
    };
    const { status } = await postJson({ address, path: '/readings' }, reading);
    if (status === 200) acknowledged.push(sent);
    return status;
  };
  expect(await send()).toBe(200);

  const makeRoom = disk.fill();
  let status = 200;
  for (let tries = 0; tries < TRIES_COUNT && status === 200; tries += 1) status = await send();
  expect(status).toBe(503);
  expect(await getJson(address, '/health')).toMatchObject({
    status: 503,
    body: { status: 'degraded', parts: { ledger: expect.stringContaining('the disk is full') as unknown } },
  });
  expect((await postJson({ address, path: '/batches' }, BATCH)).status).toBe(503);
  expect((await postJson({ address, path: '/copies' }, {})).body).toMatchObject({ code: 'copy-no-room' });
  await expect.poll(() => resyncCount).toBeGreaterThan(0);

  const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${server.mqttPort}`, {
    clean: false,
    clientId: 'probe',
    reconnectPeriod: 200,
  });
  onTestFinished(() => void client.end(true));
  let isCutOff = false;
  client.once('close', () => {
    isCutOff = true;
    makeRoom();
  });
  const mqttMs = firstMs + 2 * TRIES_COUNT * 1000;
  await client.publishAsync(
    'sandby/v1/readings/bay-1-air',
    JSON.stringify({ at: new Date(mqttMs).toISOString(), airTemperatureC: 18 }),
    { qos: 1 },
  );
  expect(isCutOff).toBe(true);
  expect((await getJson(address, '/health')).status).toBe(200);
  expect((await postJson({ address, path: '/batches' }, BATCH)).status).toBe(201);

  const from = new Date(firstMs - 1000).toISOString();
  const { body } = await getJson(address, `/bays/bay-1/air?from=${from}&stepMin=0`);
  const stored = (body['at'] as string[]).map((at) => (Date.parse(at) - firstMs) / 1000);
  expect(stored).toEqual([...acknowledged, 2 * TRIES_COUNT]);
  expect(((await getJson(address, '/batches')).body['batches'] as unknown[]).length).toBe(1);
  expect(await server.stop()).toBe(0);
});
