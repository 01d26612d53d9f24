// What Setup says of changes, ages and sizes, in both languages.
import { describe, expect, it } from 'vitest';
import { formatAge, formatFileSize, formatTouch } from '../../../dashboard/format/setupText.ts';
import { METRIC } from '../../../dashboard/format/units.ts';
import { wordsEn } from '../../../dashboard/format/wholeWords.en.ts';
import { wordsEs } from '../../../dashboard/format/words.es.ts';

const names = {
  bayName: (id: string) => (id === 'bay-1' ? 'Bay 1' : id),
  sensorName: (id: string) => (id === 'spare-7' ? 'By the door' : id),
  cardName: (id: string) => (id === 'body-filler' ? 'Body filler' : id),
};
const english = { ...names, words: wordsEn, place: { locale: 'en-GB', timeZone: 'UTC', units: METRIC } };
const spanish = { ...names, words: wordsEs, place: { locale: 'es-419', timeZone: 'UTC', units: METRIC } };
const AT = '2026-01-12T07:05:00.000Z';

describe('who changed what', () => {
  it.each([
    ['alerts.waitingMin', 'how long a test may wait', 'cuánto puede esperar una prueba'],
    ['people.MK', 'person MK', 'persona MK'],
    ['webhooks.desk', 'program desk', 'programa desk'],
    ['bays.bay-1', 'bay Bay 1', 'bahía Bay 1'],
    ['sensors.spare-7.bayId', 'sensor By the door, where it hangs', 'sensor By the door, su lugar'],
    [
      'cards.body-filler.sandMin',
      'product Body filler, sanding time',
      'producto Body filler, tiempo de lijado',
    ],
    ['cards.new-one', 'product new-one, new', 'producto new-one, nuevo'],
    ['later.added', 'later.added', 'later.added'],
  ])('%s has a name', (path, inEnglish, inSpanish) => {
    const touch = { at: AT, by: 'MK', paths: [path] };
    expect(formatTouch(touch, english)).toBe(`12 Jan 07:05, MK: ${inEnglish}`);
    expect(formatTouch(touch, spanish)).toContain(`, MK: ${inSpanish}`);
  });

  it('is somebody where nobody said who', () => {
    expect(formatTouch({ at: AT, by: null, paths: ['shop.name'] }, english)).toBe(
      '12 Jan 07:05, somebody: the shop’s name',
    );
  });
});

it('tells an age in whole minutes', () => {
  expect(
    [0, 59_000, 60_000, 240_000].map((agoMs) => formatAge({ seenAt: 1e12, nowAt: 1e12 + agoMs }, wordsEn)),
  ).toEqual(['just now', 'just now', '1 minute ago', '4 minutes ago']);
});

it('tells a size in megabytes, and never as nothing', () => {
  expect(formatFileSize(1_440_000, 'en-GB').replaceAll('\u00a0', ' ')).toBe('1.4 MB');
  expect(formatFileSize(20, 'en-GB').replaceAll('\u00a0', ' ')).toBe('0.1 MB');
});
