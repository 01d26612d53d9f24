// What bad input gets, row by row as the product promises (design PRODUCT §7; rights: refusals.test.ts), against the
// built program.
import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { get } from 'node:http';
import { join } from 'node:path';
import mqtt from 'mqtt';
import { io } from 'socket.io-client';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { getJson, postJson, type Reply } from '../support/http.ts';
import { makeTempFolder, runServer, type RunningServer, runUntilEnd } from '../support/runServer.ts';
import { serveShop } from '../support/serveShop.ts';

const START = { cardId: 'body-filler', panel: 'Roof', bayId: 'bay-1', thicknessMm: 2, substrate: 'steel' };
const AN_HOUR_AGO = new Date(Date.now() - 60 * 60_000).toISOString();

let server: RunningServer;

beforeAll(async () => {
  server = await runServer();
  await post('/readings', {
    sensorId: 'bay-1-air',
    airTemperatureC: 20,
    relativeHumidityPct: 50,
    at: AN_HOUR_AGO,
  });
});
afterAll(async () => {
  const code = await server.stop();
  if (code !== 0) throw new Error(`the server ended with ${code}`);
});

function post(path: string, body: unknown, headers: Record<string, string> = {}): Promise<Reply> {
  return postJson({ address: server.address, path }, body, headers);
}

async function startBatch(more: Record<string, unknown> = {}): Promise<string> {
  return String((await post('/batches', { ...START, ...more })).body['id']);
}

async function readCounts(): Promise<{ batches: number; sequence: unknown; readings: number }> {
  const { body } = await getJson(server.address, '/batches');
  const from = new Date(Date.now() - 48 * 60 * 60_000).toISOString();
  const to = new Date(Date.now() + 48 * 60 * 60_000).toISOString();
  const air = await getJson(server.address, `/bays/bay-1/air?stepMin=0&from=${from}&to=${to}`);
  return {
    batches: (body['batches'] as unknown[]).length,
    sequence: body['sequence'],
    readings: (air.body['at'] as unknown[]).length,
  };
}

