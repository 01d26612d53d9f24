// What a change would bring, told before it is made: earlier, later, no difference, and what is to be minded then.
import { describe, expect, it } from 'vitest';
import { formatEffect } from '../../../dashboard/format/effect.ts';
import type { Naming } from '../../../dashboard/format/reason.ts';
import { wordsEn } from '../../../dashboard/format/wholeWords.en.ts';
import { METRIC } from '../../../dashboard/format/units.ts';
import type { EstimateWire } from '../../../server/contract/index.ts';
import { makeBatch, makeEstimate, minutesIn, MIXED_AT } from '../fixtures.ts';

const naming: Naming = {
  words: wordsEn,
  place: { locale: 'en-GB', timeZone: 'Europe/Madrid', units: METRIC },
  bayName: (bayId) => (bayId === 'bay-1' ? 'Bay 1' : 'Bay 2'),
  card: null,
};

/** The sentence for a batch that is to be tested from 08:30 on, shop time, with a changed estimate. */
function effectOf(estimate: Partial<EstimateWire>, held: Partial<EstimateWire> = {}, atMin = 10) {
  const batch = makeBatch({ stage: 'kicked', estimate: makeEstimate(held) });
  const changed = { ...batch, bayId: 'bay-1', estimate: makeEstimate(estimate) };
  return formatEffect({ batch, changed, nowAt: MIXED_AT + atMin * 60_000 }, naming);
}

describe('the effect of a change', () => {
  it.each([
    [9, 'Test at about 08:09 instead of 08:30: 21 minutes earlier.'],
    [29, 'Test at about 08:29 instead of 08:30: 1 minute earlier.'],
    [47, 'Test at about 08:47 instead of 08:30: 17 minutes later.'],
    [30.4, 'No difference: test at about 08:30.'],
  ])('with a test from minute %s is told in the shop’s own time', (afterMin, sentence) => {
    expect(effectOf({ testFromAt: minutesIn(afterMin) }, {}, 5).sentence).toBe(sentence);
  });

  it('adds up to the minutes shown, however the seconds fall', () => {
    const { sentence } = effectOf({ testFromAt: minutesIn(28.1) }, { testFromAt: minutesIn(30.9) });
    expect(sentence).toBe('Test at about 08:28 instead of 08:30: 2 minutes earlier.');
  });

  it('has nothing to compare with where the batch has no time', () => {
    expect(effectOf({}, { testFromAt: null }).sentence).toBe('Test at about 08:30.');
  });

  it('is none where the change leaves no time', () => {
    expect(effectOf({ testFromAt: null }).sentence).toBe('No time could be told then.');
  });

  it('is none where the test is due anyhow', () => {
    expect(effectOf({ testFromAt: minutesIn(29) }, {}, 31).sentence).toBe('Test now, with or without it.');
  });
});

describe('the notes of an effect', () => {
  it('always tell of too much heat, and of others only when they are new', () => {
    const notes = ['too-hot', 'hardener-low', 'air-stale'] as const;
    const effect = effectOf({ notes: [...notes] }, { notes: ['too-hot', 'hardener-low'] });
    expect(effect.notes.map(({ code }) => code)).toEqual(['too-hot', 'air-stale']);
  });

  it('speak of the bay the batch would be in', () => {
    expect(effectOf({ notes: ['air-stale'] }).notes[0]?.sentence).toContain('Bay 1');
  });
});
