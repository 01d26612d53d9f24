// The way out in the whole middle, on a clock that only moves when told to: every try, giving up, what went stale, a restart in
// each state, one slow receiver among others, doubled messages; in memory and on disk.
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openKeyStore } from '../../server/adapters/ledger/sqlite/openKeyStore.ts';
import { makeSqlitePushStore } from '../../server/adapters/ledger/sqlite/makeSqlitePushStore.ts';
import { openSqliteStore } from '../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import { makeMemoryPushStore } from '../../server/adapters/ledger/memory/makeMemoryPushStore.ts';
import { makeMemoryStore } from '../../server/adapters/ledger/memory/makeMemoryStore.ts';
import { readHealth } from '../../server/application/readSnapshot.ts';
import { rebuildViews } from '../../server/application/rebuildViews.ts';
import type { PushStore, Subscription } from '../../server/application/ports/pushStore.ts';
import type { Shop } from '../../server/application/shop.ts';
import {
  DELIVERED,
  factsOf,
  failed,
  openOutboxShop,
  type OutboxShop,
  raise,
  type Sent,
  subject,
  tell,
  webhook,
} from '../support/outboxShop.ts';
import { makeTempFolder } from '../support/runServer.ts';
import { OPENS_AT } from '../support/testShop.ts';

const PHONE: Subscription = {
  id: 'phone-1',
  endpoint: 'https://push.example/1',
  p256dh: 'p',
  auth: 'a',
  language: 'es',
  person: 'AB',
  screens: ['bench'],
  deviceId: null,
  sinceAt: OPENS_AT,
};

interface Stores {
  readonly shop: Partial<Shop>;
  readonly store: PushStore;
}

const STORES: readonly (readonly [string, () => Stores])[] = [
  ['memory', () => ({ shop: makeMemoryStore(), store: makeMemoryPushStore() })],
  [
    'SQLite',
    () => {
      const folder = makeTempFolder();
      const { ledger, air } = openSqliteStore({ file: join(folder, 'sandby.sqlite'), ledgerIdForNew: 'one' });
      return { shop: { ledger, air }, store: makeSqlitePushStore(openKeyStore(folder)) };
    },
  ],
];

/** The same store under a program that was started anew. */
function restart(test: OutboxShop): Promise<OutboxShop> {
  test.outbox.stop();
  return openOutboxShop([], { test });
}

const said = ({ sent }: OutboxShop): string[] => sent.map(({ to, id }) => `${to} ${id}`);

async function endsOf(test: OutboxShop): Promise<string[]> {
  return (await factsOf(test)).flatMap(({ type, body }) =>
    type === 'AlertDelivered'
      ? [`${body.channelId} ${body.message} ${body.trouble?.code ?? 'delivered'} ${body.triesCount}`]
      : [],
  );
}