describe('malformed body, unknown field, wrong unit, out of range', () => {
  it.each<[string, string, unknown, { path: string; allowed: RegExp }]>([
    [
      'an unknown field',
      '/batches',
      { ...START, colour: 'red' },
      { path: 'colour', allowed: /leave it out/ },
    ],
    ['a missing field', '/batches', { ...START, panel: undefined }, { path: 'panel', allowed: /text/ }],
    [
      'a thickness in the wrong unit',
      '/batches',
      { ...START, thicknessMm: 0.002 },
      { path: 'thicknessMm', allowed: /0\.1 … 12 mm/ },
    ],
    [
      'a text for a number',
      '/batches',
      { ...START, thicknessMm: '2' },
      { path: 'thicknessMm', allowed: /0\.1 … 12 mm/ },
    ],
    [
      'too much hardener',
      '/batches',
      { ...START, hardenerPct: 6 },
      { path: 'hardenerPct', allowed: /0\.5 … 5 %/ },
    ],
    [
      'a substrate that is none',
      '/batches',
      { ...START, substrate: 'wood' },
      { path: 'substrate', allowed: /steel, aluminium, plastic/ },
    ],
    [
      'an instant without a zone',
      '/batches',
      { ...START, mixedAt: '2026-01-12 07:00' },
      { path: 'mixedAt', allowed: /ISO 8601/ },
    ],
    [
      'a mix from tomorrow',
      '/batches',
      { ...START, mixedAt: new Date(Date.now() + 864e5).toISOString() },
      { path: 'mixedAt', allowed: /./ },
    ],
    [
      'a text that no screen can show',
      '/batches',
      { ...START, by: 'A\u0000' },
      { path: 'by', allowed: /without control/ },
    ],
    [
      'a car from the future',
      '/batches',
      { ...START, rolledInAt: new Date(Date.now() + 864e5).toISOString() },
      { path: 'rolledInAt', allowed: /./ },
    ],
    ['an array for a batch', '/batches', [START], { path: '', allowed: /object/ }],
    ['a body that is no JSON', '/batches', '{"cardId": ', { path: '', allowed: /JSON/ }],
    [
      'air hotter than a shop',
      '/readings',
      { sensorId: 'bay-1-air', airTemperatureC: 61 },
      { path: 'airTemperatureC', allowed: /-40 … 60 °C/ },
    ],
    [
      'humidity beyond saturation',
      '/readings',
      { sensorId: 'bay-1-air', relativeHumidityPct: 105 },
      { path: 'relativeHumidityPct', allowed: /0 … 104 %/ },
    ],
    [
      'one bad reading among good ones',
      '/readings',
      [
        { sensorId: 'bay-1-air', airTemperatureC: 20 },
        { sensorId: 'bay-1-air', airTemperatureC: -41 },
      ],
      { path: '1.airTemperatureC', allowed: /-40 … 60/ },
    ],
    [
      'a reading of nothing',
      '/readings',
      { sensorId: 'bay-1-air' },
      { path: 'airTemperatureC', allowed: /at least one/ },
    ],
    [
      'a reading of nobody',
      '/readings',
      { airTemperatureC: 20 },
      { path: 'sensorId', allowed: /identifier/ },
    ],
    ['no readings', '/readings', [], { path: '', allowed: /1 … 2000/ }],
  ])('gets 400 with path, reason and bounds and stores nothing: %s', async (_what, path, body, expected) => {
    const before = await readCounts();
    const reply = await post(path, body);
    expect(reply.status).toBe(400);
    expect(reply.type).toContain('application/problem+json');
    const [first] = reply.body['errors'] as { path: string; reason: string; allowed: string }[];
    expect(first?.path).toBe(expected.path);
    expect(first?.reason).not.toBe('');
    expect(first?.allowed).toMatch(expected.allowed);
    expect(await readCounts()).toEqual(before);
  });

  it.each([
    ['in Fahrenheit', [{ bn: 'bay-1-air:', u: 'Far', v: 68 }], '0.u'],
    ['of a larger version', [{ bn: 'bay-1-air:', bver: 11, u: 'Cel', v: 20 }], '0.bver'],
    ['with a text for a value', [{ bn: 'bay-1-air:', u: 'Cel', vs: 'warm' }], '0.v'],
    ['that name no sensor', [{ n: 'temp', u: 'Cel', v: 20 }], '0.bn'],
  ])('gets 400 for SenML readings %s', async (_what, pack, path) => {
    const reply = await post('/readings', pack, { 'content-type': 'application/senml+json' });
    expect(reply).toMatchObject({ status: 400, body: { errors: [{ path }] } });
  });

  it('gets 413 for a body over 256 KiB, 415 for another content type, 400 without a key', async () => {
    const large = JSON.stringify({ ...START, panel: 'x'.repeat(300_000) });
    expect((await post('/batches', large)).status).toBe(413);
    expect((await post('/batches', 'a,b', { 'content-type': 'text/csv' })).status).toBe(415);
    const response = await fetch(`${server.address}/api/v1/batches`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(START),
    });
    expect(response.status).toBe(400);
    expect(((await response.json()) as Reply['body'])['errors']).toMatchObject([{ path: 'Idempotency-Key' }]);
  });

  it('gets 400 for a query that makes no sense', async () => {
    for (const query of [
      'stepMin=-1',
      'from=yesterday',
      'colour=red',
      'from=2026-01-02T00:00:00Z&to=2026-01-01T00:00:00Z',
    ]) {
      expect((await getJson(server.address, `/bays/bay-1/air?${query}`)).status).toBe(400);
    }
  });

  it('acknowledges an MQTT payload that cannot be read, and shows it in Setup', async () => {
    const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${server.mqttPort}`);
    await client.publishAsync('sandby/v1/readings/bay-1-air', 'warm', { qos: 1 });
    await client.publishAsync('sandby/v1/readings/bay-1-air', '{"airTemperatureC": 400}', { qos: 1 });
    await client.endAsync();
    const { body } = await getJson(server.address, '/sensors');
    expect(body['refused']).toMatchObject([
      { topic: 'sandby/v1/readings/bay-1-air', reason: expect.stringContaining('-40 … 60 °C') as unknown },
      { reason: 'is not JSON', excerpt: 'warm' },
    ]);
  });
});

describe('the same command or reading twice', () => {
  it('gets the first answer again and is stored once; with another body the key is refused', async () => {
    const headers = { 'idempotency-key': 'tap-1' };
    const first = await post('/batches', { ...START, panel: 'Sill' }, headers);
    const again = await post('/batches', { ...START, panel: 'Sill' }, headers);
    expect(again).toEqual(first);
    expect((await post('/batches', { ...START, panel: 'Roof' }, headers)).status).toBe(422);
    const { body } = await getJson(server.address, '/batches');
    expect((body['batches'] as { panel: string }[]).filter((batch) => batch.panel === 'Sill')).toHaveLength(
      1,
    );
    const reading = { sensorId: 'bay-2-air', airTemperatureC: 18, at: AN_HOUR_AGO };
    expect((await post('/readings', reading)).body).toMatchObject({ recorded: 1 });
    expect((await post('/readings', reading)).body).toMatchObject({ recorded: 0, repeated: 1 });
  });
});

describe('a command the stage does not allow (sanded twice, check on a wet batch)', () => {
  it('gets 409 with a code and a sentence: a check on a wet batch', async () => {
    const id = await startBatch();
    const reply = await post(`/batches/${id}/commands`, { type: 'recordCheck', outcome: 'gums' });
    expect(reply).toMatchObject({
      status: 409,
      body: { code: 'stage-wet', detail: expect.stringMatching(/wet/) as unknown },
    });
  });

  it('gets 409 with a code and a sentence: sanded twice, spread twice, moved to where it is', async () => {
    const id = await startBatch({ mixedAt: new Date(Date.now() - 30 * 60_000).toISOString() });
    const command = (body: Record<string, unknown>): Promise<Reply> => post(`/batches/${id}/commands`, body);
    expect((await command({ type: 'finishSanding' })).body['code']).toBe('stage-not-sanding');
    expect((await command({ type: 'moveToBay', bayId: 'bay-1' })).body['code']).toBe('same-bay');
    expect((await command({ type: 'markSpread' })).status).toBe(200);
    expect((await command({ type: 'markSpread' })).body['code']).toBe('already-spread');
    expect((await command({ type: 'recordCheck', outcome: 'powders' })).status).toBe(200);
    expect((await command({ type: 'finishSanding' })).status).toBe(200);
    expect(await command({ type: 'finishSanding' })).toMatchObject({
      status: 409,
      body: { code: 'batch-closed' },
    });
    expect((await command({ type: 'scrap', expectedVersion: 1 })).body['code']).toBe('version-stale');
  });
});

describe('unknown batch, bay, sensor', () => {
  it('gets 404, and an unknown sensor is kept aside and shown in Setup', async () => {
    expect((await getJson(server.address, '/batches/nobody')).status).toBe(404);
    expect((await getJson(server.address, '/bays/nowhere/air')).status).toBe(404);
    expect((await getJson(server.address, '/sensors/stranger')).status).toBe(404);
    expect((await getJson(server.address, '/nothing')).status).toBe(404);
    expect((await post('/batches', { ...START, bayId: 'nowhere' })).body['code']).toBe('unknown-bay');
    expect((await post('/batches', { ...START, cardId: 'nothing' })).body['code']).toBe('unknown-card');
    expect((await post('/batches/nobody/commands', { type: 'scrap' })).status).toBe(404);
    expect((await post('/alerts/nobody/acknowledgement', {})).status).toBe(404);
    const answer = await post('/readings', { sensorId: 'stranger', airTemperatureC: 18 });
    expect(answer.body).toMatchObject({ recorded: 0, setAside: [{ index: 0, reason: 'unknown-sensor' }] });
    expect((await getJson(server.address, '/sensors/stranger')).body).toMatchObject({ bayId: null });
    expect((await getJson(server.address, '/health')).body['status']).toBe('ok');
  });
});

describe('reading from the future, older than a day, absurd, flat', () => {
  it('is kept and marked and does not move an estimate', async () => {
    const at = (offsetMin: number): string => new Date(Date.now() + offsetMin * 60_000).toISOString();
    // Heard just now, so that nothing else about the estimate is new.
    await post('/readings', { sensorId: 'bay-1-air', airTemperatureC: 20, at: at(0) });
    const id = await startBatch();
    const before = (await getJson(server.address, `/batches/${id}`)).body;
    const answer = await post('/readings', [
      { sensorId: 'bay-1-air', airTemperatureC: 5, at: at(5) },
      { sensorId: 'bay-1-air', airTemperatureC: 5, at: at(-25 * 60) },
      { sensorId: 'bay-1-air', airTemperatureC: 40, at: at(0.2) },
    ]);
    expect(answer.body).toMatchObject({
      recorded: 0,
      setAside: [
        { index: 0, reason: 'future' },
        { index: 1, reason: 'late' },
        { index: 2, reason: 'step' },
      ],
    });
    const columns = await getJson(
      server.address,
      `/bays/bay-1/air?stepMin=0&from=${at(-26 * 60)}&to=${at(60)}`,
    );
    expect(columns.body['trust']).toEqual(expect.arrayContaining(['aside', 'suspect', 'good']));
    await new Promise((done) => setTimeout(done, 2500));
    const after = (await getJson(server.address, `/batches/${id}`)).body;
    expect((after['estimate'] as Reply['body'])['test']).toEqual(
      (before['estimate'] as Reply['body'])['test'],
    );
  });
});

describe('reading from the future, older than a day, absurd, flat', () => {
  it('is kept and marked when a sensor has said the same for hours', async () => {
    const shop = await serveShop();
    const opensMs = shop.clock.nowAt();
    // Two and a half hours are not yet stuck, four are (decision 21).
    const said = Array.from({ length: 25 }, (_, index) => ({
      sensorId: 'bay-2-air',
      airTemperatureC: 19.5,
      relativeHumidityPct: 48,
      at: new Date(opensMs - (24 - index) * 10 * 60_000).toISOString(),
    }));
    const { body } = await postJson({ address: shop.address, path: '/readings' }, said);
    shop.close();
    const setAside = body['setAside'] as { index: number; reason: string }[];
    expect(setAside.at(-1)).toEqual({ index: 24, reason: 'flat' });
    expect(setAside.every(({ index, reason }) => index > 15 && reason === 'flat')).toBe(true);
    expect(Number(body['recorded']) + setAside.length).toBe(said.length);
  });
});

describe('broken config', () => {
  it.each<[string, (config: Record<string, unknown>) => void, RegExp]>([
    [
      'a port out of range',
      (config) => Object.assign(config, { http: { host: '127.0.0.1', port: 70_000 } }),
      /http\.port.*65535/,
    ],
    ['a key that is none', (config) => Object.assign(config, { colour: 'red' }), /colour.*leave it out/],
    ['a part that is missing', (config) => delete config['bays'], /bays.*is missing/],
    [
      'a sensor in no bay',
      (config) => Object.assign(config, { sensors: [{ id: 's', bayId: 'nowhere' }] }),
      /sensors\.0\.bayId.*bay-1/,
    ],
  ])('refuses to start, names file, key and bounds, exit code 2: %s', async (_what, change, says) => {
    const folder = makeTempFolder();
    const config = JSON.parse(readFileSync('config/shop.example.json', 'utf8')) as Record<string, unknown>;
    change(config);
    const file = join(folder, 'shop.json');
    writeFileSync(file, JSON.stringify(config));
    copyFileSync('config/cards.json', join(folder, 'cards.json'));
    const ended = await runUntilEnd(['--config', file], { SANDBY_DATA: makeTempFolder() });
    expect(ended).toMatchObject({ code: 2, stdout: '' });
    expect(ended.stderr).toContain(file);
    expect(ended.stderr).toMatch(says);
    expect(ended.stderr.trimEnd().split('\n')).toHaveLength(1);
  });
});

describe('disk full, database locked, broker gone', () => {
  // A full disk and a broker without its port are played in process: fullStore.test.ts, keepListening.test.ts.
  it('of a locked database is said as degraded, nothing is acknowledged that is not stored, and it recovers alone', async () => {
    const { DatabaseSync } = await import('@photostructure/sqlite');
    const other = new DatabaseSync(join(server.dataFolder, 'sandby.sqlite'));
    other.exec('BEGIN IMMEDIATE');
    const refused = await post('/readings', { sensorId: 'bay-2-air', airTemperatureC: 17 });
    expect(refused.status).toBe(503);
    expect((await post('/batches', START)).status).toBe(503);
    other.exec('ROLLBACK');
    other.close();
    expect((await post('/readings', { sensorId: 'bay-2-air', airTemperatureC: 17 })).body).toMatchObject({
      recorded: 1,
    });
    expect((await post('/batches', START)).status).toBe(201);
  }, 40_000);
});

describe('a request from a page of another site', () => {
  it.each([
    ['with its own origin', { origin: 'http://elsewhere.example' }, 403],
    ['by a name that was bent to this machine', { host: 'elsewhere.example' }, 403],
    ['as a picture', { 'sec-fetch-site': 'cross-site', 'sec-fetch-mode': 'no-cors' }, 403],
    [
      'by leading the browser to data',
      { 'sec-fetch-site': 'cross-site', 'sec-fetch-mode': 'navigate', 'sec-fetch-dest': 'document' },
      403,
    ],
    ['that nobody was led from', { 'sec-fetch-site': 'none', 'sec-fetch-mode': 'navigate' }, 200],
    ['of this machine by name', { host: 'localhost:4180', origin: 'http://localhost:4180' }, 200],
    ['of this machine by IPv6', { host: '[::1]:4180' }, 200],
  ])('%s is answered %s', async (_what, headers, status) => {
    const { port } = new URL(server.address);
    const got = await new Promise<number | undefined>((resolve, reject) => {
      get({ host: '127.0.0.1', port, path: '/api/v1/snapshot', headers }, (response) => {
        response.resume();
        resolve(response.statusCode);
      }).on('error', reject);
    });
    expect(got).toBe(status);
  });

  it('gets no live feed either', async () => {
    const socket = io(`${server.address}/live`, {
      transports: ['websocket'],
      extraHeaders: { origin: 'http://elsewhere.example' },
      reconnection: false,
    });
    const outcome = await new Promise((done) => {
      socket.once('connect', () => done('connected'));
      socket.once('connect_error', () => done('refused'));
    });
    socket.close();
    expect(outcome).toBe('refused');
  });
});

describe('an answer', () => {
  it('never shows a stack trace or a path of the machine, whatever the path asked for', async () => {
    for (const path of ['/%', '/bays/%E0%A4%A/air', '/../../package.json', `/batches/${'x'.repeat(5000)}`]) {
      const response = await fetch(`${server.address}/api/v1${path}`);
      const text = await response.text();
      expect(response.status).toBeLessThan(500);
      expect(text).not.toMatch(/node_modules|\bat .*\.(ts|js):\d+/);
    }
  });
});

describe('the table of bad input', () => {
  it('has its tests under the names of its rows', () => {
    const sources = ['badInput', 'refusals'].map((name) =>
      readFileSync(`tests/process/${name}.test.ts`, 'utf8'),
    );
    expect(ROWS.filter((row) => !sources.some((source) => source.includes(`describe('${row}'`)))).toEqual([]);
  });
});

/** The inputs of design PRODUCT §7. */
const ROWS = [
  'malformed body, unknown field, wrong unit, out of range',
  'the same command or reading twice',
  'a command the stage does not allow (sanded twice, check on a wet batch)',
  'unknown batch, bay, sensor',
  'reading from the future, older than a day, absurd, flat',
  'broken config',
  'disk full, database locked, broker gone',
  'no right for it',
];
