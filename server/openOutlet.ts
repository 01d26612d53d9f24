// The way out beside the pages, opened: messages to programs and phones, and what stands on the broker.
import { openOutbox, type SendingPorts } from './application/deliverAlerts.ts';
import { makeAlertNews, type NewsListener } from './application/deliverNews.ts';
import { endDeviceSubscriptions, makeNotifyDoors } from './application/deliverSetup.ts';
import { makeSignDoors } from './application/deliverSigns.ts';
import type { Ended } from './application/ports/accessDoors.ts';
import type { NotifyDoors } from './application/ports/notifyDoors.ts';
import { PortFailure } from './application/ports/portFailure.ts';
import type { PushStore } from './application/ports/pushStore.ts';
import type { Shop } from './application/shop.ts';
import type { OpenBroker } from './adapters/broker/openBroker.ts';
import { publishSigns, type SignPublisher } from './adapters/broker/publishSigns.ts';
import type { Config } from './adapters/config/configSchema.ts';
import { makeSqlitePushStore } from './adapters/ledger/sqlite/makeSqlitePushStore.ts';
import type { openKeyStore } from './adapters/ledger/sqlite/openKeyStore.ts';
import { makeNotifier, type NotifierOptions } from './adapters/notify/makeNotifier.ts';
import { makeWebhookSecret } from './adapters/notify/signWebhook.ts';
import { bringPushKeys } from './adapters/notify/vapid.ts';

export interface Outlet {
  readonly doors: NotifyDoors;
  /** Begins to send, and to publish on the broker. */
  start(broker: Pick<OpenBroker, 'publish'>): void;
  /** A device that lost the way in is called no more. */
  readonly endDevice: (ended: Ended) => void;
  stop(): void;
}

export interface OutletParts {
  readonly shop: Shop;
  /** The file of keys; of a test that has none, a store. */
  readonly keys: ReturnType<typeof openKeyStore> | PushStore;
  readonly listen: (listener: NewsListener) => void;
  /** Of a test: where push services may stand, and whose certificates count. */
  readonly notifier?: Pick<NotifierOptions, 'isPushAllowed' | 'tls'>;
}

/** Opens it; the shop's push keys are made at the first start. */
export async function openOutlet(
  { mqtt, pushContact }: Pick<Config, 'mqtt' | 'pushContact'>,
  { shop, keys, listen, notifier = {} }: OutletParts,
): Promise<Outlet> {
  const store = 'readKeys' in keys ? keys : makeSqlitePushStore(keys);
  const pushKeys = await bringPushKeys(store);
  const ports: SendingPorts = {
    store,
    makeSecret: makeWebhookSecret,
    notifier: makeNotifier({ keys: pushKeys, contact: pushContact, ...notifier }),
    chance: Math.random,
  };
  const outbox = openOutbox(shop, ports);
  const { topicPrefix } = mqtt;
  const isAlertNews = makeAlertNews();
  let signs: SignPublisher | null = null;
  let isStopped = false;
  return {
    doors: makeNotifyDoors({ shop, ports, outbox, topicPrefix }),
    start({ publish }) {
      // A shop that is told to stop while it still catches up begins nothing more.
      if (isStopped) return;
      signs = publishSigns({ doors: makeSignDoors(shop), log: shop.log, topicPrefix, publish });
      listen((change) => {
        signs?.tell(change);
        if (isAlertNews(change)) outbox.look();
      });
      outbox.look();
    },
    endDevice({ kind, id }) {
      if (kind !== 'device') return;
      endDeviceSubscriptions(store, id).then(
        () => outbox.look(),
        (error: unknown) => {
          if (!(error instanceof PortFailure)) throw error;
          shop.log.error('phone.not-ended', { deviceId: id });
        },
      );
    },
    stop() {
      isStopped = true;
      signs?.stop();
      outbox.stop();
    },
  };
}
