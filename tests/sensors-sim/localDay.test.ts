import { describe, expect, it } from 'vitest';
import { instantOfDay, localDayOf, midnightOf, minuteOfDay, weekdayOf } from '../../sensors-sim/localDay.ts';
import { at } from './playDay.ts';

describe('the shop’s own day', () => {
  it.each([
    ['2026-01-12T06:40:00Z', 'UTC', '2026-01-12', 400],
    ['2026-01-12T05:40:00Z', 'Europe/Madrid', '2026-01-12', 400],
    ['2026-01-12T23:30:00Z', 'Europe/Madrid', '2026-01-13', 30],
    ['2026-01-12T01:15:00Z', 'America/Bogota', '2026-01-11', 1215],
    ['2026-01-12T03:00:00Z', 'Asia/Kolkata', '2026-01-12', 510],
  ])('puts %s in %s on %s at minute %i', (instant, timeZone, date, minuteMin) => {
    const day = localDayOf(at(instant), timeZone);
    expect(day.date).toBe(date);
    expect(minuteOfDay(day, at(instant))).toBe(minuteMin);
    expect(instantOfDay(day, minuteMin)).toBe(at(instant));
  });

  it('keeps parts of a second', () => {
    const day = localDayOf(at('2026-01-12T06:40:00.250Z'), 'UTC');
    expect(day.midnightAt).toBe(at('2026-01-12T00:00:00Z'));
  });

  it.each([
    ['2026-01-12', 'UTC', '2026-01-12T00:00:00Z'],
    ['2026-01-12', 'Europe/Berlin', '2026-01-11T23:00:00Z'],
    ['2026-01-12', 'Pacific/Kiritimati', '2026-01-11T10:00:00Z'],
    ['2026-01-12', 'Pacific/Pago_Pago', '2026-01-12T11:00:00Z'],
    ['2026-01-12', 'Asia/Kathmandu', '2026-01-11T18:15:00Z'],
    // The clocks go forward and back within these days.
    ['2026-03-29', 'Europe/Berlin', '2026-03-28T23:00:00Z'],
    ['2026-10-25', 'Europe/Berlin', '2026-10-24T22:00:00Z'],
  ])('begins on %s in %s at %s', (date, timeZone, instant) => {
    expect(midnightOf({ date, timeZone })).toBe(at(instant));
  });

  it.each(['2026-02-30', '2026-1-12', 'monday', '', '2026-01-12T00'])('is not one of %j', (date) => {
    expect(midnightOf({ date, timeZone: 'UTC' })).toBeNull();
  });

  it('knows its weekday', () => {
    const days = ['2026-01-11', '2026-01-12', '2026-01-17'].map((date) => at(`${date}T12:00:00Z`));
    expect(days.map((instant) => weekdayOf(localDayOf(instant, 'UTC')))).toEqual(['Sun', 'Mon', 'Sat']);
  });
});
