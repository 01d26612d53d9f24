// What an alert says: of the one panel or sensor that it is about, or how many of a kind are in one line.
import type { AlertKind, AlertWire } from '../../server/contract/index.ts';
import type { Words } from './words.en.ts';

/** The sentence of an alert. */
export function alertText(alert: AlertWire, words: Words): string {
  return isManyKind(alert.kind) && alert.folded
    ? words.alertOfMany[alert.kind](alert.subjects.length)
    : words.alert[alert.kind](nameOf(alert));
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
