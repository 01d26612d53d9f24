// Clock times in the shop's own time zone, whatever the phone is set to.
import { dateFormat } from './intl.ts';
import type { Reader } from './units.ts';

/** Where, in which language and in which units a screen is read. */
export interface Place extends Reader {
  readonly timeZone: string;
}

export interface ClockSpan {
  readonly fromAt: number;
  readonly untilAt: number;
}

/** A clock time: "14:32". */
export function formatClock(instantAt: number, place: Place): string {
  return dateFormat(place.locale, {
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
    timeZone: place.timeZone,
  }).format(instantAt);
}

/** Two clock times: "14:31–14:52"; one when they are the same minute. */
export function formatClockSpan(span: ClockSpan, place: Place): string {
  const from = formatClock(span.fromAt, place);
  const until = formatClock(span.untilAt, place);
  return from === until ? from : `${from}–${until}`;
}

/** A day and time, for things that may lie further back: "12 Jan 07:05". */
export function formatDayClock(instantAt: number, place: Place): string {
  const day = dateFormat(place.locale, {
    day: 'numeric',
    month: 'short',
    timeZone: place.timeZone,
  }).format(instantAt);
  return `${day} ${formatClock(instantAt, place)}`;
}

/** Minutes and seconds: "2:40". */
export function formatMinutesSeconds(durationS: number): string {
  const wholeS = Math.max(0, Math.round(durationS));
  const minutes = Math.floor(wholeS / 60);
  return `${minutes}:${String(wholeS % 60).padStart(2, '0')}`;
}
