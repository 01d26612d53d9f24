// Which changes a returning screen is given, and when it must read everything anew.
import { describe, expect, it } from 'vitest';
import { missedSince } from '../../../server/adapters/feed/feedMemory.ts';
import type { ChangeWire } from '../../../server/contract/index.ts';

const change = (afterSequence: number, sequence: number): ChangeWire => ({
  afterSequence,
  sequence,
  batches: [],
  alerts: [],
});
const KEPT = [change(10, 12), change(12, 13), change(13, 20)];
const HEAD = { ledgerId: 'a', sequence: 20 };

describe('a screen that comes back', () => {
  it.each<[string, Record<string, unknown>, readonly ChangeWire[] | 'resync']>([
    ['at the head gets nothing', { ledgerId: 'a', sequence: 20 }, []],
    ['one change behind gets that one', { ledgerId: 'a', sequence: 13 }, KEPT.slice(2)],
    ['as far behind as is kept gets all', { ledgerId: 'a', sequence: 10 }, KEPT],
    ['further behind reads the snapshot', { ledgerId: 'a', sequence: 9 }, 'resync'],
    ['in the middle of a change reads the snapshot', { ledgerId: 'a', sequence: 11 }, 'resync'],
    ['ahead of the head reads the snapshot', { ledgerId: 'a', sequence: 21 }, 'resync'],
    ['with another ledger reads the snapshot', { ledgerId: 'b', sequence: 20 }, 'resync'],
    ['with a sequence that is no number reads the snapshot', { ledgerId: 'a', sequence: '20' }, 'resync'],
    ['with nothing reads the snapshot', {}, 'resync'],
  ])('%s', (_what, auth, expected) => {
    expect(missedSince(KEPT, HEAD, auth)).toEqual(expected);
  });
});
