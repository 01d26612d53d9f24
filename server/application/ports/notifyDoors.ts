// The doors of what leaves the pages: what Setup shows and changes of it, phones that subscribe, and what MQTT says.
import type {
  BatchWire,
  BayLight,
  DeliveryAsk,
  NotificationsWire,
  PushKeyWire,
  Subscribe,
  TrialWire,
  WebhookSecretWire,
} from '../../contract/index.ts';

/** Every method throws PortFailure when a store did not do its work. */
export interface NotifyDoors {
  readNotifications(): Promise<NotificationsWire>;
  /** The id under which the phone is kept; null when there are too many. The device where access knows it. */
  subscribe(body: Subscribe, deviceId: string | null): Promise<string | null>;
  readPushKey(): Promise<PushKeyWire>;
  /** Whether it was there. */
  unsubscribe(subscriptionId: string): Promise<boolean>;
  /** The same, for the phone itself. */
  unsubscribeEndpoint(endpoint: string): Promise<boolean>;
  /** A new secret; null for an unknown webhook. */
  renewSecret(webhookId: string): Promise<WebhookSecretWire | null>;
  /** What came of a message that says nothing, sent at once; null for an unknown channel. */
  sendTrial(channelId: string): Promise<TrialWire | null>;
  /** Whether there was something given up. */
  repeatDelivery(ask: DeliveryAsk): Promise<boolean>;
  forgetDelivery(ask: DeliveryAsk): Promise<boolean>;
}

/** What a stack light or a program on the broker is told. */
export interface SignDoors {
  /** By bay. */
  readLights(): Promise<ReadonlyMap<string, BayLight>>;
  readOpenBatches(): Promise<readonly BatchWire[]>;
  /** Batches that closed lately: their topics may still stand somewhere. */
  readLatelyClosed(): Promise<readonly string[]>;
}
