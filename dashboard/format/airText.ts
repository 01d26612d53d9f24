// Sentences and figures of Air.
import type { ColdCause, CostWire, Weekday } from '../../server/contract/index.ts';
import type { AirSpan } from './airSpan.ts';
import type { Place } from './clock.ts';
import { dateFormat, numberFormat } from './intl.ts';
import type { LossPeak } from './lossPeak.ts';
import { formatDegrees } from './numbers.ts';
import type { Words } from './words.en.ts';

export interface CostNaming {
  readonly words: Words;
  readonly place: Place;
  readonly bay: string;
}

/** "Last week", "On Tue 13 Jan". */
export function formatWhen(
  span: AirSpan,
  kind: 'day' | 'week',
  { words, place }: Omit<CostNaming, 'bay'>,
): string {
  const { airScreen } = words;
  const name = formatDate({ date: span.date, locale: place.locale });
  if (kind === 'week') {
    return [airScreen.thisWeek, airScreen.lastWeek][span.backCount] ?? airScreen.inWeekOf(name);
  }
  return [airScreen.today, airScreen.yesterday][span.backCount] ?? airScreen.onDay(name);
}

/** What the cold cost, and when most of it was lost. */
export function formatCost(
  cost: Pick<CostWire, 'addedMin'>,
  {
    when,
    kind,
    peak,
  }: { readonly when: string; readonly kind: 'day' | 'week'; readonly peak: LossPeak | null },
  { words, place, bay }: CostNaming,
): string {
  const { airScreen } = words;
  if (Math.round(cost.addedMin) === 0) return airScreen.costNothing(when, bay);
  const minutes = airScreen.minutes(wholeCount(cost.addedMin));
  const head = airScreen.cost({ when, bay, minutes });
  if (peak === null) return `${head}.`;
  const hours = airScreen.hours(String(peak.fromHourIndex), String(peak.toHourIndex));
  const part = peak.toHourIndex <= NOON_INDEX ? 'morning' : 'later';
  const days = kind === 'day' ? '' : airScreen.onDays[peak.days][part];
  return Math.round(peak.addedMin) === Math.round(cost.addedMin)
    ? head + airScreen.allOfThem(hours, days)
    : head + airScreen.ofThem(formatWhole(peak.addedMin, place.locale), hours, days);
}

/** A whole number. */
export function formatWhole(value: number, locale: string): string {
  return numberFormat(locale, { maximumFractionDigits: 0 }).format(wholeCount(value));
}

/** Whole minutes to be counted in words. */
export function wholeCount(value: number): number {
  return Math.abs(Math.round(value));
}

/** How a cause is told from the signal, by the bounds of its rule. */
export function formatCauseRule(cause: ColdCause, { words, place }: Omit<CostNaming, 'bay'>): string {
  return words.airScreen.causeHints[cause]({
    fall: formatDegrees(DOOR_FALL_K, place),
    rise: formatDegrees(HEATING_RISE_K, place),
  });
}

/** A slowdown: "1.8". */
export function formatRatio(value: number, locale: string): string {
  return numberFormat(locale, { minimumFractionDigits: 1, maximumFractionDigits: 1 }).format(value);
}

/** A date with its weekday: "Tue 13 Jan". */
export function formatDate({ date, locale }: { readonly date: string; readonly locale: string }): string {
  return dateFormat(locale, {
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    timeZone: 'UTC',
  })
    .format(Date.parse(date))
    .replace(',', '');
}

/** A day of the week in short: "Tue". */
export function formatWeekday(weekday: Weekday, locale: string): string {
  const monday = Date.UTC(2026, 0, 5 + WEEKDAY_ORDER.indexOf(weekday));
  return dateFormat(locale, { weekday: 'short', timeZone: 'UTC' }).format(monday);
}

/** The rules' bounds, as the server's coldSignal has them. */
const DOOR_FALL_K = 1.2;
const HEATING_RISE_K = 2;
const NOON_INDEX = 12;
const WEEKDAY_ORDER: readonly Weekday[] = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'];
