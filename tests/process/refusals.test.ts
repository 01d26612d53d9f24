// Who gets in with what: every way in without the right for it, against the built program with sign-in switched on.
import mqtt, { type IClientOptions, type MqttClient } from 'mqtt';
import { io, type Socket } from 'socket.io-client';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type AccessShop, PASSPHRASE, runAccessShop } from '../support/accessShop.ts';
import {
  basic,
  BY_CROOKED_PATHS,
  BY_NAME_AND_PASSWORD,
  FROM_ELSEWHERE,
  get,
  type Known,
  PAIRED_AS_NOBODY,
  post,
  READING,
  START,
  WITH_ANOTHER_RIGHT,
  WITH_WRONG_COOKIES,
} from './refusalRows.ts';

let shop: AccessShop;
let known: Known;

beforeAll(async () => {
  shop = await runAccessShop();
  const manager = await shop.signIn();
  const signedOut = await shop.signIn();
  await shop.ask({ ...post('/access/sign-out', {}), cookie: signedOut });
  const ended = await shop.pair(manager, 'work', 'Lost phone');
  const { body } = await shop.ask({ ...get('/access/setup'), cookie: manager });
  const [device] = body['devices'] as { id: string }[];
  await shop.ask({ ...post(`/access/devices/${device?.id}/end`, {}), cookie: manager });
  const asked = await shop.ask({ ...post('/access/pairings', { right: 'work' }), cookie: manager });
  const usedCode = String(asked.body['code']);
  await shop.ask(post('/access/pair', { code: usedCode, name: 'First' }));
  known = {
    manager,
    signedOut,
    ended,
    usedCode,
    view: await shop.pair(manager, 'view', 'Wall'),
    work: await shop.pair(manager, 'work', 'Bench'),
    sensorPassword: await shop.makeUser(manager, { name: 'north', kind: 'sensor', sensorIds: ['bay-1-air'] }),
    readerPassword: await shop.makeUser(manager, { name: 'light', kind: 'reader', sensorIds: [] }),
  };
});
afterAll(async () => {
  const code = await shop.server.stop();
  if (code !== 0) throw new Error(`the server ended with ${code}`);
});

describe('no right for it', () => {
  describe.each([
    ['by nobody who is paired', PAIRED_AS_NOBODY],
    ['with another device’s right', WITH_ANOTHER_RIGHT],
    ['with a cookie that is worth nothing', WITH_WRONG_COOKIES],
    ['from elsewhere', FROM_ELSEWHERE],
    ['by a crooked path', BY_CROOKED_PATHS],
    ['by name, password or code', BY_NAME_AND_PASSWORD],
  ])('%s', (_how, rows) => {
    it.each(rows)('is refused: %s', async (_what, status, code, askFrom) => {
      const answer = await shop.ask(askFrom(known));
      expect({ status: answer.status, code: answer.body['code'] ?? '' }).toEqual({ status, code });
      expect(answer.headers['set-cookie']).toBeUndefined();
    });
  });

  it('is a table of at least 40 rows', () => {
    const rows = [PAIRED_AS_NOBODY, WITH_ANOTHER_RIGHT, WITH_WRONG_COOKIES, FROM_ELSEWHERE].flat();
    expect([...rows, ...BY_CROOKED_PATHS, ...BY_NAME_AND_PASSWORD].length).toBeGreaterThanOrEqual(40);
  });

  it('has changed nothing, while each right is served what is its own', async () => {
    const { sensorPassword, readerPassword, view, work, manager } = known;
    const snapshot = await shop.ask({ ...get('/snapshot'), cookie: view });
    expect(snapshot).toMatchObject({ status: 200, body: { batches: [] } });
    const settings = await shop.ask({ ...get('/settings'), cookie: manager });
    expect(settings).toMatchObject({ status: 200, body: { version: 0 } });
    const sensors = await shop.ask({ ...get('/sensors'), cookie: manager });
    expect(
      (sensors.body['sensors'] as { lastSeenAt: string | null }[]).every(
        ({ lastSeenAt }) => lastSeenAt === null,
      ),
    ).toBe(true);
    const own = await shop.ask({ ...post('/readings', READING), headers: basic('north', sensorPassword) });
    expect(own).toMatchObject({ status: 200, body: { recorded: 1 } });
    for (const who of [{ cookie: view }, { headers: basic('light', readerPassword) }]) {
      const figures = await shop.ask({ path: '/metrics', ...who });
      expect(figures.status).toBe(200);
      expect(figures.body['text']).toContain('sandby_');
    }
    expect((await shop.ask({ ...post('/batches', START), cookie: work })).status).toBe(201);
  });

  it('stands in the log of the shop once, whatever is tried, without a secret', async () => {
    const { body } = await shop.ask({ ...get('/access/setup'), cookie: known.manager });
    const acts = (body['log'] as { act: string; name: string | null }[]).map(({ act }) => act);
    for (const act of ['refusedPassphrase', 'refusedPairing', 'refusedSensor']) {
      expect(acts.filter((one) => one === act)).toHaveLength(1);
    }
    expect(JSON.stringify(body)).not.toContain(known.usedCode);
    expect(JSON.stringify(body)).not.toContain(known.sensorPassword);
  });
});

