// The rows of what is refused by HTTP once there is sign-in: who asks for what, and how.
import type { AskOptions } from '../support/accessShop.ts';

export interface Known {
  manager: string;
  view: string;
  work: string;
  /** A device that was ended. */
  ended: string;
  /** A session that was signed out. */
  signedOut: string;
  /** A code that was used. */
  usedCode: string;
  sensorPassword: string;
  readerPassword: string;
}

const API = '/api/v1';
export const START = {
  cardId: 'body-filler',
  panel: 'Roof',
  bayId: 'bay-1',
  thicknessMm: 2,
  substrate: 'steel',
};
export const READING = { sensorId: 'bay-1-air', airTemperatureC: 20 };
const OTHERS_READING = { sensorId: 'bay-2-air', airTemperatureC: 20 };

export function get(path: string): AskOptions {
  return { path: `${API}${path}` };
}

export function post(path: string, body: unknown, method = 'POST'): AskOptions {
  return { method, path: `${API}${path}`, body };
}

export function basic(name: string, password: string): Record<string, string> {
  return { authorization: `Basic ${Buffer.from(`${name}:${password}`).toString('base64')}` };
}

/** The same token with its last letter changed. */
function altered(cookie: string): string {
  return `${cookie.slice(0, -1)}${cookie.endsWith('A') ? 'B' : 'A'}`;
}

export type Row = [what: string, status: number, code: string, ask: (of: Known) => AskOptions];

export const PAIRED_AS_NOBODY: readonly Row[] = [
  ['reading the snapshot', 401, 'not-paired', () => get('/snapshot')],
  ['reading the records as a table', 401, 'not-paired', () => get('/records.csv')],
  ['taking a copy of the shop', 401, 'not-paired', () => get('/backup')],
  ['reading who has access', 401, 'not-paired', () => get('/access/setup')],
  ['starting a batch', 401, 'not-paired', () => post('/batches', START)],
  ['changing settings', 401, 'not-paired', () => post('/settings', {}, 'PUT')],
  ['sending a reading', 401, 'not-paired', () => post('/readings', READING)],
  ['making a code', 401, 'not-paired', () => post('/access/pairings', { right: 'work' })],
  ['asking for a path that is none', 401, 'not-paired', () => get('/nothing')],
  ['reading figures', 401, 'not-paired', () => ({ path: '/metrics' })],
  ['reading the page of the API', 401, 'not-paired', () => ({ path: '/api/docs' })],
];

export const WITH_ANOTHER_RIGHT: readonly Row[] = [
  ['view: starting a batch', 403, 'no-right', ({ view }) => ({ ...post('/batches', START), cookie: view })],
  ['view: a command', 403, 'no-right', ({ view }) => ({ ...post('/batches/b/commands', {}), cookie: view })],
  [
    'view: marking an alert',
    403,
    'no-right',
    ({ view }) => ({ ...post('/alerts/a/acknowledgement', {}), cookie: view }),
  ],
  ['view: reading records', 403, 'no-right', ({ view }) => ({ ...get('/records'), cookie: view })],
  ['view: reading settings', 403, 'no-right', ({ view }) => ({ ...get('/settings'), cookie: view })],
  ['work: reading settings', 403, 'no-right', ({ work }) => ({ ...get('/settings'), cookie: work })],
  [
    'work: changing settings',
    403,
    'no-right',
    ({ work }) => ({ ...post('/settings', {}, 'PUT'), cookie: work }),
  ],
  [
    'work: changing a product',
    403,
    'no-right',
    ({ work }) => ({ ...post('/cards/body-filler', {}, 'PUT'), cookie: work }),
  ],
  ['work: a copy of the shop', 403, 'no-right', ({ work }) => ({ ...get('/backup'), cookie: work })],
  ['work: who has access', 403, 'no-right', ({ work }) => ({ ...get('/access/setup'), cookie: work })],
  [
    'work: making a code',
    403,
    'no-right',
    ({ work }) => ({ ...post('/access/pairings', { right: 'work' }), cookie: work }),
  ],
  [
    'work: ending a device',
    403,
    'no-right',
    ({ work }) => ({ ...post('/access/devices/x/end', {}), cookie: work }),
  ],
  [
    'work: a new user of sensors',
    403,
    'no-right',
    ({ work }) => ({ ...post('/access/sensor-users', {}), cookie: work }),
  ],
  [
    'work: a new passphrase',
    403,
    'no-right',
    ({ work }) => ({ ...post('/access/passphrase', {}), cookie: work }),
  ],
  [
    'work: a reading of a sensor',
    403,
    'no-right',
    ({ work }) => ({ ...post('/readings', READING), cookie: work }),
  ],
];

