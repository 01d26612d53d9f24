// Time as the clock on the shop's wall tells it: a span cut into local hours, each with its date and weekday.
import type { Instant, Weekday } from '../contract/index.ts';

/** One hour of the wall clock; shorter at the ends of a span, and doubled or missing where clocks are changed. */
export interface LocalHour {
  /** Such as 2026-01-12. */
  readonly date: string;
  readonly weekday: Weekday;
  /** 0 … 23. */
  readonly hourIndex: number;
  /** Minutes on the wall clock at its start. */
  readonly startMin: number;
  readonly fromAt: Instant;
  readonly toAt: Instant;
}

export interface Span {
  readonly fromAt: Instant;
  readonly toAt: Instant;
}

/** The shop's wall clock. */
export interface WallClock {
  /** The local hours of a span in order, its ends cut. */
  hoursOf(span: Span): LocalHour[];
  /** The local midnight before an instant, so many days further back. */
  midnightBefore(instantAt: Instant, backDays: number): Instant;
}

const MS_PER_MIN = 60_000;
const HOUR_MS = 60 * MS_PER_MIN;

/** Makes the wall clock of a time zone. Asked a few thousand times for a quarter of a year, so the format is made once. */
export function makeWallClock(timeZone: string): WallClock {
  const format = new Intl.DateTimeFormat('en-GB', { ...FORMAT, timeZone });
  const read = (instantAt: number): Reading => readingFrom(format.formatToParts(instantAt));
  const startOfDay = (instantAt: number): number => {
    const { date, sinceMidnightMs } = read(instantAt);
    // Where clocks were changed since midnight, the guess lies in the day before or after its start.
    let startAt = wholeMinute(instantAt) - sinceMidnightMs;
    while (read(startAt).date < date) startAt += HOUR_MS / 4;
    while (read(startAt - 1).date === date) startAt -= HOUR_MS / 4;
    return startAt;
  };
  return {
    hoursOf({ fromAt, toAt }) {
      const hours: LocalHour[] = [];
      // Each step is longer than a minute, so that the loop ends.
      for (let startAt: number = fromAt; startAt < toAt;) {
        const { date, hourIndex, sinceMidnightMs } = read(startAt);
        const leftMs = HOUR_MS - (sinceMidnightMs % HOUR_MS) - (startAt - wholeMinute(startAt));
        const endAt = Math.min(toAt, startAt + leftMs);
        hours.push({
          date,
          weekday: weekdayOf(date),
          hourIndex,
          startMin: sinceMidnightMs / MS_PER_MIN,
          fromAt: startAt as Instant,
          toAt: endAt as Instant,
        });
        startAt = endAt;
      }
      return hours;
    },
    midnightBefore(instantAt, backDays) {
      let startAt = startOfDay(instantAt);
      for (let day = 0; day < backDays; day += 1) startAt = startOfDay(startAt - 1);
      return startAt as Instant;
    },
  };
}

/** The spells in which the wall clock stands between two times of day, one or none for each day; hours in order. */
export function spellsBetween(
  hours: readonly LocalHour[],
  { fromMin, toMin }: { readonly fromMin: number; readonly toMin: number },
): Span[] {
  const spells: Span[] = [];
  for (const { startMin, fromAt, toAt } of hours) {
    const startAt = Math.max(fromAt, fromAt + (fromMin - startMin) * MS_PER_MIN);
    const endAt = Math.min(toAt, fromAt + (toMin - startMin) * MS_PER_MIN);
    if (startAt >= endAt) continue;
    const last = spells.at(-1);
    const isNext = last?.toAt === startAt;
    if (isNext) spells.pop();
    spells.push({ fromAt: (isNext ? last.fromAt : startAt) as Instant, toAt: endAt as Instant });
  }
  return spells;
}

/** The day of the week of a date. */
function weekdayOf(date: string): Weekday {
  return WEEKDAY_OF_UTC[new Date(`${date}T00:00:00Z`).getUTCDay()] as Weekday;
}

/** The Monday of a date's week, as a date. */
export function mondayOf(date: string): string {
  const startMs = Date.parse(`${date}T00:00:00Z`);
  const backDays = (new Date(startMs).getUTCDay() + 6) % 7;
  return new Date(startMs - backDays * 24 * HOUR_MS).toISOString().slice(0, 10);
}

interface Reading {
  readonly date: string;
  readonly hourIndex: number;
  readonly sinceMidnightMs: number;
}

function readingFrom(parts: readonly Intl.DateTimeFormatPart[]): Reading {
  const texts = new Map(parts.map(({ type, value }) => [type, value]));
  const text = (type: Intl.DateTimeFormatPartTypes): string => texts.get(type) as string;
  const hourIndex = Number(text('hour'));
  return {
    date: `${text('year')}-${text('month')}-${text('day')}`,
    hourIndex,
    sinceMidnightMs: (hourIndex * 60 + Number(text('minute'))) * MS_PER_MIN,
  };
}

function wholeMinute(instantAt: number): number {
  return Math.floor(instantAt / MS_PER_MIN) * MS_PER_MIN;
}

const WEEKDAY_OF_UTC: readonly Weekday[] = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];
const FORMAT = {
  calendar: 'gregory',
  numberingSystem: 'latn',
  hourCycle: 'h23',
  year: 'numeric',
  month: '2-digit',
  day: '2-digit',
  hour: '2-digit',
  minute: '2-digit',
} as const;
