// Which slips stand on the Bench, and in which order.
import { describe, expect, it } from 'vitest';
import type { BatchWire } from '../../../server/contract/index.ts';
import { isMine, orderSlips } from '../../../dashboard/state/slips.ts';
import { clockAt, tickEveryMs } from '../../../dashboard/state/serverClock.ts';
import { emptyMemory, parseMemory } from '../../../dashboard/state/device.ts';
import { makeBatch, makeEstimate, minutesIn, MIXED_AT } from '../fixtures.ts';

const kicked = (id: string, testFromMin: number) =>
  makeBatch({ id, stage: 'kicked', estimate: makeEstimate({ testFromAt: minutesIn(testFromMin) }) });

describe('the stack', () => {
  const namesAt = (batches: readonly BatchWire[], afterMin: number): string[] =>
    orderSlips(batches, MIXED_AT + afterMin * 60_000).map(({ id }) => id);

  it('puts a due test before a mix with minutes left, then what comes next, then sanding, then the unknown', () => {
    const batches = [
      makeBatch({ id: 'unknown', estimate: null }),
      makeBatch({ id: 'sanding', stage: 'sanding', sandingAt: minutesIn(-5) }),
      kicked('later', 40),
      kicked('sooner', 20),
      { ...kicked('waiting', 1), stage: 'test' as const },
      { ...kicked('waiting longer', 0.5), stage: 'test' as const },
      makeBatch({ id: 'wet' }),
    ];
    expect(namesAt(batches, 2)).toEqual([
      'waiting longer',
      'waiting',
      'wet',
      'sooner',
      'later',
      'sanding',
      'unknown',
    ]);
  });

  it('puts a mix with two minutes left to spread, or none, first of all', () => {
    const batches = [{ ...kicked('waiting', 1), stage: 'test' as const }, makeBatch({ id: 'wet' })];
    expect(namesAt(batches, 3.9)).toEqual(['waiting', 'wet']);
    expect(namesAt(batches, 4)).toEqual(['wet', 'waiting']);
    expect(namesAt(batches, 7)).toEqual(['wet', 'waiting']);
  });

  it('takes a spread mix for one that cures', () => {
    const batches = [makeBatch({ id: 'spread', spreadAt: minutesIn(1) }), kicked('sooner', 20)];
    expect(namesAt(batches, 5)).toEqual(['sooner', 'spread']);
  });

  it('counts a test as due from its own time, not only from the server’s word', () => {
    const batches = [makeBatch({ id: 'wet', estimate: makeEstimate({ spreadUntilAt: minutesIn(34) }) })];
    expect(namesAt([...batches, kicked('due', 35)], 30.5)).toEqual(['wet', 'due']);
    expect(namesAt([...batches, kicked('due', 30)], 30.5)).toEqual(['due', 'wet']);
  });

  it('stays as it is for equal times, whatever order they came in', () => {
    const twins = [kicked('a', 20), kicked('b', 20)];
    expect(namesAt(twins.toReversed(), 1)).toEqual(namesAt(twins, 1));
  });

  it('holds everyone’s batches until a person is chosen, then theirs and nobody’s', () => {
    const whose = { person: 'AK', isOnlyMine: true };
    expect(isMine(makeBatch({ by: 'MR' }), { ...whose, person: null })).toBe(true);
    expect(isMine(makeBatch({ by: 'MR' }), whose)).toBe(false);
    expect(isMine(makeBatch({ by: 'MR' }), { ...whose, isOnlyMine: false })).toBe(true);
    expect(isMine(makeBatch({ by: 'AK' }), whose)).toBe(true);
    expect(isMine(makeBatch({ by: null }), whose)).toBe(true);
  });
});

describe('the shop clock', () => {
  it('runs at the rate of the shop from the moment its reading arrived', () => {
    const anchor = { serverAt: 1_000_000, receivedMs: 500, rate: 20 };
    expect(clockAt(anchor, 500)).toBe(1_000_000);
    expect(clockAt(anchor, 1500)).toBe(1_020_000);
    expect(clockAt(anchor, 100)).toBe(1_000_000);
  });

  it('ticks each second, and five times a second where time runs faster', () => {
    expect([tickEveryMs(1), tickEveryMs(20)]).toEqual([1000, 200]);
  });
});

describe('what the device remembers', () => {
  it('comes back from its stored text', () => {
    const memory = { ...emptyMemory, person: 'AK', look: 'dark' as const, isMuted: true };
    expect(parseMemory(JSON.stringify(memory))).toEqual(memory);
  });

  it.each([null, '{', '{}', '{"look": "pink", "lastMix": {"cardId": 3}}'])(
    'is the default for %s',
    (text) => {
      expect(parseMemory(text)).toEqual(emptyMemory);
    },
  );
});
