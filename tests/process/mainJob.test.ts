// The main job through the real doors: a foreign MQTT client, HTTP and SenML each turn air into a window, within a second.
import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { io, type Socket } from 'socket.io-client';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { BatchWire, ChangeWire } from '../../server/contract/index.ts';
import { findMosquittoPub } from '../support/findTools.ts';
import { getJson, postJson } from '../support/http.ts';
import { runServer, type RunningServer } from '../support/runServer.ts';

const BATCH = {
  cardId: 'body-filler',
  panel: 'Left front door',
  bayId: 'bay-1',
  thicknessMm: 2,
  substrate: 'steel',
  hardenerPct: 2,
};
const mosquittoPub = findMosquittoPub();

interface Door {
  readonly name: string;
  say(server: RunningServer, airTemperatureC: number): Promise<void>;
}

const DOORS: Door[] = [
  {
    name: 'a foreign MQTT client with plain JSON',
    say: (server, airTemperatureC) => publish(server, JSON.stringify({ airTemperatureC })),
  },
  {
    name: 'a foreign MQTT client with SenML',
    say: (server, airTemperatureC) =>
      publish(server, JSON.stringify([{ n: 'temp', u: 'Cel', v: airTemperatureC }])),
  },
  {
    name: 'HTTP with plain JSON',
    async say(server, airTemperatureC) {
      const reply = await postJson(
        { address: server.address, path: '/readings' },
        { sensorId: 'bay-1-air', airTemperatureC },
      );
      expect(reply.body).toEqual({ recorded: 1, repeated: 0, setAside: [] });
    },
  },
  {
    name: 'HTTP with SenML',
    async say(server, airTemperatureC) {
      const pack = [{ bn: 'bay-1-air:', n: 'temp', u: 'Cel', v: airTemperatureC }];
      const headers = { 'content-type': 'application/senml+json' };
      const reply = await postJson({ address: server.address, path: '/readings' }, pack, headers);
      expect(reply.body).toEqual({ recorded: 1, repeated: 0, setAside: [] });
    },
  },
];

/** Debian's mosquitto_pub; .ci/run installs it, and where it cannot be had the test fails rather than pretends. */
async function publish(server: RunningServer, payload: string): Promise<void> {
  if (mosquittoPub === null) throw new Error('mosquitto_pub is missing: install mosquitto-clients');
  const flags = [
    '-h',
    '127.0.0.1',
    '-p',
    String(server.mqttPort),
    '-q',
    '1',
    '-t',
    'sandby/v1/readings/bay-1-air',
    '-m',
    payload,
  ];
  await promisify(execFile)(mosquittoPub, flags);
}

function minutesFromMixing(batch: BatchWire, instantAt: string | null | undefined): number {
  return (Date.parse(String(instantAt)) - Date.parse(batch.mixedAt)) / 60_000;
}

/** Waits for a change that shows the batch later than an instant, and says how long that took [ms]. */
function waitForLater(
  socket: Socket,
  { id, laterThanAt }: { id: string; laterThanAt: number },
): Promise<{ batch: BatchWire; tookMs: number }> {
  const begunMs = performance.now();
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => reject(new Error('no later window was told')), 10_000);
    socket.on('change', (change: ChangeWire) => {
      const batch = change.batches.find((one) => one.id === id);
      if (batch === undefined || Date.parse(String(batch.estimate?.test.p50At)) <= laterThanAt) return;
      clearTimeout(timer);
      resolve({ batch, tookMs: performance.now() - begunMs });
    });
  });
}

describe.each(DOORS)('air by $name', (door) => {
  let server: RunningServer;
  beforeAll(async () => {
    server = await runServer();
  });
  afterAll(async () => {
    await server.stop();
  });

  it('gives a window at 20 °C, and a later one with its reason within a second of 11 °C', async () => {
    await door.say(server, 20);
    const { status, body } = await postJson({ address: server.address, path: '/batches' }, BATCH);
    const batch = body as unknown as BatchWire;
    expect(status).toBe(201);
    // 19.5 and 15.0: cure-scenarios.json, "steady 20 °C", an independent solver; 15 to 20 minutes: common practice (TP-3).
    expect(Math.abs(minutesFromMixing(batch, batch.estimate?.test.p50At) - 19.5)).toBeLessThan(1);
    expect(minutesFromMixing(batch, batch.estimate?.buildP50At)).toBeCloseTo(15, 0);
    expect(batch.estimate?.reasons[0]?.code).toBe('edge');

    const { body: snapshot } = await getJson(server.address, '/snapshot');
    const auth = { ledgerId: snapshot['ledgerId'], sequence: snapshot['sequence'] };
    const socket = io(`${server.address}/live`, { auth, transports: ['websocket'] });
    await new Promise((done) => socket.once('connect', () => done(undefined)));
    const later = waitForLater(socket, {
      id: batch.id,
      laterThanAt: Date.parse(String(batch.estimate?.test.p50At)) + 5 * 60_000,
    });
    await door.say(server, 11);
    const { batch: told, tookMs } = await later;
    socket.close();
    process.stdout.write(
      `${door.name}: later window told after ${Math.round(tookMs)} ms (client start included)\n`,
    );
    expect(told.estimate?.reasons[0]).toMatchObject({
      code: 'bay-cold',
      bayId: 'bay-1',
      airTemperatureC: 11,
    });
    // The promise is a second, and the printed figure shows it; a machine busy with other tests gets room.
    expect(tookMs).toBeLessThan(3000);
  });
});

describe('the live feed', () => {
  it('asks a screen with another ledger or a sequence it cannot bridge to read the snapshot', async () => {
    const server = await runServer();
    const { body } = await getJson(server.address, '/snapshot');
    for (const auth of [
      {},
      { ledgerId: 'other', sequence: 0 },
      { ledgerId: body['ledgerId'], sequence: 999 },
    ]) {
      const socket = io(`${server.address}/live`, { auth, transports: ['polling'] });
      await new Promise((done) => socket.once('resync', () => done(undefined)));
      socket.close();
    }
    await server.stop();
  });

  it('gives a screen that was away the changes it missed, in order and without a gap', async () => {
    const server = await runServer();
    const { body: before } = await getJson(server.address, '/snapshot');
    for (const panel of ['Roof', 'Bonnet'])
      await postJson({ address: server.address, path: '/batches' }, { ...BATCH, panel });
    const auth = { ledgerId: before['ledgerId'], sequence: before['sequence'] };
    const socket = io(`${server.address}/live`, { auth });
    const changes: ChangeWire[] = [];
    await new Promise((done) => {
      socket.on('change', (change: ChangeWire) => {
        changes.push(change);
        if (changes.length === 2) done(undefined);
      });
    });
    socket.close();
    expect(changes.map((change) => change.batches[0]?.panel)).toEqual(['Roof', 'Bonnet']);
    expect(changes[0]?.afterSequence).toBe(before['sequence']);
    expect(changes[1]?.afterSequence).toBe(changes[0]?.sequence);
    await server.stop();
  });
});
