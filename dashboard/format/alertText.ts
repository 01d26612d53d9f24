// What an alert says: of the one panel or sensor that it is about, or how many of a kind are in one line.
import type { AlertKind, AlertSubjectWire, AlertWire } from '../../server/contract/index.ts';
import { formatClock, type Place } from './clock.ts';
import { epochAt } from './phase.ts';
import type { Words } from './words.en.ts';

/** The sentence of an alert. */
export function alertText(alert: AlertWire, words: Words): string {
  return isManyKind(alert.kind) && alert.folded
    ? words.alertOfMany[alert.kind](alert.subjects.length)
    : words.alert[alert.kind](nameOf(alert));
}

/** How far a window moved; null where an alert says nothing of it. */
export function alertMoved(
  { kind, movedFromAt, movedToAt }: AlertWire,
  { words, place }: { readonly words: Words; readonly place: Place },
): string | null {
  const fromAt = epochAt(movedFromAt);
  const toAt = epochAt(movedToAt);
  if (kind !== 'slowing' || fromAt === null) return null;
  const from = formatClock(fromAt, place);
  return toAt === null ? words.alert.movedAway(from) : words.alert.moved(from, formatClock(toAt, place));
}

/** One of many in a line: what it is, where, and whose. */
export function subjectText(
  { panel, sensorId, bayId, by }: AlertSubjectWire,
  bayName: (bayId: string) => string,
): string {
  const parts = [panel ?? sensorId, bayId === null ? null : bayName(bayId), by];
  return parts.filter((part) => part !== null).join(' · ');
}

/** What "Seen" is said of. */
export function alertName(alert: AlertWire, words: Words): string {
  return alert.folded ? alertText(alert, words) : nameOf(alert);
}

function nameOf({ panel, sensorId }: AlertWire): string {
  return panel ?? sensorId ?? '';
}

/** What the technician waits for is never folded. */
function isManyKind(kind: AlertKind): kind is Exclude<AlertKind, 'spreadBy' | 'test'> {
  return kind !== 'spreadBy' && kind !== 'test';
}
