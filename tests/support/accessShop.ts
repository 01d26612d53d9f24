// A shop with sign-in, as the built program runs it: passphrase set by the command, devices paired, sensors with passwords.
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { request as plainRequest } from 'node:http';
import { request as tlsRequest } from 'node:https';
import { join, resolve } from 'node:path';
import { makeTempFolder, runServer, type RunningServer } from './runServer.ts';

export const PASSPHRASE = 'a long enough phrase';

export interface Answered {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly body: Record<string, unknown>;
}

export interface AskOptions {
  readonly method?: string;
  readonly path: string;
  readonly body?: unknown;
  readonly cookie?: string | undefined;
  readonly headers?: Record<string, string>;
}

export interface AccessShop {
  readonly server: RunningServer;
  readonly folder: string;
  /** Sends a path as it stands, without any mending. */
  ask(options: AskOptions): Promise<Answered>;
  /** A cookie of a manager. */
  signIn(): Promise<string>;
  /** A cookie of a new device. */
  pair(manager: string, right: 'view' | 'work', name?: string): Promise<string>;
  /** A password of a new user of sensors. */
  makeUser(manager: string, body: { name: string; kind: string; sensorIds: string[] }): Promise<string>;
}

/** Writes the example shop's config with sign-in, and whatever else. */
export function writeAccessConfig(folder: string, changed: Record<string, unknown> = {}): string {
  const example = JSON.parse(readFileSync('config/shop.example.json', 'utf8')) as Record<string, unknown>;
  const file = join(folder, 'shop.json');
  const config = {
    ...example,
    cardsFile: resolve('config/cards.json'),
    access: { kind: 'signIn' },
    ...changed,
  };
  writeFileSync(file, JSON.stringify(config));
  return file;
}

/** Sets the passphrase as a person does. */
export function setPassphrase(config: string, dataFolder: string, passphrase = PASSPHRASE): string {
  return execFileSync(process.execPath, ['dist/server/passphrase.js', '--config', config], {
    input: `${passphrase}\n`,
    env: { ...process.env, SANDBY_DATA: dataFolder },
    stdio: ['pipe', 'pipe', 'pipe'],
  }).toString();
}

/** Starts such a shop. */
export async function runAccessShop(changed: Record<string, unknown> = {}): Promise<AccessShop> {
  const folder = makeTempFolder();
  const config = writeAccessConfig(folder, changed);
  const dataFolder = join(folder, 'data');
  setPassphrase(config, dataFolder);
  const server = await runServer({ config, dataFolder });
  const ask = (options: AskOptions): Promise<Answered> => askServer(server.address, options);
  return {
    server,
    folder,
    ask,
    async signIn() {
      return cookieIn(
        await ask({ method: 'POST', path: '/api/v1/access/sign-in', body: { passphrase: PASSPHRASE } }),
      );
    },
    async pair(manager, right, name = 'Bench phone') {
      const { body } = await ask({
        method: 'POST',
        path: '/api/v1/access/pairings',
        body: { right },
        cookie: manager,
      });
      const pair = { code: String(body['code']), name };
      return cookieIn(await ask({ method: 'POST', path: '/api/v1/access/pair', body: pair }));
    },
    async makeUser(manager, body) {
      const made = await ask({
        method: 'POST',
        path: '/api/v1/access/sensor-users',
        body,
        cookie: manager,
      });
      return String(made.body['password']);
    },
  };
}

/** The cookie that an answer gives, as it is sent back. */
function cookieIn({ status, headers, body }: Answered): string {
  const [given] = [headers['set-cookie'] ?? []].flat();
  if (given === undefined) throw new Error(`no cookie: ${status} ${JSON.stringify(body)}`);
  return given.split(';')[0] ?? '';
}

function askServer(
  address: string,
  { method = 'GET', path, body, cookie, headers = {} }: AskOptions,
): Promise<Answered> {
  const { hostname, port, host, protocol } = new URL(address);
  const text = body === undefined ? undefined : typeof body === 'string' ? body : JSON.stringify(body);
  const sent = {
    host,
    ...(text === undefined
      ? {}
      : { 'content-type': 'application/json', 'content-length': `${Buffer.byteLength(text)}` }),
    ...(cookie === undefined ? {} : { cookie }),
    'idempotency-key': `k-${performance.now()}-${path.length}`,
    ...headers,
  };
  const kept = Object.fromEntries(Object.entries(sent).filter(([, value]) => value !== ''));
  return new Promise((done, fail) => {
    const isTls = protocol === 'https:';
    const target = { host: hostname, port, path, method, headers: kept, rejectUnauthorized: false };
    const asked = (isTls ? tlsRequest : plainRequest)(target, (response) => {
      const chunks: Buffer[] = [];
      response.on('data', (chunk: Buffer) => chunks.push(chunk));
      response.on('end', () => {
        const said = Buffer.concat(chunks).toString();
        // The answer to HEAD says what it would be, and has no body.
        const isJson = said !== '' && String(response.headers['content-type']).includes('json');
        done({
          status: response.statusCode ?? 0,
          headers: response.headers,
          body: isJson ? (JSON.parse(said) as Record<string, unknown>) : { text: said },
        });
      });
    });
    asked.once('error', fail);
    asked.end(text);
  });
}
