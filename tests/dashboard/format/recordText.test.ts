// A record in words: what the window had said against what happened, checks, times with their day where it matters.
import { describe, expect, it } from 'vitest';
import {
  formatCheck,
  formatDay,
  formatRecordReason,
  formatSaid,
  formatSince,
} from '../../../dashboard/format/recordText.ts';
import { wordsEn } from '../../../dashboard/format/wholeWords.en.ts';
import { METRIC } from '../../../dashboard/format/units.ts';
import type { RecordWire } from '../../../server/contract/index.ts';
import { makeRecord, recordMinute } from '../../support/makeRecord.ts';

const place = { locale: 'en-GB', timeZone: 'Europe/Madrid', units: METRIC };
const said = makeRecord().said as NonNullable<RecordWire['said']>;

function saidOf(changes: Partial<RecordWire>): string {
  return formatSaid(makeRecord(changes), wordsEn, place).replaceAll('\u00A0', ' ');
}

describe('what the window had said', () => {
  it.each([
    [{}, 'First test 08:21: the window said 20 %, it gummed. It powdered at 08:27, inside the window.'],
    [
      {
        said: {
          ...said,
          outcome: 'powders',
          firstCheckAt: recordMinute(27),
          probability: 0.9,
          place: 'late',
        },
      },
      'First test 08:27: the window said 90 %, it powdered, later than the window.',
    ],
    [
      {
        said: {
          ...said,
          outcome: 'powders',
          firstCheckAt: recordMinute(9),
          probability: null,
          place: 'early',
        },
      },
      'First test 08:09, without a window: it powdered, earlier than the window.',
    ],
    [
      { said: { ...said, powderedAt: null, place: null } },
      'First test 08:21: the window said 20 %, it gummed.',
    ],
    [
      { said: { ...said, place: null } },
      'First test 08:21: the window said 20 %, it gummed. It powdered at 08:27.',
    ],
    [
      { said: { ...said, probability: 0.996, powderedAt: null, place: null } },
      'First test 08:21: the window said over 99 %, it gummed.',
    ],
    [
      { said: { ...said, probability: 0.002, powderedAt: null, place: null } },
      'First test 08:21: the window said under 1 %, it gummed.',
    ],
    [{ said: null }, 'Closed without a test.'],
    [{ said: null, stage: 'scrapped' }, 'Closed without a test.'],
    [{ said: null, stage: 'kicked' }, 'Not tested yet.'],
  ] as const)('of %j reads "%s"', (changes, sentence) => {
    expect(saidOf(changes)).toBe(sentence);
  });
});

describe('a time of a record', () => {
  it('is a clock time on the day of mixing, and has its day on another, by the shop’s own midnight', () => {
    const mixedAt = '2026-01-12T22:30:00Z';
    expect(formatSince({ at: '2026-01-12T22:50:00Z', mixedAt }, place)).toBe('23:50');
    expect(formatSince({ at: '2026-01-12T23:10:00Z', mixedAt }, place)).toBe('13 Jan 00:10');
    expect(formatSince({ at: '2026-01-12T23:10:00Z', mixedAt }, { ...place, timeZone: 'UTC' })).toBe('23:10');
  });

  it('has its year in full', () => {
    expect(formatDay(Date.parse('2026-01-11T23:30:00Z'), place)).toBe('Mon, 12 Jan 2026');
  });
});

describe('a check', () => {
  it.each([
    [{ firstTry: null, by: 'AB' }, '08:21, gums, AB'],
    [{ firstTry: true, by: null }, '08:21, gums, first try'],
    [{ firstTry: false, by: 'CD' }, '08:21, gums, not the first try, CD'],
  ])('of %j reads "%s"', (changes, text) => {
    const check = { at: recordMinute(21), outcome: 'gums' as const, ...changes };
    expect(formatCheck(check, { mixedAt: recordMinute(0), words: wordsEn, place })).toBe(text);
  });
});

describe('the cause of a record', () => {
  const naming = { words: wordsEn, place, bayName: (bayId: string) => bayId.toUpperCase(), card: null };

  it('is the largest one of the window that stood before the first check', () => {
    expect(formatRecordReason(makeRecord(), naming)).toMatch(
      /^BAY-1 is −4\s°C: 7 minutes slower than the card$/,
    );
  });

  it('is none without a window', () => {
    expect(formatRecordReason(makeRecord({ window: null }), naming)).toBeNull();
  });
});
