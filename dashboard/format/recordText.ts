// A record in words: what the window had said against what happened, the cause, its checks, its times.
import type { BatchWire, RecordWire } from '../../server/contract/index.ts';
import { formatClock, formatDayClock, type Place } from './clock.ts';
import { dateFormat } from './intl.ts';
import { formatPct } from './numbers.ts';
import { formatReason, type Naming } from './reason.ts';
import type { Words } from './words.en.ts';

const MOST_PROBABILITY = 0.99;
const LEAST_PROBABILITY = 0.01;

/** What the window had said, and what really happened. */
export function formatSaid({ said, stage, mixedAt }: RecordWire, words: Words, place: Place): string {
  const text = words.records.said;
  if (said === null) return stage === 'sanded' || stage === 'scrapped' ? text.closedUntested : text.untested;
  const outcome = said.outcome === 'gums' ? text.gummed : text.powdered;
  const clock = formatSince({ at: said.firstCheckAt, mixedAt }, place);
  const first =
    said.probability === null
      ? text.firstBare({ clock, outcome })
      : text.first({ clock, share: shareText(said.probability, words, place), outcome });
  const where = said.place === null ? '' : `, ${text[said.place]}`;
  if (said.outcome === 'powders') return `${first}${where}.`;
  return said.powderedAt === null
    ? `${first}.`
    : `${first}. ${text.later(formatSince({ at: said.powderedAt, mixedAt }, place))}${where}.`;
}

/** A window never says that something is certain. */
function shareText(probability: number, { records }: Words, { locale }: Place): string {
  if (probability > MOST_PROBABILITY)
    return records.said.almostSurely(formatPct(100 * MOST_PROBABILITY, locale));
  if (probability < LEAST_PROBABILITY) return records.said.hardly(formatPct(100 * LEAST_PROBABILITY, locale));
  return formatPct(100 * probability, locale);
}

/** Why the window stood where it did; null where there was none. */
export function formatRecordReason(record: RecordWire, naming: Naming): string | null {
  return formatReason(asBatch(record), naming);
}

/** One check: "07:21, gums, AB". */
export function formatCheck(
  { at, outcome, firstTry, by }: RecordWire['checks'][number],
  { mixedAt, words, place }: { readonly mixedAt: string; readonly words: Words; readonly place: Place },
): string {
  const { records } = words;
  const tries = firstTry === null ? null : firstTry ? records.checks.firstTry : records.checks.notFirstTry;
  return records.checks.line({
    clock: formatSince({ at, mixedAt }, place),
    outcome: records[outcome],
    tries,
    by,
  });
}

/** A clock time; with its day where that is not the day of mixing. */
export function formatSince(
  { at, mixedAt }: { readonly at: string; readonly mixedAt: string },
  place: Place,
): string {
  const [instantAt, startAt] = [Date.parse(at), Date.parse(mixedAt)];
  return formatDay(instantAt, place) === formatDay(startAt, place)
    ? formatClock(instantAt, place)
    : formatDayClock(instantAt, place);
}

/** A day in full: "Mon 12 Jan 2026". */
export function formatDay(instantAt: number, place: Place): string {
  return dateFormat(place.locale, {
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    timeZone: place.timeZone,
  }).format(instantAt);
}

/** The record as the batch it was before its first check, for the sentences that slips have too. */
function asBatch(record: RecordWire): BatchWire {
  const { window } = record;
  return {
    ...record,
    version: 0,
    remainingWorkMin: null,
    bayId: record.stays.at(-1)?.bayId ?? '',
    rolledInAt: null,
    outdoorTemperatureC: null,
    panelTemperatureC: null,
    by: record.by.mixed,
    lastAct: null,
    estimate:
      window === null
        ? null
        : {
            ...window,
            modelVersion: '',
            learnedVersion: 0,
            computedAt: record.mixedAt,
            spreadUntilAt: window.kickedAt,
            test: { p10At: window.p10At, p50At: window.p50At, p90At: window.p90At },
            probabilityNow: null,
            slowdown: null,
          },
  };
}
