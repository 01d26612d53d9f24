// The countdown in every stage, to the second and the minute.
import { describe, expect, it } from 'vitest';
import { formatCountdownText } from '../../../dashboard/format/countdown.ts';
import { isSoon, phaseOf } from '../../../dashboard/format/phase.ts';
import { wordsEn } from '../../../dashboard/format/wholeWords.en.ts';
import type { BatchWire } from '../../../server/contract/index.ts';
import { makeBatch, makeEstimate, minutesIn, MIXED_AT } from '../fixtures.ts';

const noTimes = { spreadUntilAt: null, testFromAt: null } as const;

const rows: readonly { name: string; batch: Partial<BatchWire>; atMin: number; text: string }[] = [
  { name: 'a fresh mix counts seconds', batch: {}, atMin: 3 + 1 / 3, text: 'spread within 2:40' },
  { name: 'a mix in its last second', batch: {}, atMin: 5.995, text: 'spread within 0:01' },
  {
    name: 'a mix past its working time',
    batch: {},
    atMin: 6,
    text: 'Stop spreading this mix should have kicked',
  },
  {
    name: 'a spread mix counts whole minutes',
    batch: { spreadAt: minutesIn(3) },
    atMin: 18.2,
    text: 'test in 12 min',
  },
  { name: 'a kicked film', batch: { stage: 'kicked' }, atMin: 29.1, text: 'test in 1 min' },
  { name: 'a kicked film whose time has come', batch: { stage: 'kicked' }, atMin: 30, text: 'Test now' },
  { name: 'a film worth testing', batch: { stage: 'test' }, atMin: 34.9, text: 'Test now waiting 4 min' },
  {
    name: 'a film worth testing before its own time',
    batch: { stage: 'test' },
    atMin: 20,
    text: 'Test now waiting 0 min',
  },
  {
    name: 'a film being sanded',
    batch: { stage: 'sanding', sandingAt: minutesIn(31) },
    atMin: 34.5,
    text: 'Sanding for 3 min',
  },
  { name: 'a batch not yet estimated', batch: { estimate: null }, atMin: 0.1, text: 'Working it out' },
  {
    name: 'a batch without air',
    batch: { estimate: makeEstimate({ ...noTimes, notes: ['no-air'] }) },
    atMin: 1,
    text: 'No time yet',
  },
  {
    name: 'a film that stalls',
    batch: { stage: 'kicked', estimate: makeEstimate({ ...noTimes, notes: ['stalled'] }) },
    atMin: 60,
    text: 'No time yet',
  },
  { name: 'a sanded film', batch: { stage: 'sanded' }, atMin: 60, text: 'Done' },
];

describe('the countdown', () => {
  it.each(rows)('of $name reads "$text"', ({ batch, atMin, text }) => {
    expect(formatCountdownText(phaseOf(makeBatch(batch), MIXED_AT + atMin * 60_000), wordsEn)).toBe(text);
  });

  it('knows why there is no time', () => {
    const stalled = makeBatch({ estimate: makeEstimate({ ...noTimes, notes: ['stalled'] }) });
    expect(phaseOf(stalled, MIXED_AT)).toEqual({ kind: 'noTime', why: 'stalled' });
    const bare = makeBatch({ estimate: makeEstimate(noTimes) });
    expect(phaseOf(bare, MIXED_AT)).toEqual({ kind: 'noTime', why: 'unknown' });
  });
});

describe('a film', () => {
  it('is soon from even odds on, by the estimate or by the clock', () => {
    const film = makeBatch({ stage: 'kicked' });
    expect(isSoon(film, MIXED_AT + 24 * 60_000)).toBe(false);
    expect(isSoon(film, MIXED_AT + 25 * 60_000)).toBe(true);
    const likely = makeBatch({ stage: 'kicked', estimate: makeEstimate({ probabilityNow: 0.5 }) });
    expect(isSoon(likely, MIXED_AT)).toBe(true);
  });

  it('is never soon once it is to be tested', () => {
    expect(isSoon(makeBatch({ stage: 'test' }), MIXED_AT + 60 * 60_000)).toBe(false);
  });
});
