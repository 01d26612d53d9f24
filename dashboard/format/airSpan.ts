// Days and weeks as the shop's own clock has them, whatever the device is set to.

/** A day or a week, Monday to Sunday; of the one that is not over, what there is. */
export interface AirSpan {
  readonly fromAt: number;
  readonly untilAt: number;
  /** The first day, such as 2026-01-12. */
  readonly date: string;
  /** How many days or weeks it lies back: 0 is the one that is going on. */
  readonly backCount: number;
}

export interface SpanQuestion {
  readonly kind: 'day' | 'week';
  /** A day inside it; null for the one that is going on. */
  readonly date: string | null;
  readonly nowAt: number;
  readonly timeZone: string;
}

/** A date where the shop is. */
export interface DateInZone {
  readonly date: string;
  readonly timeZone: string;
}

const DAY_MS = 24 * 60 * 60_000;
const HOUR_MS = 60 * 60_000;

/** The span that a choice means. */
export function spanOf({ kind, date, nowAt, timeZone }: SpanQuestion): AirSpan {
  const today = dateOf(nowAt, timeZone);
  const first = kind === 'day' ? (date ?? today) : mondayOf(date ?? today);
  const current = kind === 'day' ? today : mondayOf(today);
  const stepDays = kind === 'day' ? 1 : 7;
  const endAt = startOfDate({ date: shiftDate(first, stepDays), timeZone });
  return {
    fromAt: startOfDate({ date: first, timeZone }),
    untilAt: Math.min(endAt, nowAt),
    date: first,
    backCount: Math.round((Date.parse(current) - Date.parse(first)) / (stepDays * DAY_MS)),
  };
}

/** The date of an instant in a time zone. */
export function dateOf(instantAt: number, timeZone: string): string {
  return wallText(instantAt, timeZone).slice(0, 10);
}

/** A date so many days later. */
export function shiftDate(date: string, byDays: number): string {
  return new Date(Date.parse(`${date}T00:00:00Z`) + byDays * DAY_MS).toISOString().slice(0, 10);
}

/** The Monday of a date's week. */
export function mondayOf(date: string): string {
  return shiftDate(date, -((new Date(`${date}T00:00:00Z`).getUTCDay() + 6) % 7));
}

/** The instant at which a date begins in a time zone. */
export function startOfDate({ date, timeZone }: DateInZone): number {
  const wantedAt = Date.parse(`${date}T00:00:00Z`);
  let startAt = wantedAt;
  // Twice, since the clock may have been changed between the first guess and the day's start.
  for (let guess = 0; guess < 2; guess += 1) {
    startAt -= Date.parse(`${wallText(startAt, timeZone)}Z`) - wantedAt;
  }
  // Where a day begins at one o'clock, the hour before it belongs to the day before.
  return dateOf(startAt, timeZone) < date ? startAt + HOUR_MS : startAt;
}

/** The wall clock as ISO text without a zone. */
function wallText(instantAt: number, timeZone: string): string {
  const parts = new Map(
    new Intl.DateTimeFormat('en-GB', {
      timeZone,
      calendar: 'gregory',
      numberingSystem: 'latn',
      hourCycle: 'h23',
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
      hour: '2-digit',
      minute: '2-digit',
      second: '2-digit',
    })
      .formatToParts(instantAt)
      .map(({ type, value }) => [type, value]),
  );
  const text = (type: Intl.DateTimeFormatPartTypes): string => parts.get(type) ?? '00';
  return `${text('year')}-${text('month')}-${text('day')}T${text('hour')}:${text('minute')}:${text('second')}`;
}
