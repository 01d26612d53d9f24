// Days as the shop lives them: in its own time zone, whatever the server or the reader is set to.
import type { Instant } from '../contract/index.ts';

/** Makes a reader of days in a time zone: "2026-01-12", which also sorts as text. */
export function makeDayReader(timeZone: string): (instantAt: Instant) => string {
  const format = new Intl.DateTimeFormat('en-GB', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  });
  return (instantAt) => format.format(instantAt).split('/').toReversed().join('-');
}
