// What the way out needs and no copy of the shop may hold: the shop's push keys, the phones' subscriptions, webhook secrets.
import type { AlertPlace, Instant, Language } from '../../contract/index.ts';

/** The shop's own pair (RFC 8292), in base64url: an uncompressed point and a scalar of P-256. */
export interface PushKeys {
  readonly publicKey: string;
  readonly privateKey: string;
}

export interface Subscription {
  readonly id: string;
  /** Whoever knows it can send to the phone. */
  readonly endpoint: string;
  readonly p256dh: string;
  readonly auth: string;
  readonly language: Language;
  /** Initials; null: everybody's calls. */
  readonly person: string | null;
  readonly screens: readonly AlertPlace[];
  /** The paired device; null where there is no sign-in. */
  readonly deviceId: string | null;
  readonly sinceAt: Instant;
}

export interface WebhookSecret {
  readonly webhookId: string;
  readonly secret: string;
  readonly madeAt: Instant;
}

/** Every method throws PortFailure when the store did not do its work. */
export interface PushStore {
  /** Null before the first start that needs them. */
  readKeys(): Promise<PushKeys | null>;
  keepKeys(keys: PushKeys): Promise<void>;
  /** In order of id. */
  readSubscriptions(): Promise<readonly Subscription[]>;
  /** Puts it in the place of one with the same id. */
  putSubscription(subscription: Subscription): Promise<void>;
  /** Whether it was there. */
  removeSubscription(id: string): Promise<boolean>;
  /** All of one device; says how many. */
  removeSubscriptionsOf(deviceId: string): Promise<number>;
  readSecrets(): Promise<readonly WebhookSecret[]>;
  putSecret(secret: WebhookSecret): Promise<void>;
}
