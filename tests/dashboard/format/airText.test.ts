// Sentences of Air, and the hours that they name.
import { describe, expect, it } from 'vitest';
import {
  formatCost,
  formatDate,
  formatRatio,
  formatWeekday,
  formatWhen,
  formatWhole,
} from '../../../dashboard/format/airText.ts';
import { findPeak } from '../../../dashboard/format/lossPeak.ts';
import { wordsEn } from '../../../dashboard/format/wholeWords.en.ts';
import { METRIC } from '../../../dashboard/format/units.ts';
import { type CostWire, WEEKDAYS } from '../../../server/contract/index.ts';

const naming = { words: wordsEn, place: { locale: 'en-GB', timeZone: 'UTC', units: METRIC }, bay: 'Bay 1' };

/** A week's map with minutes in some cells, such as `Mon 07`. */
function mapOf(minutes: Readonly<Record<string, number>>): CostWire['map'] {
  return WEEKDAYS.flatMap((weekday) =>
    Array.from({ length: 24 }, (_, index) => {
      const hour = String(index).padStart(2, '0');
      return { weekday, hour: `${hour}:00`, slowdown: 1, addedMin: minutes[`${weekday} ${hour}`] ?? 0 };
    }),
  );
}

describe('the hours that stand out', () => {
  it('are the two in which most was lost', () => {
    const peak = findPeak(mapOf({ 'Mon 07': 30, 'Tue 08': 31, 'Wed 13': 23 }));
    expect(peak).toEqual({ days: 'workdays', fromHourIndex: 7, toHourIndex: 9, addedMin: 61 });
    expect(findPeak(mapOf({ 'Sat 15': 12, 'Mon 07': 5 }))?.days).toBe('weekend');
  });

  it('are none where minutes are spread, or where there are none', () => {
    expect(findPeak(mapOf({ 'Mon 03': 5, 'Tue 07': 5, 'Wed 11': 5, 'Thu 15': 5 }))).toBeNull();
    expect(findPeak(mapOf({}))).toBeNull();
  });
});

describe('the sentence', () => {
  const peak = { days: 'workdays', fromHourIndex: 7, toHourIndex: 9, addedMin: 61 } as const;
  const of = (addedMin: number, more: Partial<Parameters<typeof formatCost>[1]> = {}): string =>
    formatCost({ addedMin }, { when: 'Last week', kind: 'week', peak, ...more }, naming);

  it('says what the cold cost and when', () => {
    expect(of(84.2)).toBe(
      'Last week the cold in Bay 1 cost 84 minutes of curing; 61 of them between 7 and 9 on weekday mornings.',
    );
    expect(of(61)).toBe(
      'Last week the cold in Bay 1 cost 61 minutes of curing, all of it between 7 and 9 on weekday mornings.',
    );
    expect(of(84, { peak: { ...peak, days: 'weekend', fromHourIndex: 14, toHourIndex: 16 } })).toMatch(
      /between 14 and 16 at weekends\.$/,
    );
    expect(of(84, { kind: 'day', when: 'On Tue 13 Jan' })).toMatch(/^On Tue 13 Jan .* between 7 and 9\.$/);
  });

  it('says less where nothing stands out, one minute as one, and nothing as nothing', () => {
    expect(of(84, { peak: null })).toBe('Last week the cold in Bay 1 cost 84 minutes of curing.');
    expect(of(1.2, { peak: null })).toBe('Last week the cold in Bay 1 cost 1 minute of curing.');
    expect(of(0.4)).toBe('Last week the cold in Bay 1 cost no curing time.');
  });
});

describe('when it was', () => {
  it.each([
    ['day', 0, 'Today'],
    ['day', 1, 'Yesterday'],
    ['day', 2, 'On Tue 13 Jan'],
    ['week', 0, 'This week'],
    ['week', 1, 'Last week'],
    ['week', 2, 'In the week of Tue 13 Jan'],
  ] as const)('of a %s, %i back, is "%s"', (kind, backCount, text) => {
    expect(formatWhen({ fromAt: 0, untilAt: 1, date: '2026-01-13', backCount }, kind, naming)).toBe(text);
  });
});

describe('figures', () => {
  it('are whole minutes and slowdowns to a tenth, in the reader’s language', () => {
    expect(formatWhole(1234.4, 'en-GB')).toBe('1,234');
    expect(formatWhole(-0.2, 'en-GB')).toBe('0');
    expect(formatRatio(1.84, 'es')).toBe('1,8');
    expect(formatDate({ date: '2026-01-13', locale: 'en-GB' })).toBe('Tue 13 Jan');
    expect(WEEKDAYS.map((weekday) => formatWeekday(weekday, 'en-GB'))).toEqual([...WEEKDAYS]);
  });
});