describe('the live feed', () => {
  function follow(options: { cookie?: string; origin?: string; transport?: 'polling' }): Socket {
    const { cookie, origin, transport = 'websocket' } = options;
    return io(`${shop.server.address}/live`, {
      transports: [transport],
      reconnection: false,
      forceNew: true,
      extraHeaders: {
        ...(cookie === undefined ? {} : { cookie }),
        ...(origin === undefined ? {} : { origin }),
      },
    });
  }
  const outcomeOf = async (socket: Socket): Promise<string> =>
    new Promise((done) => {
      socket.once('connect', () => done('connected'));
      socket.once('connect_error', () => done('refused'));
    });

  it.each<[string, string, (of: Known) => Parameters<typeof follow>[0]]>([
    ['without a cookie', 'refused', () => ({})],
    ['without a cookie, by polling', 'refused', () => ({ transport: 'polling' })],
    ['with a forged cookie', 'refused', () => ({ cookie: `sandby_device=${'A'.repeat(43)}` })],
    ['of a device that was ended', 'refused', ({ ended }) => ({ cookie: ended })],
    ['for a foreign page', 'refused', ({ view }) => ({ cookie: view, origin: 'http://elsewhere.example' })],
    ['for a paired device', 'connected', ({ view }) => ({ cookie: view })],
  ])('%s is %s', async (_what, expected, from) => {
    const socket = follow(from(known));
    expect(await outcomeOf(socket)).toBe(expected);
    socket.close();
  });

  it('is cut at once when its device is ended, and does not come back', async () => {
    const cookie = await shop.pair(known.manager, 'view', 'Old wall');
    const socket = follow({ cookie });
    expect(await outcomeOf(socket)).toBe('connected');
    const cut = new Promise((done) => socket.once('disconnect', done));
    const { body } = await shop.ask({ ...get('/access/setup'), cookie: known.manager });
    const device = (body['devices'] as { id: string; name: string }[]).find(
      ({ name }) => name === 'Old wall',
    );
    await shop.ask({ ...post(`/access/devices/${device?.id}/end`, {}), cookie: known.manager });
    expect(await cut).toBe('io server disconnect');
    socket.connect();
    expect(await outcomeOf(socket)).toBe('refused');
    expect((await shop.ask({ ...get('/snapshot'), cookie })).status).toBe(401);
  });

  it('is cut when its session is ended', async () => {
    const cookie = await shop.signIn();
    const socket = follow({ cookie });
    expect(await outcomeOf(socket)).toBe('connected');
    const cut = new Promise((done) => socket.once('disconnect', done));
    await shop.ask({ ...post('/access/sign-out', {}), cookie });
    expect(await cut).toBe('io server disconnect');
  });
});

