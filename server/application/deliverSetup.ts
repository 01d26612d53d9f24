// What Setup shows and asks of the way out, and phones that come and go.
import {
  CHANNEL_LIMITS,
  type GivenUpWire,
  isoFromInstant,
  isoFromInstantOrNull,
  type NotificationsWire,
  type Subscribe,
  type TrialWire,
} from '../contract/index.ts';
import type { Delivery } from '../domain/deliverBook.ts';
import type { Channel } from '../domain/deliverOwed.ts';
import { activeWebhooks } from '../domain/deliverWebhooks.ts';
import type { Outbox, SendingPorts } from './deliverAlerts.ts';
import { phoneChannelId, readChannels, renewSecret } from './deliverChannels.ts';
import { readOpenDeliveries } from './deliverViews.ts';
import type { NotifyDoors } from './ports/notifyDoors.ts';
import type { PushStore, Subscription } from './ports/pushStore.ts';
import { type AlertView, presentAlert } from './present.ts';
import { owedForS } from './readSnapshot.ts';
import type { Shop } from './shop.ts';

export interface NotifyParts {
  readonly shop: Shop;
  readonly ports: SendingPorts;
  readonly outbox: Outbox;
  readonly topicPrefix: string;
}

/** Makes the doors. */
export function makeNotifyDoors(parts: NotifyParts): NotifyDoors {
  const { shop, ports, outbox } = parts;
  const { store } = ports;
  return {
    readNotifications: () => readNotifications(parts),
    subscribe: (body, deviceId) => subscribe(parts, body, deviceId),
    readPushKey: async () => ({ publicKey: (await store.readKeys())?.publicKey ?? '' }),
    unsubscribe: (id) => unsubscribe(parts, id),
    unsubscribeEndpoint: async (endpoint) => {
      const known = (await store.readSubscriptions()).find((one) => one.endpoint === endpoint);
      return known !== undefined && unsubscribe(parts, known.id);
    },
    renewSecret: async (id) => {
      const isKnown = activeWebhooks(shop.facts.webhooks).some((webhook) => webhook.id === id);
      return isKnown ? { id, secret: await renewSecret(shop, id, ports) } : null;
    },
    sendTrial: (channelId) => sendTrial(parts, channelId),
    repeatDelivery: (ask) => outbox.mark(ask, { mark: 'again', by: ask.by ?? null }),
    forgetDelivery: (ask) => outbox.mark(ask, { mark: 'forgotten', by: ask.by ?? null }),
  };
}

/** What a device subscribed goes with it: to be called when a paired device is ended. */
export async function endDeviceSubscriptions(store: PushStore, deviceId: string): Promise<void> {
  await store.removeSubscriptionsOf(deviceId);
}

async function readNotifications({ shop, ports, topicPrefix }: NotifyParts): Promise<NotificationsWire> {
  const { store } = ports;
  const channels = await readChannels(shop, ports);
  const secrets = await store.readSecrets();
  return {
    webhooks: activeWebhooks(shop.facts.webhooks).map(({ id }) => ({
      id,
      secretMadeAt: isoFromInstantOrNull(secrets.find(({ webhookId }) => webhookId === id)?.madeAt),
    })),
    phones: (await store.readSubscriptions()).map(({ id, endpoint, language, person, screens, sinceAt }) => ({
      id,
      service: new URL(endpoint).host,
      language,
      person,
      screens: [...screens],
      sinceAt: isoFromInstant(sinceAt),
    })),
    owed: { count: shop.outbox.owedCount, oldestS: owedForS(shop) },
    givenUp: await readGivenUp(
      shop,
      [...channels.values()].map(({ channel }) => channel),
    ),
    topicPrefix,
  };
}

/** Newest first; of a channel that is no more nothing waits. */
async function readGivenUp({ ledger }: Shop, channels: readonly Channel[]): Promise<GivenUpWire[]> {
  const found: GivenUpWire[] = [];
  for (const delivery of await readOpenDeliveries(ledger)) {
    const view = (await ledger.readView('alert', delivery.alertId)) as AlertView | null;
    if (view === null) continue;
    for (const channel of channels) found.push(...givenUpOf(delivery, { view, channel }));
  }
  return found.toSorted((left, right) => right.at.localeCompare(left.at));
}

function givenUpOf(
  delivery: Delivery,
  { view, channel }: { view: AlertView; channel: Channel },
): GivenUpWire[] {
  const givenUp = delivery.channels[channel.id]?.givenUp ?? null;
  if (givenUp === null) return [];
  const { panel, sensorId, subjects, kind } = presentAlert(view);
  return [
    {
      alertId: delivery.alertId,
      channelId: channel.id,
      channelName: channel.kind === 'webhook' ? channel.name : null,
      person: channel.kind === 'push' ? channel.person : null,
      message: givenUp.message,
      kind,
      name: panel ?? sensorId,
      subjectCount: subjects.length,
      at: isoFromInstant(givenUp.at),
      triesCount: givenUp.triesCount,
      trouble: { ...givenUp.trouble },
    },
  ];
}

/** The same endpoint again changes what is kept of it, and goes on from where it was. */
async function subscribe(
  { shop, ports, outbox }: NotifyParts,
  { endpoint, keys, language, person, screens }: Subscribe,
  deviceId: string | null,
): Promise<string | null> {
  const { store } = ports;
  // In turns: of many that are asked for at once each must count the one before.
  const id = await shop.turns(async () => {
    const all = await store.readSubscriptions();
    const known = all.find((one) => one.endpoint === endpoint);
    if (!hasPlace(all, known, deviceId)) return null;
    const kept = { id: known?.id ?? shop.makeId(), sinceAt: known?.sinceAt ?? shop.clock.nowAt() };
    await store.putSubscription({ ...kept, endpoint, ...keys, language, person, screens, deviceId });
    return kept.id;
  });
  if (id !== null) outbox.look();
  return id;
}

/** Whether there is a place: a device that comes again has its own, and one device must not take those of all. */
function hasPlace(
  all: readonly Subscription[],
  known: Subscription | undefined,
  deviceId: string | null,
): boolean {
  if (known?.deviceId === deviceId) return true;
  if (known === undefined && all.length >= CHANNEL_LIMITS.phonesCount) return false;
  const ownCount = all.filter((one) => one.deviceId === deviceId).length;
  return deviceId === null || ownCount < CHANNEL_LIMITS.phonesOfDeviceCount;
}

async function unsubscribe({ ports, outbox }: NotifyParts, id: string): Promise<boolean> {
  const wasThere = await ports.store.removeSubscription(id);
  outbox.look();
  return wasThere;
}

async function sendTrial({ shop, ports }: NotifyParts, channelId: string): Promise<TrialWire | null> {
  const open = (await readChannels(shop, ports)).get(channelId);
  if (open === undefined) return null;
  const outcome = await ports.notifier.send(open.target, {
    id: `trial.${shop.makeId()}`,
    message: 'trial',
    alert: null,
    at: shop.clock.nowAt(),
    shopName: shop.facts.name,
  });
  if (outcome.kind === 'gone' && open.target.kind === 'push') {
    const { endpoint } = open.target;
    const lost = (await ports.store.readSubscriptions()).find((one) => one.endpoint === endpoint);
    if (lost !== undefined && phoneChannelId(lost.id) === channelId)
      await ports.store.removeSubscription(lost.id);
  }
  return outcome.kind === 'delivered'
    ? { delivered: true, trouble: null }
    : { delivered: false, trouble: { ...outcome.trouble } };
}
