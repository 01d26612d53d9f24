// Who is told outside the pages: the webhooks of the settings and the phones that subscribed, each with where to send.
import { activeWebhooks } from '../domain/deliverWebhooks.ts';
import type { Channel } from '../domain/deliverOwed.ts';
import type { Target } from './ports/notifier.ts';
import type { PushStore, Subscription } from './ports/pushStore.ts';
import type { Shop } from './shop.ts';

export interface OpenChannel {
  readonly channel: Channel;
  readonly target: Target;
}

/** What the way out is made of. */
export interface OutboxPorts {
  readonly store: PushStore;
  /** A new secret for a webhook, never given before. */
  readonly makeSecret: () => string;
}

/** Every channel by its id; a webhook without a secret gets one, so that nothing ever goes out unsigned. */
export async function readChannels(
  shop: Pick<Shop, 'facts' | 'clock'>,
  ports: OutboxPorts,
): Promise<Map<string, OpenChannel>> {
  const webhooks = activeWebhooks(shop.facts.webhooks);
  const subscriptions = await ports.store.readSubscriptions();
  const channels = subscriptions.map(phoneChannel);
  if (webhooks.length > 0) {
    const secrets = new Map(
      (await ports.store.readSecrets()).map(({ webhookId, secret }) => [webhookId, secret]),
    );
    for (const { id, name, url, events, sinceAt } of webhooks) {
      const secret = secrets.get(id) ?? (await renewSecret(shop, id, ports));
      channels.push({
        channel: { kind: 'webhook', id: webhookChannelId(id), name, events, sinceAt },
        target: { kind: 'webhook', url, secret },
      });
    }
  }
  return new Map(channels.map((one) => [one.channel.id, one]));
}

/** Makes and keeps a new secret for a webhook; the one before is worth nothing from then on. */
export async function renewSecret(
  { clock }: Pick<Shop, 'clock'>,
  webhookId: string,
  { store, makeSecret }: OutboxPorts,
): Promise<string> {
  const secret = makeSecret();
  await store.putSecret({ webhookId, secret, madeAt: clock.nowAt() });
  return secret;
}

/** A phone as facts name it. */
export function phoneChannelId(subscriptionId: string): string {
  return `push:${subscriptionId}`;
}

/** A webhook as facts name it. */
function webhookChannelId(webhookId: string): string {
  return `webhook:${webhookId}`;
}

function phoneChannel(subscription: Subscription): OpenChannel {
  const { id, person, screens, sinceAt, endpoint, p256dh, auth, language } = subscription;
  return {
    channel: { kind: 'push', id: phoneChannelId(id), person, screens, sinceAt },
    target: { kind: 'push', endpoint, p256dh, auth, language },
  };
}
