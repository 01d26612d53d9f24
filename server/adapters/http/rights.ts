// Which call needs which right: one table. What is not in it is refused, whatever the application would do with it.
import type { Right, SensorUserKind } from '../../contract/index.ts';

/** open: before a device is paired; sensor: a sensor's user, or a manager; reader: a reader's user, or whoever may view. */
export type Needed = Right | 'open' | SensorUserKind;

export interface Route {
  readonly method: 'GET' | 'POST' | 'PUT';
  /** Below the mount; ":x" stands for one part. */
  readonly path: string;
  readonly needs: Needed;
}

/** What a call needs; null when there is no such call. */
export function findNeeded(
  table: readonly Route[],
  { method, path }: { readonly method: string; readonly path: string },
): Needed | null {
  const asked = method === 'HEAD' ? 'GET' : method;
  return (
    table.find((route) => route.method === asked && isPath({ pattern: route.path, path }))?.needs ?? null
  );
}

/** Compared letter by letter, as sent: what is spelled in another way is another path. */
function isPath({ pattern, path }: { pattern: string; path: string }): boolean {
  const [wanted, parts] = [pattern.split('/'), path.split('/')];
  return (
    wanted.length === parts.length &&
    wanted.every((part, index) => (part.startsWith(':') ? parts[index] !== '' : part === parts[index]))
  );
}

const get = (needs: Needed, ...paths: string[]): Route[] =>
  paths.map((path) => ({ method: 'GET', path, needs }));
const post = (needs: Needed, ...paths: string[]): Route[] =>
  paths.map((path) => ({ method: 'POST', path, needs }));
const put = (needs: Needed, ...paths: string[]): Route[] =>
  paths.map((path) => ({ method: 'PUT', path, needs }));

/** Below /api/v1. */
export const API_RIGHTS: readonly Route[] = [
  ...get('open', '/access'),
  ...post('open', '/access/pair', '/access/sign-in'),
  ...post('sensor', '/readings'),
  ...get('view', '/health', '/snapshot', '/alerts', '/plan', '/bays', '/bays/:id/air', '/bays/:id/cost'),
  ...get(
    'view',
    '/cards',
    '/batches',
    '/batches/:id',
    '/sensors/:id',
    '/openapi.json',
    '/asyncapi.json',
    '/push',
  ),
  ...post('view', '/subscriptions', '/subscriptions/end'),
  ...get('work', '/records', '/records.csv', '/records/:repairOrder', '/reliability'),
  ...post('work', '/batches', '/batches/:id/commands', '/alerts/:id/acknowledgement', '/previews'),
  ...get(
    'manage',
    '/notifications',
    '/settings',
    '/cards/:id',
    '/sensors',
    '/backup',
    '/copies',
    '/copies/:name',
    '/access/setup',
  ),
  ...put('manage', '/settings', '/cards/:id', '/sensors/:id'),
  ...post(
    'manage',
    '/subscriptions/:id/end',
    '/subscriptions/:id/trial',
    '/webhooks/:id/secret',
    '/webhooks/:id/trial',
  ),
  ...post('manage', '/deliveries/again', '/deliveries/forget'),
  ...post(
    'manage',
    '/copies',
    '/cards/previews',
    '/access/sign-out',
    '/access/passphrase',
    '/access/pairings',
  ),
  ...put('manage', '/access/devices/:id', '/access/sensor-users/:name'),
  ...post('manage', '/access/devices/:id/end', '/access/sessions/:id/end', '/access/sensor-users'),
  ...post('manage', '/access/sensor-users/:name/password', '/access/sensor-users/:name/end'),
];

/** Beside the API; pages and their files hold nothing of the shop and are open. */
export const OTHER_RIGHTS: readonly Route[] = [...get('view', '/api/docs'), ...get('reader', '/metrics')];
