// Days and weeks of the shop's own clock in the page, over changes of the clock.
import { describe, expect, it } from 'vitest';
import { dateOf, mondayOf, shiftDate, spanOf, startOfDate } from '../../../dashboard/format/airSpan.ts';

const at = (text: string): number => Date.parse(text);
const iso = (instantAt: number): string => new Date(instantAt).toISOString();

describe('the start of a date', () => {
  it.each([
    ['in winter', '2026-01-12', 'Europe/Madrid', '2026-01-11T23:00:00.000Z'],
    ['on the day of spring’s change', '2026-03-29', 'Europe/Madrid', '2026-03-28T23:00:00.000Z'],
    ['the day after', '2026-03-30', 'Europe/Madrid', '2026-03-29T22:00:00.000Z'],
    ['on the day of autumn’s change', '2026-10-25', 'Europe/Madrid', '2026-10-24T22:00:00.000Z'],
    ['the day after that', '2026-10-26', 'Europe/Madrid', '2026-10-25T23:00:00.000Z'],
    ['far in the west', '2026-01-12', 'Pacific/Honolulu', '2026-01-12T10:00:00.000Z'],
    ['where the day begins at one o’clock', '2026-03-29', 'Asia/Beirut', '2026-03-28T22:00:00.000Z'],
  ])('%s is its midnight', (_, date, timeZone, wanted) => {
    const startAt = startOfDate({ date, timeZone });
    expect(iso(startAt)).toBe(wanted);
    expect(dateOf(startAt, timeZone)).toBe(date);
    expect(dateOf(startAt - 1, timeZone) < date).toBe(true);
  });
});

describe('dates', () => {
  it('are shifted over months, and know their Monday', () => {
    expect(shiftDate('2026-02-28', 1)).toBe('2026-03-01');
    expect(shiftDate('2026-01-01', -1)).toBe('2025-12-31');
    expect(mondayOf('2026-01-18')).toBe('2026-01-12');
    expect(mondayOf('2026-01-12')).toBe('2026-01-12');
  });
});

describe('a span', () => {
  const of = (kind: 'day' | 'week', date: string | null) =>
    spanOf({ kind, date, nowAt: at('2026-03-31T08:00:00Z'), timeZone: 'Europe/Madrid' });

  it('of today or this week ends now', () => {
    expect(of('day', null)).toMatchObject({
      date: '2026-03-31',
      backCount: 0,
      untilAt: at('2026-03-31T08:00:00Z'),
    });
    expect(of('week', null)).toMatchObject({
      date: '2026-03-30',
      backCount: 0,
      fromAt: at('2026-03-29T22:00:00Z'),
    });
  });

  it('of a day or week before is whole, shorter by an hour where the clock was changed', () => {
    const sunday = of('day', '2026-03-29');
    expect([sunday.backCount, (sunday.untilAt - sunday.fromAt) / 3_600_000]).toEqual([2, 23]);
    const week = of('week', '2026-03-25');
    expect([week.date, week.backCount]).toEqual(['2026-03-23', 1]);
    expect((week.untilAt - week.fromAt) / 3_600_000).toBe(7 * 24 - 1);
  });
});
