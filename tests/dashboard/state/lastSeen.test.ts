// What the device kept of the shop: when it may still be shown, and what time it is in the shop by then.
import { describe, expect, it } from 'vitest';
import {
  LAST_SEEN_MAX_MIN,
  type LastSeen,
  parseLastSeen,
  shopAtFrom,
} from '../../../dashboard/state/lastSeen.ts';
import type { LiveState } from '../../../dashboard/state/liveState.ts';
import { makeSnapshot } from '../fixtures.ts';

const KEPT_AT = Date.parse('2026-01-12T08:00:00Z');
const SHOP_AT = Date.parse('2026-01-12T07:30:00Z');
const MIN_MS = 60_000;

function liveState(): LiveState {
  const { nowAt: _, ...live } = makeSnapshot();
  return live;
}

function seenWith(changes: Partial<LastSeen> = {}): LastSeen {
  return { build: 'one', keptAt: KEPT_AT, shopAt: SHOP_AT, live: liveState(), ...changes };
}

describe('what was kept', () => {
  it('comes back whole while it is fresh and of the same build', () => {
    const seen = seenWith();
    const wallAt = KEPT_AT + 20 * MIN_MS;
    expect(parseLastSeen(JSON.stringify(seen), { build: 'one', wallAt })).toEqual(seen);
  });

  it.each([
    ['another build', { build: 'two', wallAt: KEPT_AT }, seenWith()],
    ['a shift later', { build: 'one', wallAt: KEPT_AT + (LAST_SEEN_MAX_MIN + 1) * MIN_MS }, seenWith()],
    ['a clock that was set back', { build: 'one', wallAt: KEPT_AT - 1 }, seenWith()],
    ['something else', { build: 'one', wallAt: KEPT_AT }, { build: 'one', keptAt: KEPT_AT }],
    ['a state without batches', { build: 'one', wallAt: KEPT_AT }, { ...seenWith(), live: { rate: 1 } }],
    ['nothing at all', { build: 'one', wallAt: KEPT_AT }, null],
  ])('does not come back for %s', (_name, now, kept) => {
    expect(parseLastSeen(JSON.stringify(kept), now)).toBeNull();
  });

  it('does not come back from a text that is broken or missing', () => {
    for (const text of ['{"build":"one"', '', null]) {
      expect(parseLastSeen(text, { build: 'one', wallAt: KEPT_AT })).toBeNull();
    }
  });

  it('counts on at the pace of the shop', () => {
    const wallAt = KEPT_AT + 2 * MIN_MS;
    expect(shopAtFrom(seenWith(), wallAt)).toBe(SHOP_AT + 2 * MIN_MS);
    const quick = seenWith({ live: { ...liveState(), rate: 20 } });
    expect(shopAtFrom(quick, wallAt)).toBe(SHOP_AT + 40 * MIN_MS);
  });
});