describe.each(STORES)('what is owed, with stores in %s', (_, open) => {
  it('goes out once to each channel that it is meant for, and so does its end', async () => {
    const test = await openOutboxShop([webhook('one'), webhook('two', { events: ['tooCold'] })], open());
    await raise(test, 'shop.condensation.1');
    expect(said(test)).toEqual(['one shop.condensation.1.raised']);
    await test.clock.moveBy(60);
    await tell(test, 'AlertWithdrawn', { alertId: 'shop.condensation.1' });
    await test.clock.moveBy(60);
    expect(said(test)).toEqual(['one shop.condensation.1.raised', 'one shop.condensation.1.withdrawn']);
    expect(await endsOf(test)).toEqual([
      'webhook:one raised delivered 1',
      'webhook:one withdrawn delivered 1',
    ]);
    expect((await rebuildViews(test.shop.ledger)).differences).toEqual([]);
    expect(await test.shop.ledger.readViews('delivery', { openOnly: true })).toEqual([]);
  });

  it('is tried again after longer and longer, and given up after twelve tries', async () => {
    const test = await openOutboxShop([webhook('one')], open());
    const times: number[] = [];
    test.answers.set('one', () => {
      times.push(test.clock.elapsedMs() / 1000);
      return failed('status', 503);
    });
    await raise(test, 'a');
    await test.clock.moveBy(180);
    const waits = times.slice(1).map((time, index) => time - (times[index] as number));
    // Twice as long each time, ten minutes at most; all of the jitter's half, since chance is 1 here.
    expect(waits).toEqual([2, 4, 8, 16, 32, 64, 128, 256, 512, 600, 600]);
    expect(await endsOf(test)).toEqual(['webhook:one raised status 12']);
    expect(test.shop.outbox).toMatchObject({ owedCount: 0, givenUpCount: 1 });

    // "Send again": it goes out under the same identity, and its end is told too.
    test.answers.delete('one');
    expect(
      await test.outbox.mark({ alertId: 'a', channelId: 'webhook:one' }, { mark: 'again', by: 'MK' }),
    ).toBe(true);
    await test.clock.moveBy(0);
    expect(said(test).at(-1)).toBe('one a.raised');
    expect(test.shop.outbox.givenUpCount).toBe(0);
    await tell(test, 'AlertWithdrawn', { alertId: 'a' });
    expect(said(test).at(-1)).toBe('one a.withdrawn');
    expect((await rebuildViews(test.shop.ledger)).differences).toEqual([]);
  });

  it('is not sent any more when it was withdrawn before its first try', async () => {
    const test = await openOutboxShop([webhook('one')], open());
    test.answers.set('one', () => 'hold');
    await raise(test, 'a');
    await raise(test, 'b');
    expect(said(test)).toEqual(['one a.raised']);
    await tell(test, 'AlertWithdrawn', { alertId: 'b' });
    test.answers.delete('one');
    await test.release('one', DELIVERED);
    await test.clock.moveBy(60);
    expect(said(test)).toEqual(['one a.raised']);
    expect(await test.shop.ledger.readViews('delivery', { openOnly: true })).toHaveLength(1);
  });

  it('is taken back where nobody knows whether the first try came', async () => {
    const test = await openOutboxShop([webhook('one')], open());
    test.answers.set('one', () => failed('timeout'));
    await raise(test, 'a');
    test.answers.delete('one');
    await tell(test, 'AlertWithdrawn', { alertId: 'a' });
    await test.clock.moveBy(1);
    expect(said(test)).toEqual(['one a.raised', 'one a.withdrawn']);
    expect(await endsOf(test)).toEqual(['webhook:one withdrawn delivered 1']);
  });

  it.each([
    ['before the first answer', 'hold', ['one a.raised', 'one a.raised']],
    ['between two tries', failed(), ['one a.raised', 'one a.raised']],
    ['after it got through', DELIVERED, ['one a.raised']],
  ] as const)('survives a restart %s', async (_name, answer, expected) => {
    const test = await openOutboxShop([webhook('one')], open());
    test.answers.set('one', () => answer);
    await raise(test, 'a');
    const again = await restart(test);
    await again.clock.moveBy(1);
    expect([...said(test), ...said(again)]).toEqual(expected);
    await tell(again, 'AlertWithdrawn', { alertId: 'a' });
    expect(said(again).at(-1)).toBe('one a.withdrawn');
    const last = await restart(again);
    await last.clock.moveBy(120);
    expect(said(last)).toEqual([]);
  });

  it('is told again when a crash fell between the send and its fact', async () => {
    const test = await openOutboxShop([webhook('one')], open());
    test.answers.set('one', () => 'hold');
    await raise(test, 'a');
    test.outbox.stop();
    await test.release('one', DELIVERED);
    expect(await endsOf(test)).toEqual([]);
    await tell(test, 'AlertWithdrawn', { alertId: 'a' });
    // It may have come: its end is told, and the alert is not.
    const again = await restart(test);
    await again.clock.moveBy(1);
    expect(said(again)).toEqual(['one a.withdrawn']);
  });
});

describe('a line for many', () => {
  it('that grows is told in its newest form once, however often it changed meanwhile', async () => {
    const test = await openOutboxShop([webhook('one')]);
    await raise(test, 'a');
    test.answers.set('one', () => 'hold');
    await tell(test, 'AlertSubjectsChanged', { alertId: 'a', subjects: [subject('AB'), subject('CD')] });
    await tell(test, 'AlertSubjectsChanged', {
      alertId: 'a',
      subjects: [subject('AB'), subject('CD'), subject('EF')],
    });
    await tell(test, 'AlertAcknowledged', { alertId: 'a' });
    test.answers.delete('one');
    await test.release('one', DELIVERED);
    const ids = test.sent.map(({ id }) => id);
    expect(ids).toHaveLength(3);
    expect(ids[0]).toBe('a.raised');
    expect(ids.slice(1).every((id) => /^a\.changed\.\d+$/.test(id))).toBe(true);
    expect(new Set(ids).size).toBe(3);
  });

  it('calls the phone of whoever joins it, and leaves the phone of whoever left it', async () => {
    const test = await openOutboxShop([]);
    await test.store.putSubscription(PHONE);
    await raise(test, 'a', { subjects: [subject('CD')] });
    await test.clock.moveBy(1);
    expect(test.sent).toEqual([]);
    await tell(test, 'AlertSubjectsChanged', { alertId: 'a', subjects: [subject('CD'), subject('AB')] });
    await tell(test, 'AlertSubjectsChanged', { alertId: 'a', subjects: [subject('CD')] });
    expect(test.sent.map(({ message }) => message)).toEqual(['raised', 'withdrawn']);
  });
});

