// Which changes are news for the ways out: each turn of an alert once, and nothing of windows that only move.
import { expect, it } from 'vitest';
import { makeAlertNews, shareNews } from '../../server/application/deliverNews.ts';
import type { AlertWire, ChangeWire } from '../../server/contract/index.ts';
import { makeAlert } from '../dashboard/fixtures.ts';

function change(...alerts: Partial<AlertWire>[]): ChangeWire {
  return { sequence: 2, afterSequence: 1, batches: [], alerts: alerts.map((parts) => makeAlert(parts)) };
}

it('are each turn of an alert, once', () => {
  const isNews = makeAlertNews();
  const at = '2026-01-12T07:00:00.000Z';
  expect(isNews(change())).toBe(false);
  expect(isNews(change({ id: 'a' }))).toBe(true);
  expect(isNews(change({ id: 'a' }))).toBe(false);
  expect(isNews(change({ id: 'a' }, { id: 'b' }))).toBe(true);
  expect(isNews(change({ id: 'a', acknowledgedAt: at }))).toBe(true);
  expect(isNews(change({ id: 'b', people: ['AB'] }))).toBe(true);
  expect(isNews(change({ id: 'b', people: ['AB'], withdrawnAt: at }))).toBe(true);
  expect(isNews(change({ id: 'b', people: ['AB'], withdrawnAt: at }))).toBe(false);
  // It was raised, and perhaps told, before this program began.
  expect(isNews(change({ id: 'of an earlier day', withdrawnAt: at }))).toBe(true);
  expect(isNews(change({ id: 'of an earlier day', withdrawnAt: at }))).toBe(false);
  expect(isNews(null)).toBe(true);
});

it('are shared with whoever listens, after the screens', () => {
  const heard: string[] = [];
  const { live, listen } = shareNews({
    publishChange: () => heard.push('screens'),
    publishAir: () => heard.push('air'),
    publishResync: (sequence) => heard.push(`resync ${sequence}`),
  });
  listen((one) => heard.push(one === null ? 'anything' : 'a change'));
  live.publishChange(change());
  live.publishResync(3 as Parameters<typeof live.publishResync>[0]);
  live.publishAir({ bayId: 'b', at: '', airTemperatureC: 1, relativeHumidityPct: null, dewPointC: null });
  expect(heard).toEqual(['screens', 'a change', 'resync 3', 'anything', 'air']);
});
