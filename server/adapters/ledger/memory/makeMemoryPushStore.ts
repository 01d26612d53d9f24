// Push keys, subscriptions and secrets that live as long as the process: for tests and days that are played again.
import type {
  PushKeys,
  PushStore,
  Subscription,
  WebhookSecret,
} from '../../../application/ports/pushStore.ts';
import { sortByText } from '../sortByText.ts';

/** Makes an empty one. */
export function makeMemoryPushStore(): PushStore {
  let keys: PushKeys | null = null;
  const subscriptions = new Map<string, Subscription>();
  const secrets = new Map<string, WebhookSecret>();
  return {
    readKeys: async () => keys,
    keepKeys: async (made) => {
      keys = { ...made };
    },
    readSubscriptions: async () => sortByText(subscriptions.values(), ({ id }) => id),
    putSubscription: async (subscription) =>
      void subscriptions.set(subscription.id, structuredClone(subscription)),
    removeSubscription: async (id) => subscriptions.delete(id),
    removeSubscriptionsOf: async (deviceId) => {
      const gone = [...subscriptions.values()].filter((one) => one.deviceId === deviceId);
      for (const { id } of gone) subscriptions.delete(id);
      return gone.length;
    },
    readSecrets: async () => sortByText(secrets.values(), ({ webhookId }) => webhookId),
    putSecret: async (secret) => void secrets.set(secret.webhookId, { ...secret }),
  };
}
