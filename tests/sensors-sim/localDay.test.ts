import { describe, expect, it } from 'vitest';
import { instantOfDay, localDayOf, minuteOfDay } from '../../sensors-sim/localDay.ts';
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
});
