// The sentence for each cause and each note, as people read it.
import { describe, expect, it } from 'vitest';
import { formatNotes, formatReason, type Naming } from '../../../dashboard/format/reason.ts';
import { wordsEn } from '../../../dashboard/format/wholeWords.en.ts';
import { METRIC } from '../../../dashboard/format/units.ts';
import { NOTE_CODES, REASON_CODES } from '../../../server/contract/index.ts';
import type { BatchWire, NoteCode, Reason } from '../../../server/contract/index.ts';
import { makeBatch, makeEstimate, minutesIn } from '../fixtures.ts';

const naming: Naming = {
  words: wordsEn,
  place: { locale: 'en-GB', timeZone: 'UTC', units: METRIC },
  bayName: (bayId) => bayId.replace('bay-', 'Bay '),
  card: { name: 'Body filler', sandMin: 17.5, lowestC: 10 },
};

const withReasons = (...reasons: Reason[]): BatchWire => makeBatch({ estimate: makeEstimate({ reasons }) });
const plain = (text: string | null): string | undefined => text?.replaceAll('\u00a0', ' ');

const rows: readonly { reason: Reason; sentence: string }[] = [
  {
    reason: { code: 'bay-cold', minutes: 9.2, bayId: 'bay-2', airTemperatureC: 13.1 },
    sentence: 'Bay 2 is 13 °C: 9 minutes slower than the card',
  },
  {
    reason: { code: 'bay-warm', minutes: -1.1, bayId: 'bay-1', airTemperatureC: 23 },
    sentence: 'Bay 1 is 23 °C: 1 minute faster than the card',
  },
  {
    reason: { code: 'car-cold', minutes: 8, panelTemperatureC: -0.2 },
    sentence: 'The car came in cold, its panel at 0 °C: 8 minutes slower than the card',
  },
  {
    reason: { code: 'car-warm', minutes: -3 },
    sentence: 'The car came in warm: 3 minutes faster than the card',
  },
  { reason: { code: 'edge', minutes: 4 }, sentence: 'The thin edge is last: 5 minutes after the build' },
  {
    reason: { code: 'film', minutes: -3 },
    sentence: '2 mm warms itself as it cures: 3 minutes faster than the card',
  },
  {
    reason: { code: 'film', minutes: 3 },
    sentence: '2 mm makes little heat of its own: 3 minutes slower than the card',
  },
  { reason: { code: 'hardener', minutes: -2 }, sentence: '2 % hardener: 2 minutes faster than the card' },
  { reason: { code: 'lamp', minutes: -12 }, sentence: 'Under the lamp: 12 minutes faster than the card' },
  {
    reason: { code: 'lamp', minutes: 4 },
    sentence: 'It has to cool down from the lamp: 4 minutes slower than the card',
  },
  {
    reason: { code: 'product', minutes: 2 },
    sentence: 'Body filler in this shop: 2 minutes slower than the card',
  },
];

describe('the reason', () => {
  it.each(rows)('of $reason.code reads "$sentence"', ({ reason, sentence }) => {
    expect(plain(formatReason(withReasons(reason), naming))).toBe(sentence);
  });

  it('has a sentence for every code of the contract', () => {
    const codes = new Set(rows.map(({ reason }) => reason.code));
    expect(REASON_CODES.filter((code) => !codes.has(code))).toEqual([]);
  });

  it('is the largest one, earlier or later', () => {
    const batch = withReasons({ code: 'product', minutes: 2 }, { code: 'lamp', minutes: -12 });
    expect(formatReason(batch, naming)).toContain('lamp');
  });

  it('is the card itself when nothing makes a minute of difference', () => {
    expect(formatReason(withReasons({ code: 'product', minutes: 0.3 }), naming)).toBe(
      'Just as the card says: 25 minutes from mixing',
    );
  });

  it('is missing where no time is told', () => {
    expect(formatReason(makeBatch({ estimate: null }), naming)).toBeNull();
    expect(formatReason(makeBatch({ estimate: makeEstimate({ expectedMin: null }) }), naming)).toBeNull();
  });
});

describe('the notes', () => {
  const noted = (...notes: NoteCode[]): BatchWire => makeBatch({ estimate: makeEstimate({ notes }) });

  it('name the bay and the card where there is no air', () => {
    expect(formatNotes(noted('no-air'), naming)[0]?.sentence).toBe(
      'No reading from Bay 2 yet, so no time can be told. The card says 17.5 min.',
    );
  });

  it('tell when it gummed', () => {
    const batch = {
      ...noted('gummed'),
      checks: [{ at: minutesIn(26), outcome: 'gums' as const, firstTry: null, by: null }],
    };
    expect(formatNotes(batch, naming)[0]?.sentence).toBe('It gummed at 07:26, so the window is a new one.');
  });

  it('come gravest first', () => {
    const codes = formatNotes(noted('gummed', 'too-cold', 'condensation-hold'), naming).map(
      ({ code }) => code,
    );
    expect(codes).toEqual(['condensation-hold', 'too-cold', 'gummed']);
  });

  it.each(NOTE_CODES.map((code) => [code]))('have a sentence for %s', (code) => {
    expect(formatNotes(noted(code), naming)[0]?.sentence).toMatch(/^[A-Z].*[.]$/);
  });
});
