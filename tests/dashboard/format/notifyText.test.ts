// What Setup says of the ways out, in both languages.
import { describe, expect, it } from 'vitest';
import { lostText, phoneName, troubleText } from '../../../dashboard/format/notifyText.ts';
import { wordsEn } from '../../../dashboard/format/wholeWords.en.ts';
import { wordsEs } from '../../../dashboard/format/words.es.ts';
import { ALERT_KINDS, type GivenUpWire, TROUBLE_CODES } from '../../../server/contract/index.ts';

function lost(parts: Partial<GivenUpWire> = {}): GivenUpWire {
  return {
    alertId: 'a',
    channelId: 'webhook:desk',
    channelName: 'Desk',
    person: null,
    message: 'raised',
    kind: 'test',
    name: 'Roof',
    subjectCount: 1,
    at: '2026-01-12T07:00:00.000Z',
    triesCount: 12,
    trouble: { code: 'timeout', status: null },
    ...parts,
  };
}

describe('what did not get through', () => {
  it.each<[Partial<GivenUpWire>, string, string]>([
    [{}, '“Test Roof” to Desk', '«Probar Roof» a Desk'],
    [{ message: 'withdrawn' }, 'The end of “Test Roof” to Desk', 'El final de «Probar Roof» a Desk'],
    [
      { kind: 'tooCold', name: null, subjectCount: 3, channelName: null, person: 'AB' },
      '“3 panels are too cold” to Phone of AB',
      '«3 piezas demasiado frías» a Teléfono de AB',
    ],
  ])('%j is named by its alert and its receiver', (parts, english, spanish) => {
    expect(lostText(lost(parts), wordsEn)).toBe(english);
    expect(lostText(lost(parts), wordsEs)).toBe(spanish);
  });

  it.each(ALERT_KINDS)('of kind %s says what it is about', (kind) => {
    for (const words of [wordsEn, wordsEs]) expect(lostText(lost({ kind }), words)).toContain('Roof');
  });

  it.each(TROUBLE_CODES)('for %s says why', (code) => {
    for (const words of [wordsEn, wordsEs]) {
      const text = troubleText({ code, status: 503 }, words);
      expect(text).not.toBe('');
      expect(text.includes('503')).toBe(code === 'status' || code === 'redirect');
    }
  });
});

it('a phone of nobody is for everybody’s calls', () => {
  expect(phoneName({ person: null }, wordsEn)).toBe('Phone for everybody’s calls');
  expect(phoneName({ person: 'AB' }, wordsEs)).toBe('Teléfono de AB');
});
