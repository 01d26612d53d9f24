// Access of the built program from its start: what it refuses to listen to, the passphrase's command, certificates, keys apart.
import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { spawnSync } from 'node:child_process';
import { join, resolve } from 'node:path';
import mqtt from 'mqtt';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type AccessShop, runAccessShop, setPassphrase, writeAccessConfig } from '../support/accessShop.ts';
import { makeTempFolder, runUntilEnd } from '../support/runServer.ts';

const pair = (name: string) => ({
  certFile: resolve(`tests/fixtures/tls/${name}.cert.pem`),
  keyFile: resolve(`tests/fixtures/tls/${name}.key.pem`),
});
const HTTP = { host: '127.0.0.1', port: 0 };
const MQTT = { host: '127.0.0.1', port: 0, topicPrefix: 'sandby/v1' };

describe('a config that would let strangers in', () => {
  it.each<[string, Record<string, unknown>, RegExp]>([
    [
      'pages beyond loopback without sign-in',
      { http: { ...HTTP, host: '0.0.0.0' }, access: undefined },
      /shop\.json: http\.host: is reached by other machines, and there is no sign-in; allowed: 127\.0\.0\.1.*signIn/,
    ],
    [
      'a broker beyond loopback without sign-in',
      { mqtt: { ...MQTT, host: '::' }, access: undefined },
      /mqtt\.host: is reached/,
    ],
    [
      'invented people with sign-in',
      {
        clock: { kind: 'simulated', rate: 20, startsAt: '06:40' },
        simulator: { scenario: 'twoBays', seed: 1 },
      },
      /simulator: plays people who do not sign in/,
    ],
    [
      'an origin with a path',
      { access: { kind: 'signIn', origins: ['https://shop.example/x'] } },
      /access\.origins\.0: is no origin/,
    ],
    ['another kind of access', { access: { kind: 'none' } }, /access\.kind/],
    [
      'a certificate that is not there',
      { http: { ...HTTP, tls: { ...pair('first'), certFile: 'gone.pem' } } },
      /http\.tls\.certFile: .*gone\.pem cannot be read \(ENOENT\)/,
    ],
    [
      'a key of another certificate',
      { mqtt: { ...MQTT, tls: { ...pair('first'), keyFile: pair('second').keyFile } } },
      /mqtt\.tls: the key in .*second\.key\.pem does not belong/,
    ],
  ])('stops the start with one line: %s', async (_what, changed, says) => {
    const folder = makeTempFolder();
    const config = writeAccessConfig(folder, changed);
    const ended = await runUntilEnd(['--config', config], {
      SANDBY_HTTP_PORT: '0',
      SANDBY_MQTT_PORT: '0',
      SANDBY_DATA: join(folder, 'data'),
    });
    expect(ended.code).toBe(2);
    expect(ended.stderr.trim().split('\n')).toHaveLength(1);
    expect(ended.stderr).toMatch(says);
  });
});

describe('the command for the passphrase', () => {
  it.each([
    ['a short one', 'short\n', /the passphrase is too short; allowed: at least 12 characters/],
    ['none', '', /no passphrase came/],
  ])('refuses %s with one line and 2', (_what, input, says) => {
    const folder = makeTempFolder();
    const config = writeAccessConfig(folder);
    const ended = spawnSync(process.execPath, ['dist/server/passphrase.js', '--config', config], {
      input,
      env: { ...process.env, SANDBY_DATA: join(folder, 'data') },
    });
    expect(ended.status).toBe(2);
    expect(ended.stderr.toString()).toMatch(says);
    expect(ended.stderr.toString().trim().split('\n')).toHaveLength(1);
  });
});

describe('a shop for a whole network, with certificates', () => {
  let shop: AccessShop;
  const folder = makeTempFolder();
  const own = { certFile: join(folder, 'cert.pem'), keyFile: join(folder, 'key.pem') };
  const put = (name: string): void => {
    writeFileSync(own.keyFile, readFileSync(pair(name).keyFile));
    writeFileSync(own.certFile, readFileSync(pair(name).certFile));
  };

  beforeAll(async () => {
    put('first');
    shop = await runAccessShop({
      http: { ...HTTP, host: '0.0.0.0', tls: own },
      mqtt: { ...MQTT, tls: own },
    });
  });
  afterAll(async () => {
    const code = await shop.server.stop();
    if (code !== 0) throw new Error(`the server ended with ${code}`);
  });

  it('prints an address that phones can open, and serves it encrypted, with cookies that stay so', async () => {
    expect(shop.server.address).toMatch(/^https:\/\/(\d+\.\d+\.\d+\.\d+|localhost):\d+$/);
    const page = await shop.ask({ path: '/pair' });
    expect(page.status).toBe(200);
    expect(page.headers['strict-transport-security']).toMatch(/max-age=\d{7,}/);
    expect(page.headers['content-security-policy']).toContain('upgrade-insecure-requests');
    const manager = await shop.signIn();
    expect(manager).toMatch(/^__Host-sandby_session=/);
    const asked = await shop.ask({
      method: 'POST',
      path: '/api/v1/access/pairings',
      body: { right: 'work' },
      cookie: manager,
    });
    const { code, address } = asked.body as { code: string; address: string };
    expect(address).toBe(`${shop.server.address}/pair#${code}`);
    const paired = await shop.ask({
      method: 'POST',
      path: '/api/v1/access/pair',
      body: { code, name: 'Phone' },
    });
    const [cookie] = [paired.headers['set-cookie'] ?? []].flat();
    expect(cookie).toMatch(
      /^__Host-sandby_device=[\w-]{43}; Max-Age=34560000; Path=\/; HttpOnly; SameSite=Strict; Secure$/,
    );
  });

  it('takes a reading by MQTT over TLS from a user of sensors', async () => {
    const manager = await shop.signIn();
    const password = await shop.makeUser(manager, {
      name: 'north',
      kind: 'sensor',
      sensorIds: ['bay-1-air'],
    });
    const url = `mqtts://127.0.0.1:${shop.server.mqttPort}`;
    const client = await mqtt.connectAsync(url, { username: 'north', password, rejectUnauthorized: false });
    await client.publishAsync('sandby/v1/readings/bay-1-air', '{"airTemperatureC": 21}', { qos: 1 });
    await client.endAsync();
    const { body } = await shop.ask({ path: '/api/v1/sensors/bay-1-air', cookie: manager });
    expect(body).toMatchObject({ lastValues: { airTemperatureC: 21 } });
  });

  it('ends every session when the command changes the passphrase beside it', async () => {
    const manager = await shop.signIn();
    const said = setPassphrase(join(shop.folder, 'shop.json'), shop.server.dataFolder, 'another long phrase');
    expect(said).toMatch(/is changed/);
    const old = {
      method: 'POST',
      path: '/api/v1/access/sign-in',
      body: { passphrase: 'a long enough phrase' },
    };
    expect((await shop.ask(old)).body['code']).toBe('passphrase-wrong');
    expect((await shop.ask({ path: '/api/v1/settings', cookie: manager })).status).toBe(401);
  });

  it('keeps its keys apart from the shop, for its owner alone', async () => {
    const keys = join(shop.server.dataFolder, 'keys.sqlite');
    expect((statSync(keys).mode & 0o777).toString(8)).toBe('600');
    const store = readFileSync(join(shop.server.dataFolder, 'sandby.sqlite')).toString('latin1');
    for (const word of ['argon2id', 'token_hash', 'password_hash']) expect(store).not.toContain(word);
  });
});