export const WITH_WRONG_COOKIES: readonly Row[] = [
  [
    'a forged device',
    401,
    'not-paired',
    () => ({ ...get('/snapshot'), cookie: `sandby_device=${'A'.repeat(43)}` }),
  ],
  ['an altered device', 401, 'not-paired', ({ work }) => ({ ...get('/snapshot'), cookie: altered(work) })],
  [
    'an altered session',
    401,
    'not-paired',
    ({ manager }) => ({ ...get('/settings'), cookie: altered(manager) }),
  ],
  [
    'a device as a session',
    401,
    'not-paired',
    ({ work }) => ({ ...get('/settings'), cookie: work.replace('device', 'session') }),
  ],
  [
    'a session as a device',
    401,
    'not-paired',
    ({ manager }) => ({ ...get('/snapshot'), cookie: manager.replace('session', 'device') }),
  ],
  [
    'two of one name',
    401,
    'not-paired',
    ({ work }) => ({ ...get('/snapshot'), cookie: `${work}; sandby_device=${'B'.repeat(43)}` }),
  ],
  ['a device that was ended', 401, 'not-paired', ({ ended }) => ({ ...get('/snapshot'), cookie: ended })],
  [
    'a session that was signed out',
    401,
    'not-paired',
    ({ signedOut }) => ({ ...get('/settings'), cookie: signedOut }),
  ],
];

export const FROM_ELSEWHERE: readonly Row[] = [
  [
    'a foreign page that reads',
    403,
    'not-from-here',
    ({ work }) => ({ ...get('/snapshot'), cookie: work, headers: { origin: 'http://elsewhere.example' } }),
  ],
  [
    'a foreign page that writes',
    403,
    'not-from-here',
    ({ work }) => ({
      ...post('/batches', START),
      cookie: work,
      headers: { origin: 'http://elsewhere.example' },
    }),
  ],
  [
    'a page of another port of this machine',
    403,
    'not-from-here',
    ({ work }) => ({ ...post('/batches', START), cookie: work, headers: { origin: 'http://127.0.0.1:1' } }),
  ],
  [
    'a page without an origin of its own',
    403,
    'not-from-here',
    ({ work }) => ({ ...post('/batches', START), cookie: work, headers: { origin: 'null' } }),
  ],
  [
    'a page that the browser calls foreign',
    403,
    'not-from-here',
    ({ work }) => ({ ...post('/batches', START), cookie: work, headers: { 'sec-fetch-site': 'cross-site' } }),
  ],
  [
    'a name that was bent to this machine',
    403,
    'not-from-here',
    ({ work }) => ({ ...get('/snapshot'), cookie: work, headers: { host: 'elsewhere.example' } }),
  ],
  [
    'no host at all',
    403,
    'not-from-here',
    ({ work }) => ({ ...get('/snapshot'), cookie: work, headers: { host: ' ' } }),
  ],
  [
    'a form',
    415,
    'content-type',
    ({ work }) => ({
      ...post('/batches', 'a=1'),
      cookie: work,
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
    }),
  ],
  [
    'JSON called text',
    415,
    'content-type',
    ({ work }) => ({ ...post('/batches', START), cookie: work, headers: { 'content-type': 'text/plain' } }),
  ],
  [
    'no content type',
    415,
    'content-type',
    ({ manager }) => ({ method: 'POST', path: `${API}/access/sign-out`, cookie: manager }),
  ],
  [
    'a form that signs in',
    415,
    'content-type',
    () => ({
      ...post('/access/sign-in', 'passphrase=x'),
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
    }),
  ],
];

