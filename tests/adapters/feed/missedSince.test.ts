// Which changes a returning screen is given, and when it must read everything anew.
import { describe, expect, it } from 'vitest';
import { makeFeedMemory, missedSince } from '../../../server/adapters/feed/feedMemory.ts';
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

describe('a resync, which moves no sequence,', () => {
  const JOINED = { ledgerId: 'a', sequence: 20 };
  /** What a screen at the head hears that joins two minutes after the last resync, its snapshot so old. */
  const toldWith = (auth: Record<string, unknown>): readonly ChangeWire[] | 'resync' => {
    let nowMs = 1000;
    const memory = makeFeedMemory(() => nowMs);
    memory.begin(HEAD);
    nowMs += 3_600_000;
    memory.takeResync();
    nowMs += 120_000;
    return memory.missedBy({ ...JOINED, ...auth });
  };

  it.each<[string, Record<string, unknown>, readonly ChangeWire[] | 'resync']>([
    ['is told to a screen whose snapshot is older', { snapshotAgeMs: 121_000 }, 'resync'],
    ['is told to one that may have set out before it', { snapshotAgeMs: 118_000 }, 'resync'],
    ['is not told to one whose snapshot is newer', { snapshotAgeMs: 30_000 }, []],
    ['is not told to one that says no age', {}, []],
    ['is not told by an age that is no number', { snapshotAgeMs: '200000' }, []],
  ])('%s', (_what, auth, expected) => {
    expect(toldWith(auth)).toEqual(expected);
  });

  it('stands at the start of the program: what the run before it told need not be so any more', () => {
    let nowMs = 0;
    const memory = makeFeedMemory(() => nowMs);
    memory.begin(HEAD);
    nowMs += 60_000;
    expect(memory.missedBy({ ...JOINED, snapshotAgeMs: 90_000 })).toBe('resync');
    expect(memory.missedBy({ ...JOINED, snapshotAgeMs: 20_000 })).toEqual([]);
  });
});