describe('the broker', () => {
  const connect = async (options: IClientOptions = {}): Promise<MqttClient> =>
    mqtt.connectAsync(`mqtt://127.0.0.1:${shop.server.mqttPort}`, { reconnectPeriod: 0, ...options });
  const asSensor = (more: IClientOptions = {}): Promise<MqttClient> =>
    connect({ username: 'north', password: known.sensorPassword, ...more });
  const asReader = (more: IClientOptions = {}): Promise<MqttClient> =>
    connect({ username: 'light', password: known.readerPassword, ...more });

  it.each<[string, number, () => IClientOptions]>([
    ['nobody', 5, () => ({})],
    ['a name without a password', 5, () => ({ username: 'north' })],
    ['a wrong password', 4, () => ({ username: 'north', password: 'guess' })],
    ['a user that is none', 4, () => ({ username: 'south', password: known.sensorPassword })],
    ['another user’s password', 4, () => ({ username: 'light', password: known.sensorPassword })],
  ])('refuses %s with code %i', async (_who, code, options) => {
    await expect(connect(options())).rejects.toMatchObject({ code });
  });

  it.each<[string, string, boolean]>([
    ['another sensor’s topic', 'sandby/v1/readings/bay-2-air', false],
    ['a sensor that is none', 'sandby/v1/readings/stranger', false],
    ['below its own topic', 'sandby/v1/readings/bay-1-air/x', false],
    ['the light of a bay, to stay', 'sandby/v1/bays/bay-1/light', true],
    ['a batch', 'sandby/v1/batches/b1', true],
    ['the broker’s own topics', '$SYS/broker/x', false],
    ['a topic of nobody', 'elsewhere', false],
  ])('closes the connection of a sensor that publishes to %s', async (_what, topic, retain) => {
    const client = await asSensor();
    const closed = new Promise((done) => client.once('close', () => done('closed')));
    client.on('error', () => undefined);
    client.publish(topic, '{"airTemperatureC": 55}', { qos: 1, retain });
    expect(await closed).toBe('closed');
    client.end(true);
  });

  it('closes the connection of a reader that publishes', async () => {
    const client = await asReader();
    const closed = new Promise((done) => client.once('close', () => done('closed')));
    client.publish('sandby/v1/readings/bay-1-air', '{"airTemperatureC": 55}', { qos: 1 });
    expect(await closed).toBe('closed');
    client.end(true);
  });

  it.each([
    ['everything', '#'],
    ['everything of the shop', 'sandby/v1/#'],
    ['readings', 'sandby/v1/readings/+'],
    ['everything of a bay', 'sandby/v1/bays/bay-1/#'],
    ['any of a bay', 'sandby/v1/bays/bay-1/+'],
    ['below a batch', 'sandby/v1/batches/+/x'],
    ['the broker’s own topics', '$SYS/#'],
    ['another prefix', '+/v1/bays/+/light'],
  ])('refuses a reader that subscribes to %s', async (_what, topic) => {
    const client = await asReader();
    await expect(client.subscribeAsync(topic)).rejects.toThrow(/Subscribe error/);
    await client.endAsync();
  });

  it('grants a reader lights and batches, and a sensor nothing', async () => {
    const reader = await asReader();
    await reader.subscribeAsync([
      'sandby/v1/bays/+/light',
      'sandby/v1/batches/+',
      'sandby/v1/bays/bay-1/light',
    ]);
    await reader.endAsync();
    const sensor = await asSensor();
    await expect(sensor.subscribeAsync('sandby/v1/bays/+/light')).rejects.toThrow(/Subscribe error/);
    await sensor.publishAsync('sandby/v1/readings/bay-1-air', '{"airTemperatureC": 21}', { qos: 1 });
    await sensor.endAsync();
  });

  it('does not send the last will of a sensor to a topic that is not its own', async () => {
    const reader = await asReader();
    const heard: string[] = [];
    reader.on('message', (_topic, payload) => heard.push(payload.toString()));
    await reader.subscribeAsync('sandby/v1/bays/+/light');
    const sensor = await asSensor({
      will: { topic: 'sandby/v1/bays/bay-2/light', payload: Buffer.from('stranger'), qos: 1, retain: true },
    });
    const gone = new Promise((done) => sensor.once('close', () => done('gone')));
    sensor.stream.destroy();
    await gone;
    // A round trip after it: what was to come would be here.
    await reader.subscribeAsync('sandby/v1/bays/bay-2/light');
    await (await asReader()).endAsync();
    expect(heard).not.toContain('stranger');
    expect(heard.length).toBeGreaterThan(0);
    await reader.endAsync();
  });

  it('gives no user the place of another that has the same identifier', async () => {
    const reader = await asReader({ clientId: 'panel-1', clean: false });
    await reader.subscribeAsync('sandby/v1/batches/+');
    const sensor = await asSensor({ clientId: 'panel-1', clean: false });
    expect(reader.connected).toBe(true);
    await sensor.endAsync();
    expect(reader.connected).toBe(true);
    await reader.endAsync();
  });

  it('cuts a user that is ended', async () => {
    const password = await shop.makeUser(known.manager, {
      name: 'old',
      kind: 'sensor',
      sensorIds: ['bay-2-air'],
    });
    const client = await connect({ username: 'old', password });
    const closed = new Promise((done) => client.once('close', () => done('closed')));
    await shop.ask({ ...post('/access/sensor-users/old/end', {}), cookie: known.manager });
    expect(await closed).toBe('closed');
    await expect(connect({ username: 'old', password })).rejects.toMatchObject({ code: 4 });
  });
});

describe('guessing', () => {
  it('of codes is slowed down, and says for how long', async () => {
    let answer = await shop.ask(post('/access/pair', { code: '33333333', name: 'Guess' }));
    for (let tryIndex = 0; tryIndex < 20 && answer.status === 403; tryIndex += 1) {
      answer = await shop.ask(post('/access/pair', { code: '44444444', name: 'Guess' }));
    }
    expect(answer).toMatchObject({ status: 429, body: { code: 'too-often' } });
    expect(Number(answer.headers['retry-after'])).toBeGreaterThan(0);
  });

  it('of the passphrase is slowed down, also for the right one', async () => {
    let answer = await shop.ask(post('/access/sign-in', { passphrase: 'wrong' }));
    for (let tryIndex = 0; tryIndex < 10 && answer.status === 403; tryIndex += 1) {
      answer = await shop.ask(post('/access/sign-in', { passphrase: 'wrong' }));
    }
    expect(answer.status).toBe(429);
    expect((await shop.ask(post('/access/sign-in', { passphrase: PASSPHRASE }))).status).toBe(429);
  });

  it('does not keep those out who are in', async () => {
    expect((await shop.ask({ ...get('/snapshot'), cookie: known.work })).status).toBe(200);
  });

  it('and writing without end is slowed down for the device that does it, and for no other', async () => {
    const write = async (): Promise<number> =>
      (await shop.ask({ ...post('/batches/none/commands', {}), cookie: known.work })).status;
    const answers: number[] = [];
    for (let round = 0; round < 100 && !answers.includes(429); round += 1) {
      answers.push(...(await Promise.all(Array.from({ length: 20 }, write))));
    }
    expect(answers.indexOf(429)).toBeGreaterThan(100);
    expect((await shop.ask({ ...post('/access/sign-out', {}), cookie: known.manager })).status).toBe(200);
  });
});
