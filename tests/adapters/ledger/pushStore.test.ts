// Push keys, subscriptions and secrets: the same of a store in memory and of one in the file of keys.
import { describe, expect, it } from 'vitest';
import { makeMemoryPushStore } from '../../../server/adapters/ledger/memory/makeMemoryPushStore.ts';
import { makeSqlitePushStore } from '../../../server/adapters/ledger/sqlite/makeSqlitePushStore.ts';
import { openKeyStore } from '../../../server/adapters/ledger/sqlite/openKeyStore.ts';
import type { PushStore, Subscription } from '../../../server/application/ports/pushStore.ts';
import { makeTempFolder } from '../../support/runServer.ts';
import { OPENS_AT } from '../../support/testShop.ts';

const PHONE: Subscription = {
  id: 'b',
  endpoint: 'https://push.example/b',
  p256dh: 'p',
  auth: 'a',
  language: 'es',
  person: null,
  screens: ['bench', 'floor'],
  deviceId: null,
  sinceAt: OPENS_AT,
};

describe.each<[string, () => PushStore]>([
  ['memory', makeMemoryPushStore],
  ['SQLite', () => makeSqlitePushStore(openKeyStore(makeTempFolder()))],
])('a push store in %s', (_, open) => {
  it('keeps the first pair of keys', async () => {
    const store = open();
    expect(await store.readKeys()).toBeNull();
    await store.keepKeys({ publicKey: 'x', privateKey: 'y' });
    expect(await store.readKeys()).toEqual({ publicKey: 'x', privateKey: 'y' });
  });

  it('keeps subscriptions in order of id, puts one anew, and lets them go', async () => {
    const store = open();
    const other = { ...PHONE, id: 'a', endpoint: 'https://push.example/a', person: 'AB', deviceId: 'd1' };
    await store.putSubscription(PHONE);
    await store.putSubscription(other);
    await store.putSubscription({ ...PHONE, language: 'en', screens: ['setup'] });
    expect(await store.readSubscriptions()).toEqual([
      other,
      { ...PHONE, language: 'en', screens: ['setup'] },
    ]);
    expect(await store.removeSubscription('nobody')).toBe(false);
    expect(await store.removeSubscription('b')).toBe(true);
    expect(await store.removeSubscriptionsOf('d2')).toBe(0);
    expect(await store.removeSubscriptionsOf('d1')).toBe(1);
    expect(await store.readSubscriptions()).toEqual([]);
  });

  it('keeps the newest secret of a webhook', async () => {
    const store = open();
    await store.putSecret({ webhookId: 'b', secret: 'one', madeAt: OPENS_AT });
    await store.putSecret({ webhookId: 'a', secret: 'two', madeAt: OPENS_AT });
    await store.putSecret({ webhookId: 'b', secret: 'three', madeAt: OPENS_AT });
    expect((await store.readSecrets()).map(({ webhookId, secret }) => [webhookId, secret])).toEqual([
      ['a', 'two'],
      ['b', 'three'],
    ]);
  });
});

it('keeps them over a restart, in the file that no copy holds', async () => {
  const folder = makeTempFolder();
  const first = openKeyStore(folder);
  await makeSqlitePushStore(first).putSubscription(PHONE);
  first.close();
  expect(await makeSqlitePushStore(openKeyStore(folder)).readSubscriptions()).toEqual([PHONE]);
});
