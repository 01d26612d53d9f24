// What a form changes of webhooks: new ones whole, others in part, taken out and back, and from when on they are told.
import { describe, expect, it } from 'vitest';
import type { Instant } from '../../server/contract/index.ts';
import { activeWebhooks, diffWebhooks, type WebhookAsked } from '../../server/domain/deliverWebhooks.ts';
import type { WebhookSetting } from '../../server/domain/settingsChange.ts';
import { readConfig } from '../../server/adapters/config/readConfig.ts';
import { foldSettings, NO_SETTINGS } from '../../server/domain/settings.ts';
import { layOver } from '../../server/domain/settingsInForce.ts';
import type { Fact } from '../../server/domain/facts.ts';
import { minute } from '../support/domainFixtures.ts';

const HELD: WebhookSetting = {
  id: 'a',
  name: 'A',
  url: 'http://a.example/',
  events: null,
  sinceAt: minute(0),
  isRemoved: false,
};
const GONE: WebhookSetting = { ...HELD, id: 'gone', isRemoved: true };
const nowAt: Instant = minute(9);
const diff = (...asked: WebhookAsked[]) => diffWebhooks([HELD, GONE], asked, nowAt);

describe('a webhook', () => {
  it.each<[string, WebhookAsked, Partial<WebhookSetting> | null]>([
    [
      'that is as it was asked for is no change',
      { id: 'a', name: 'A', url: HELD.url, events: null, removed: false },
      null,
    ],
    ['of which nothing is said is no change', { id: 'a' }, null],
    ['gets another name', { id: 'a', name: 'B' }, { name: 'B', sinceAt: minute(0) }],
    ['gets kinds of its own', { id: 'a', events: ['test'] }, { events: ['test'], sinceAt: minute(0) }],
    ['at another address is told from now on', { id: 'a', url: 'http://b.example/' }, { sinceAt: nowAt }],
    ['is taken out', { id: 'a', removed: true }, { isRemoved: true, sinceAt: minute(0) }],
    ['that is not there is not taken out', { id: 'b', removed: true }, null],
    [
      'that is new is told from now on',
      { id: 'b', name: 'B', url: 'u' },
      { id: 'b', events: null, sinceAt: nowAt },
    ],
    [
      'that comes back is told from now on',
      { id: 'gone', name: 'B', url: 'u', events: ['test'] },
      { id: 'gone', isRemoved: false, events: ['test'], sinceAt: nowAt },
    ],
  ])('%s', (_name, asked, expected) => {
    const { changed, missing } = diff(asked);
    expect(missing).toEqual([]);
    if (expected === null) expect(changed).toEqual([]);
    else expect(changed).toMatchObject([expected]);
  });

  it('that is new needs a name and an address', () => {
    expect(diff({ id: 'a', name: 'A' }, { id: 'b' }, { id: 'c', name: 'C' }, { id: 'd', url: 'u' })).toEqual({
      changed: [],
      missing: [
        { index: 1, field: 'name' },
        { index: 1, field: 'url' },
        { index: 2, field: 'url' },
        { index: 3, field: 'name' },
      ],
    });
  });

  it('that was taken out is told nothing', () => {
    expect(activeWebhooks([HELD, GONE])).toEqual([HELD]);
  });
});

describe('webhooks that were put by hand', () => {
  const put = (webhooks: readonly WebhookSetting[] | undefined, sequence: number): Fact => {
    const body = { part: 'shop', paths: ['webhooks.a'], plain: {}, people: [], bays: [], webhooks };
    const at = minute(sequence);
    return {
      type: 'SettingsChanged',
      version: 1,
      sequence,
      at,
      recordedAt: at,
      by: null,
      batchId: null,
      bayId: null,
      body,
    } as unknown as Fact;
  };
  const B = { ...HELD, id: 'b' };

  it('lie over those of the config, the last word on each', () => {
    const facts = [put([HELD, B], 1), put(undefined, 2), put([{ ...HELD, name: 'Other' }, GONE], 3)];
    const byHand = facts.reduce(foldSettings, NO_SETTINGS);
    const config = readConfig('config/shop.example.json', {}).shop;
    const inForce = layOver({ ...config, webhooks: [{ ...GONE, isRemoved: false }] }, byHand);
    expect(inForce.webhooks.map(({ id, name, isRemoved }) => [id, name, isRemoved])).toEqual([
      ['gone', 'A', true],
      ['a', 'Other', false],
      ['b', 'A', false],
    ]);
    // A change of something else leaves no trace of webhooks in what is kept.
    expect([put(undefined, 1)].reduce(foldSettings, NO_SETTINGS).shop.said).not.toHaveProperty('webhooks');
  });
});
