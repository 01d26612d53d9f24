// The shop's own day: which date an instant falls on there, and how many minutes after local midnight.
import { type Instant, instantFromMs, MS_PER_MIN } from '../server/contract/index.ts';
import type { Weekday } from './scenarios/scenario.ts';

export interface LocalDay {
  /** Such as 2026-01-12. */
  readonly date: string;
  readonly midnightAt: Instant;
}

/** The local day of an instant in a time zone. */
export function localDayOf(at: Instant, timeZone: string): LocalDay {
  const parts = new Map(
    new Intl.DateTimeFormat('en-US', { ...FORMAT, timeZone }).formatToParts(at).map((p) => [p.type, p.value]),
  );
  const part = (name: Intl.DateTimeFormatPartTypes): string => parts.get(name) ?? '00';
  const sinceMidnightMs =
    ((Number(part('hour')) * 60 + Number(part('minute'))) * 60 + Number(part('second'))) * 1000;
  return {
    date: `${part('year')}-${part('month')}-${part('day')}`,
    midnightAt: instantFromMs(Math.floor(at / 1000) * 1000 - sinceMidnightMs),
  };
}

/** The instant at which a date such as 2026-01-12 begins in a time zone, or null when there is no such date. */
export function midnightOf({ date, timeZone }: { date: string; timeZone: string }): Instant | null {
  const noonMs = Date.parse(`${date}T12:00:00Z`);
  const isDate = Number.isFinite(noonMs) && new Date(noonMs).toISOString().startsWith(`${date}T`);
  if (!isDate) return null;
  // Noon in Greenwich may be the day before or after elsewhere, and a clock may have been changed since midnight.
  for (let byMin = -26 * 60; byMin <= 26 * 60; byMin += 15) {
    const at = instantFromMs(noonMs + byMin * MS_PER_MIN);
    if (localDayOf(at, timeZone).date === date) return at;
  }
  return null;
}

/** The day of the week. */
export function weekdayOf({ date }: LocalDay): Weekday {
  return WEEKDAYS[new Date(`${date}T00:00:00Z`).getUTCDay()] ?? 'Sun';
}

/** Minutes from a day's local midnight to an instant. */
export function minuteOfDay(day: LocalDay, at: Instant): number {
  return (at - day.midnightAt) / MS_PER_MIN;
}

/** The instant so many minutes after a day's local midnight. */
export function instantOfDay(day: LocalDay, minuteMin: number): Instant {
  return instantFromMs(day.midnightAt + minuteMin * MS_PER_MIN);
}

/** The instant so many minutes later. */
export function laterAt(at: Instant, byMin: number): Instant {
  return instantFromMs(at + byMin * MS_PER_MIN);
}

const WEEKDAYS: readonly Weekday[] = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];
const FORMAT = {
  calendar: 'gregory',
  numberingSystem: 'latn',
  hourCycle: 'h23',
  year: 'numeric',
  month: '2-digit',
  day: '2-digit',
  hour: '2-digit',
  minute: '2-digit',
  second: '2-digit',
} as const;
