// The wall clock of the shop: hours of ordinary days and of the days on which clocks are changed.
// Change-overs as the IANA time zone database has them (Madrid 2026-03-29 and 2026-10-25; Lord Howe by half an hour;
// Beirut and Havana at midnight): from memory, and checked against `date` with TZ set.
import { describe, expect, it } from 'vitest';
import { type Instant, instantFromIso, isoFromInstant } from '../../server/contract/index.ts';
import { makeWallClock, mondayOf, spellsBetween } from '../../server/domain/localHours.ts';

const at = (text: string): Instant => instantFromIso(text) as Instant;
const madrid = makeWallClock('Europe/Madrid');

function hoursOfDay(timeZone: string, noon: string) {
  const wall = makeWallClock(timeZone);
  const fromAt = wall.midnightBefore(at(noon), 0);
  const nextAt = wall.midnightBefore((fromAt + 36 * 3_600_000) as Instant, 0);
  return wall.hoursOf({ fromAt, toAt: nextAt });
}

describe('a local day', () => {
  it.each([
    ['of winter has 24 hours', 'Europe/Madrid', '2026-01-12T11:00:00Z', 24, 24],
    ['of spring’s change has 23', 'Europe/Madrid', '2026-03-29T11:00:00Z', 23, 23],
    ['of autumn’s change has 25', 'Europe/Madrid', '2026-10-25T11:00:00Z', 25, 25],
    ['that begins at one o’clock has 23', 'Asia/Beirut', '2026-03-29T10:00:00Z', 23, 23],
    ['that has its first hour twice has 25', 'America/Havana', '2026-11-01T17:00:00Z', 25, 25],
    ['with half an hour more has 24 and a half', 'Australia/Lord_Howe', '2026-04-05T02:00:00Z', 25, 24.5],
    ['of a zone with a quarter of an hour has 24', 'Asia/Kathmandu', '2026-01-12T06:00:00Z', 24, 24],
  ])('%s', (_, timeZone, noon, count, length) => {
    const hours = hoursOfDay(timeZone, noon);
    expect(hours).toHaveLength(count);
    const minutes = hours.reduce((sum, hour) => sum + (hour.toAt - hour.fromAt) / 60_000, 0);
    expect(minutes).toBe(60 * length);
    expect(new Set(hours.map(({ date }) => date)).size).toBe(1);
  });

  it('of spring’s change has no hour two, and of autumn’s has it twice', () => {
    const of = (noon: string): number[] =>
      hoursOfDay('Europe/Madrid', noon).map(({ hourIndex }) => hourIndex);
    expect(of('2026-03-29T11:00:00Z').slice(0, 4)).toEqual([0, 1, 3, 4]);
    expect(of('2026-10-25T11:00:00Z').slice(0, 5)).toEqual([0, 1, 2, 2, 3]);
  });

  it('knows its date, its weekday and where a cut hour begins', () => {
    const hours = madrid.hoursOf({ fromAt: at('2026-01-11T22:40:30Z'), toAt: at('2026-01-11T23:10:00Z') });
    expect(hours).toEqual([
      {
        date: '2026-01-11',
        weekday: 'Sun',
        hourIndex: 23,
        startMin: 23 * 60 + 40,
        fromAt: at('2026-01-11T22:40:30Z'),
        toAt: at('2026-01-11T23:00:00Z'),
      },
      {
        date: '2026-01-12',
        weekday: 'Mon',
        hourIndex: 0,
        startMin: 0,
        fromAt: at('2026-01-11T23:00:00Z'),
        toAt: at('2026-01-11T23:10:00Z'),
      },
    ]);
  });
});

describe('midnights', () => {
  it('are counted back in local days, over both changes', () => {
    const back = (text: string, days: number): string =>
      isoFromInstant(madrid.midnightBefore(at(text), days));
    expect(back('2026-01-12T08:00:00Z', 0)).toBe('2026-01-11T23:00:00.000Z');
    expect(back('2026-03-30T08:00:00Z', 0)).toBe('2026-03-29T22:00:00.000Z');
    expect(back('2026-03-30T08:00:00Z', 2)).toBe('2026-03-27T23:00:00.000Z');
    expect(back('2026-10-25T12:00:00Z', 1)).toBe('2026-10-23T22:00:00.000Z');
  });
});

describe('a spell between two times of day', () => {
  const spellsOf = (from: string, to: string, fromMin: number, toMin: number): string[] =>
    spellsBetween(madrid.hoursOf({ fromAt: at(from), toAt: at(to) }), { fromMin, toMin }).map(
      ({ fromAt, toAt }) => `${isoFromInstant(fromAt).slice(5, 16)} ${isoFromInstant(toAt).slice(5, 16)}`,
    );

  it('is one a day, to the minute', () => {
    expect(spellsOf('2026-01-11T23:00:00Z', '2026-01-13T23:00:00Z', 390, 600)).toEqual([
      '01-12T05:30 01-12T09:00',
      '01-13T05:30 01-13T09:00',
    ]);
  });

  it('loses the hour that is left out, and is there again in the hour that comes twice', () => {
    expect(spellsOf('2026-03-28T23:00:00Z', '2026-03-29T22:00:00Z', 60, 240)).toEqual([
      '03-29T00:00 03-29T02:00',
    ]);
    expect(spellsOf('2026-10-24T22:00:00Z', '2026-10-25T23:00:00Z', 150, 165)).toEqual([
      '10-25T00:30 10-25T00:45',
      '10-25T01:30 10-25T01:45',
    ]);
  });

  it('is cut where the hours end', () => {
    expect(spellsOf('2026-01-12T05:50:00Z', '2026-01-12T08:00:00Z', 360, 600)).toEqual([
      '01-12T05:50 01-12T08:00',
    ]);
  });
});

describe('the Monday of a week', () => {
  it.each([
    ['2026-01-12', '2026-01-12'],
    ['2026-01-18', '2026-01-12'],
    ['2026-03-01', '2026-02-23'],
    ['2026-01-01', '2025-12-29'],
  ])('of %s is %s', (date, monday) => {
    expect(mondayOf(date)).toBe(monday);
  });
});