export const BY_CROOKED_PATHS: readonly Row[] = [
  ['other letters', 404, 'unknown-path', ({ work }) => ({ ...get('/Settings'), cookie: work })],
  [
    'other letters before the API',
    403,
    'no-right',
    ({ work }) => ({ path: '/API/v1/settings', cookie: work }),
  ],
  ['a slash at the end', 404, 'unknown-path', ({ work }) => ({ ...get('/settings/'), cookie: work })],
  ['a step back', 404, 'unknown-path', ({ work }) => ({ ...get('/access/../settings'), cookie: work })],
  ['a letter as a number', 404, 'unknown-path', ({ work }) => ({ ...get('/%73ettings'), cookie: work })],
  ['a slash as a number', 404, 'unknown-path', ({ work }) => ({ ...get('/access%2Fsetup'), cookie: work })],
  ['only the head of it', 403, '', ({ work }) => ({ ...get('/settings'), method: 'HEAD', cookie: work })],
  [
    'another method',
    404,
    'unknown-path',
    ({ work }) => ({ ...get('/batches'), method: 'DELETE', cookie: work }),
  ],
  [
    'a method in a header',
    403,
    'no-right',
    ({ view }) => ({
      ...post('/batches', START),
      cookie: view,
      headers: { 'x-http-method-override': 'GET' },
    }),
  ],
];

export const BY_NAME_AND_PASSWORD: readonly Row[] = [
  [
    'a wrong password',
    401,
    'not-paired',
    () => ({ ...post('/readings', READING), headers: basic('north', 'guess') }),
  ],
  [
    'a user that is none',
    401,
    'not-paired',
    ({ sensorPassword }) => ({ ...post('/readings', READING), headers: basic('south', sensorPassword) }),
  ],
  [
    'another sensor’s reading',
    403,
    'not-your-sensor',
    ({ sensorPassword }) => ({
      ...post('/readings', OTHERS_READING),
      headers: basic('north', sensorPassword),
    }),
  ],
  [
    'another sensor’s among its own',
    403,
    'not-your-sensor',
    ({ sensorPassword }) => ({
      ...post('/readings', [READING, OTHERS_READING]),
      headers: basic('north', sensorPassword),
    }),
  ],
  [
    'a reader that sends',
    401,
    'not-paired',
    ({ readerPassword }) => ({ ...post('/readings', READING), headers: basic('light', readerPassword) }),
  ],
  [
    'a sensor that reads',
    401,
    'not-paired',
    ({ sensorPassword }) => ({ ...get('/snapshot'), headers: basic('north', sensorPassword) }),
  ],
  [
    'a sensor that reads figures',
    401,
    'not-paired',
    ({ sensorPassword }) => ({ path: '/metrics', headers: basic('north', sensorPassword) }),
  ],
  [
    'a reader of figures with a wrong password',
    401,
    'not-paired',
    () => ({ path: '/metrics', headers: basic('light', 'guess') }),
  ],
  [
    'a reader that reads more than figures',
    401,
    'not-paired',
    ({ readerPassword }) => ({ ...get('/snapshot'), headers: basic('light', readerPassword) }),
  ],
  [
    'a code a second time',
    403,
    'code-unknown',
    ({ usedCode }) => post('/access/pair', { code: usedCode, name: 'Second' }),
  ],
  [
    'a code that is none',
    403,
    'code-unknown',
    () => post('/access/pair', { code: '2222-2222', name: 'Guess' }),
  ],
  [
    'a wrong passphrase',
    403,
    'passphrase-wrong',
    () => post('/access/sign-in', { passphrase: 'let me in please' }),
  ],
];
