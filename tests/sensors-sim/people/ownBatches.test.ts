import { describe, expect, it } from 'vitest';
import { batchKeyOf, keyOfOwn, markedMixAt } from '../../../sensors-sim/people/ownBatches.ts';
import { batchFrom } from '../fakeServer.ts';
import { at } from '../playDay.ts';

const panel = 'Bonnet';
const key = batchKeyOf({ repairOrder: 'KS-0112-03', mixCount: 2 });
const mixedAt = markedMixAt(at('2026-01-12T08:20:10Z'), { key, panel });
const own = batchFrom({
  key,
  at: mixedAt,
  kind: 'start',
  body: {
    cardId: 'body-filler',
    panel,
    repairOrder: 'KS-0112-03',
    bayId: 'bay-1',
    thicknessMm: 2,
    substrate: 'steel',
    mixedAt: new Date(mixedAt).toISOString(),
  },
});

describe('the mark of an own batch', () => {
  it('is found again with its place in the car’s mixes', () => {
    expect(keyOfOwn(own)).toBe('KS-0112-03/2');
  });

  it.each([
    ['another instant', { mixedAt: '2026-01-12T08:20:10.000Z' }],
    ['an instant off the steps', { mixedAt: new Date(mixedAt + 1000).toISOString() }],
    ['no repair order', { repairOrder: null }],
    ['another panel', { panel: 'Roof' }],
    ['no instant', { mixedAt: 'soon' }],
  ])('is missing from a batch with %s', (_, change) => {
    expect(keyOfOwn({ ...own, ...change })).toBeNull();
  });

  it('moves a mixing time by less than a second', () => {
    expect(mixedAt - at('2026-01-12T08:20:10Z')).toBeGreaterThan(0);
    expect(mixedAt - at('2026-01-12T08:20:10Z')).toBeLessThan(1000);
  });
});
