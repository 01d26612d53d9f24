// Push keys, subscriptions and webhook secrets in the shop's file of keys.
import type { DatabaseSyncInstance } from '@photostructure/sqlite';
import type {
  PushKeys,
  PushStore,
  Subscription,
  WebhookSecret,
} from '../../../application/ports/pushStore.ts';
import { makeAttempt } from '../attempt.ts';
import { keepable, keepableOrNull } from '../checkInput.ts';
import { isRetriableError } from './isRetriableError.ts';

/** Makes the store of a database that openKeyStore gave. */
export function makeSqlitePushStore(database: DatabaseSyncInstance): PushStore {
  const attempt = makeAttempt('keys', isRetriableError);
  const statements = prepareAll(database);
  return {
    readKeys: () => attempt('readPushKeys', () => keysFrom(statements.keys.get())),
    keepKeys: ({ publicKey, privateKey }) =>
      attempt('keepPushKeys', () => void statements.keepKeys.run(publicKey, privateKey)),
    readSubscriptions: () =>
      attempt('readSubscriptions', () => (statements.subscriptions.all() as Row[]).map(subscriptionFrom)),
    putSubscription: (subscription) =>
      attempt('putSubscription', () => void statements.put.run(...cellsOf(subscription))),
    removeSubscription: (id) => attempt('removeSubscription', () => statements.remove.run(id).changes > 0),
    removeSubscriptionsOf: (deviceId) =>
      attempt('removeSubscriptionsOf', () => statements.removeOf.run(deviceId).changes),
    readSecrets: () =>
      attempt('readSecrets', () =>
        (statements.secrets.all() as WebhookSecret[]).map(({ webhookId, secret, madeAt }) => ({
          webhookId,
          secret,
          madeAt,
        })),
      ),
    putSecret: ({ webhookId, secret, madeAt }) =>
      attempt('putSecret', () => void statements.putSecret.run(keepable(webhookId), secret, madeAt)),
  };
}

type Row = Omit<Subscription, 'screens'> & { readonly screens: string };

function subscriptionFrom({
  id,
  endpoint,
  p256dh,
  auth,
  language,
  person,
  screens,
  deviceId,
  sinceAt,
}: Row): Subscription {
  const parsed = JSON.parse(screens) as Subscription['screens'];
  return { id, endpoint, p256dh, auth, language, person, screens: parsed, deviceId, sinceAt };
}

function cellsOf(subscription: Subscription): (string | number | null)[] {
  const { id, endpoint, p256dh, auth, language, person, screens, deviceId, sinceAt } = subscription;
  return [
    keepable(id),
    keepable(endpoint),
    p256dh,
    auth,
    language,
    keepableOrNull(person),
    JSON.stringify(screens),
    keepableOrNull(deviceId),
    sinceAt,
  ];
}

function keysFrom(row: unknown): PushKeys | null {
  if (row === undefined) return null;
  const { publicKey, privateKey } = row as PushKeys;
  return { publicKey, privateKey };
}

function prepareAll(database: DatabaseSyncInstance) {
  return {
    keys: database.prepare(
      `SELECT public_key AS publicKey, private_key AS privateKey FROM push_keys WHERE id = 1`,
    ),
    // The first pair stays: phones are subscribed to it.
    keepKeys: database.prepare(
      `INSERT INTO push_keys (id, public_key, private_key) VALUES (1, ?, ?) ON CONFLICT DO NOTHING`,
    ),
    subscriptions: database.prepare(
      `SELECT id, endpoint, p256dh, auth, language, person, screens, device_id AS deviceId, since_at AS sinceAt
       FROM subscriptions ORDER BY id`,
    ),
    put: database.prepare(
      `INSERT INTO subscriptions (id, endpoint, p256dh, auth, language, person, screens, device_id, since_at)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
       ON CONFLICT (id) DO UPDATE SET endpoint = excluded.endpoint, p256dh = excluded.p256dh, auth = excluded.auth,
         language = excluded.language, person = excluded.person, screens = excluded.screens,
         device_id = excluded.device_id, since_at = excluded.since_at`,
    ),
    remove: database.prepare(`DELETE FROM subscriptions WHERE id = ?`),
    removeOf: database.prepare(`DELETE FROM subscriptions WHERE device_id = ?`),
    secrets: database.prepare(
      `SELECT webhook_id AS webhookId, secret, made_at AS madeAt FROM webhook_secrets ORDER BY webhook_id`,
    ),
    putSecret: database.prepare(
      `INSERT INTO webhook_secrets (webhook_id, secret, made_at) VALUES (?, ?, ?)
       ON CONFLICT (webhook_id) DO UPDATE SET secret = excluded.secret, made_at = excluded.made_at`,
    ),
  };
}
