// What is wrong with a field, for beside it: in the reader's language and units, whatever the wire calls it.
import { isLimitedField, type Limit, LIMITS } from '../../server/contract/limits.ts';
import type { Place } from '../format/clock.ts';
import {
  formatDegrees,
  formatDose,
  formatLength,
  formatMass,
  formatPlain,
  formatThickness,
  formatWholeTemperature,
} from '../format/numbers.ts';
import { isKnown } from '../format/refusalText.ts';
import type { Words } from '../format/words.en.ts';
import type { FieldError } from './sources.ts';

export interface RejectionNaming {
  readonly words: Words;
  readonly place: Place;
}

/** The rejection as a sentence. */
export function rejectionText(error: FieldError, naming: RejectionNaming): string {
  const { words } = naming;
  // A refusal that speaks of a field carries its code and its sentence.
  if (isKnown(error.reason, words.refusal)) {
    return words.language === 'en' && error.allowed !== '' ? error.allowed : words.refusal[error.reason];
  }
  const kind = kindOf(error.reason);
  const isEnglish = words.language === 'en';
  const reason =
    kind !== undefined ? words.rejection[kind] : isEnglish ? error.reason : words.rejection.other;
  return words.rejection.line(reason, allowedText(error, naming));
}

/** What the field would take; null where the reader's language has no words for it. */
export function allowedText(
  { path, reason, allowed }: FieldError,
  { words, place }: RejectionNaming,
): string | null {
  const { rejection, field, mix } = words;
  const name = path.slice(path.lastIndexOf('.') + 1);
  if (allowed === '') {
    // Found on this device, before anything was sent.
    if (reason === OWN_REASONS.notNumber) return field.aNumber(formatPlain(2.5, place.locale));
    return path === 'panel' ? mix.panelMissing : null;
  }
  if (isLimitedField(name)) return limitText({ name, ...LIMITS[name] }, { words, place });
  const [, min, max, unit] = /^(-?[\d.]+) … (-?[\d.]+) (.+)$/.exec(allowed) ?? [];
  if (unit !== undefined)
    return limitText({ name, min: Number(min), max: Number(max), unit }, { words, place });
  if (name === 'at' || name.endsWith('At')) return rejection.instant;
  const [, digits] = /^at most (\d+) characters?$/.exec(allowed) ?? [];
  if (digits !== undefined) return rejection.characters(Number(digits));
  return words.language === 'en' ? allowed : null;
}

interface NamedLimit extends Limit {
  readonly name: string;
}

function limitText({ name, min, max, unit }: NamedLimit, { words, place }: RejectionNaming): string {
  const text = (value: number): string => {
    if (name === 'beadGramsPer10Cm') return formatMass(value, place);
    // The wire has a share of the pace; people type percent.
    if (name === 'humidityEffectPer10Pct') return formatDose(100 * value, place.locale);
    if (name.endsWith('C')) return formatWholeTemperature(value, place);
    if (name.endsWith('K')) return formatDegrees(value, place);
    if (name.endsWith('Mm')) return formatThickness(value, place);
    if (name.endsWith('Cm')) return formatLength(value, place);
    if (name.endsWith('Pct')) return formatDose(value, place.locale);
    return `${formatPlain(value, place.locale)} ${name.endsWith('Min') ? words.unit.min : unit}`;
  };
  // The unit stands once, after the upper bound.
  return words.rejection.between(text(min).replace(/\s.*$/u, ''), text(max));
}

/** What the wire calls a fault; sentences that carry numbers are known by what they say. */
function kindOf(reason: string): Kind | undefined {
  return KIND_BY_REASON.get(reason) ?? KINDS_BY_PHRASE.find(([phrase]) => reason.includes(phrase))?.[1];
}

/** Reasons that this device finds by itself, in the words of the wire. */
export const OWN_REASONS = {
  missing: 'is missing',
  notNumber: 'is not a number',
  tooSmall: 'is too small',
  tooLarge: 'is too large',
  taken: 'stands twice',
} as const;

type Kind = Exclude<keyof Words['rejection'], 'line' | 'between' | 'characters' | 'instant'>;

/** The closed list of what the wire calls a fault of a field. */
const KIND_BY_REASON: ReadonlyMap<string, Kind> = new Map([
  [OWN_REASONS.missing, 'missing'],
  [OWN_REASONS.notNumber, 'notNumber'],
  [OWN_REASONS.taken, 'taken'],
  ['is not a whole number', 'notNumber'],
  ['is not a text', 'notText'],
  [OWN_REASONS.tooSmall, 'tooSmall'],
  [OWN_REASONS.tooLarge, 'tooLarge'],
  ['is too short', 'tooShort'],
  ['is too long', 'tooLong'],
  ['is not one of the choices', 'notChoice'],
  ['has the wrong form', 'wrongForm'],
  ['has a character that an identifier may not have', 'wrongCharacter'],
  ['has a character that cannot be shown', 'wrongCharacter'],
  ['is not a field of this body', 'unknownField'],
  ['is out of range', 'outOfRange'],
  ['is not a time zone', 'notTimeZone'],
]);

const KINDS_BY_PHRASE: readonly (readonly [string, Kind])[] = [
  ['not below the sanding time', 'takesNoTime'],
  ['too close to a sanding time', 'tooNearSanding'],
  ['too short for a sanding time', 'tooFarFromSanding'],
];
