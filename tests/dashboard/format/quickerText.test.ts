// Who was quicker: named with act and time where somebody else was at it, and not at all where nobody was.
import { describe, expect, it } from 'vitest';
import { formatQuicker, lastActName } from '../../../dashboard/format/quickerText.ts';
import { METRIC } from '../../../dashboard/format/units.ts';
import { wordsEn } from '../../../dashboard/format/wholeWords.en.ts';
import { wordsEs } from '../../../dashboard/format/words.es.ts';
import { makeBatch, minutesIn } from '../fixtures.ts';

const place = { locale: 'en-GB', timeZone: 'UTC', units: METRIC };
const spread = { factSequence: 11, type: 'BatchSpread', recordedAt: minutesIn(2), by: 'KL' };
const now = makeBatch({ version: 2, lastAct: spread });
const refused = { batch: now, seenSequence: 10, seenVersion: 1, yours: 'Spread' };

describe('a refused act', () => {
  it('says who did what and when, in both languages', () => {
    expect(formatQuicker(refused, { words: wordsEn, place })).toBe(
      'KL was quicker: “Spread” at 07:02. Your “Spread” was not stored.',
    );
    expect(formatQuicker(refused, { words: wordsEs, place })).toBe(
      'KL se adelantó: «Aplicada» a las 07:02. Su «Spread» no se guardó.',
    );
  });

  it('names another device where nobody gave initials', () => {
    const batch = { ...now, lastAct: { ...spread, by: null } };
    expect(formatQuicker({ ...refused, batch }, { words: wordsEn, place })).toMatch(/^Another device was/);
  });

  it('says that an act was taken back', () => {
    const text = formatQuicker({ ...refused, seenSequence: 11 }, { words: wordsEn, place });
    expect(text).toMatch(/taken an act back/);
  });

  it('names nobody where nothing has changed', () => {
    const own = { ...refused, seenSequence: 11, seenVersion: 2 };
    expect(formatQuicker(own, { words: wordsEn, place })).toBeNull();
    expect(formatQuicker({ ...own, seenVersion: null }, { words: wordsEn, place })).toBeNull();
  });
});

describe('the last act', () => {
  it('is a check by what it showed', () => {
    const checks = [{ at: minutesIn(20), outcome: 'gums' as const, firstTry: null, by: null }];
    const batch = makeBatch({ checks, lastAct: { ...spread, type: 'CheckRecorded' } });
    expect(lastActName(batch, wordsEn)).toBe('Gums');
  });

  it('keeps the name of the wire where there is no word for it', () => {
    expect(lastActName(makeBatch({ lastAct: { ...spread, type: 'New' } }), wordsEn)).toBe('New');
    expect(lastActName(makeBatch(), wordsEn)).toBe('');
  });
});