describe('a phone', () => {
  it('hears no more of what somebody has seen', async () => {
    const test = await openOutboxShop([webhook('one')]);
    await test.store.putSubscription(PHONE);
    await raise(test, 'a');
    await tell(test, 'AlertAcknowledged', { alertId: 'a' });
    const heard = (to: string): string[] =>
      test.sent.filter((sent) => sent.to === to).map(({ message }) => message);
    expect(heard(PHONE.endpoint)).toEqual(['raised', 'withdrawn']);
    expect(heard('one')).toEqual(['raised', 'changed']);
  });

  it('is not called for what was raised before it subscribed', async () => {
    const test = await openOutboxShop([]);
    await raise(test, 'a');
    await test.clock.moveBy(1);
    await test.store.putSubscription({ ...PHONE, sinceAt: test.clock.nowAt() });
    await raise(test, 'b');
    expect(test.sent.map(({ alertId }) => alertId)).toEqual(['b']);
  });

  it('is forgotten when its push service knows it no more, and nothing waits for it', async () => {
    const test = await openOutboxShop([]);
    await test.store.putSubscription(PHONE);
    test.answers.set(PHONE.endpoint, () => ({ kind: 'gone', trouble: { code: 'gone', status: 410 } }));
    await raise(test, 'a');
    await test.clock.moveBy(60);
    expect(test.sent).toHaveLength(1);
    expect(await test.store.readSubscriptions()).toEqual([]);
    await tell(test, 'AlertWithdrawn', { alertId: 'a' });
    expect(test.shop.outbox).toEqual({ owedCount: 0, oldestAt: null, givenUpCount: 0 });
    expect(await test.shop.ledger.readViews('delivery', { openOnly: true })).toEqual([]);
  });
});

describe('one slow receiver', () => {
  it('holds up neither another one nor the shop', async () => {
    const test = await openOutboxShop([webhook('slow'), webhook('quick')]);
    test.answers.set('slow', () => 'hold');
    for (let index = 0; index < 5; index += 1) await raise(test, `a${index}`);
    const to = (name: string): Sent[] => test.sent.filter((sent) => sent.to === name);
    expect(to('quick')).toHaveLength(5);
    // One under way, and no more, however many wait.
    expect(to('slow')).toHaveLength(1);
    test.answers.delete('slow');
    await test.release('slow', DELIVERED);
    expect(to('slow').map(({ alertId }) => alertId)).toEqual(['a0', 'a1', 'a2', 'a3', 'a4']);
  });

  it('may ask for a pause', async () => {
    const test = await openOutboxShop([webhook('one')]);
    test.answers.set(
      'one',
      () => ({ ...failed('status', 429), waitMs: 90_000 }) as ReturnType<typeof failed>,
    );
    await raise(test, 'a');
    await test.clock.moveBy(1.4);
    expect(test.sent).toHaveLength(1);
    await test.clock.moveBy(0.2);
    expect(test.sent).toHaveLength(2);
  });
});

describe('health', () => {
  it('says how much waits, is degraded once something waits for more than ten minutes, and recovers', async () => {
    const test = await openOutboxShop([webhook('one')]);
    test.answers.set('one', () => failed());
    await raise(test, 'a');
    await test.clock.moveBy(5);
    expect(await readHealth(test.shop, '0')).toMatchObject({
      status: 'ok',
      parts: { outbox: 'ok' },
      outbox: { owedCount: 1, oldestS: 300, givenUpCount: 0 },
    });
    await test.clock.moveBy(15);
    const { status, parts } = await readHealth(test.shop, '0');
    expect(status).toBe('degraded');
    expect(parts.outbox).toMatch(/^1 message waits, for \d+ min$/);
    test.answers.delete('one');
    await test.clock.moveBy(15);
    expect(await readHealth(test.shop, '0')).toMatchObject({
      status: 'ok',
      outbox: { owedCount: 0, oldestS: null },
    });
  });
});

describe('what was given up', () => {
  it('can be let be, and then nothing more is said of it', async () => {
    const test = await openOutboxShop([webhook('one')]);
    test.answers.set('one', () => ({ kind: 'gone', trouble: { code: 'gone', status: 410 } }));
    await raise(test, 'a');
    expect(test.shop.outbox.givenUpCount).toBe(1);
    const name = { alertId: 'a', channelId: 'webhook:one' };
    expect(await test.outbox.mark(name, { mark: 'forgotten', by: null })).toBe(true);
    expect(await test.outbox.mark(name, { mark: 'forgotten', by: null })).toBe(false);
    await tell(test, 'AlertWithdrawn', { alertId: 'a' });
    await test.clock.moveBy(60);
    expect(test.sent).toHaveLength(1);
    expect(test.shop.outbox.givenUpCount).toBe(0);
  });
});
