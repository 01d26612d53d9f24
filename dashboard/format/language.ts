// The languages of the screens, and which regional habits go with one.
import type { Units } from './units.ts';

export type Language = 'en' | 'es';

/** What a language is called in itself. */
export const LANGUAGE_NAMES: Readonly<Record<Language, string>> = { en: 'English', es: 'Español' };

/** The first of a browser's languages that the screens speak; null where there is none. */
export function languageOfTags(tags: readonly string[]): Language | null {
  return tags.map(baseOf).find(isSpoken) ?? null;
}

/**
 * The locale for numbers and dates: the browser's own region where it has one for this language. Browsers all over the
 * world are shipped as en-US, so that one is believed only where the units are American too.
 */
export function localeOf(language: Language, { tags, units }: LocaleHints): string {
  if (language === 'en' && units.temperature === 'F') return 'en-US';
  const own = tags.find((tag) => baseOf(tag) === language && tag !== language && tag !== 'en-US');
  return own ?? { en: 'en-GB', es: 'es-419' }[language];
}

export interface LocaleHints {
  readonly tags: readonly string[];
  readonly units: Units;
}

function isSpoken(base: string): base is Language {
  return Object.hasOwn(LANGUAGE_NAMES, base);
}

function baseOf(tag: string): string {
  return tag.split('-', 1)[0]?.toLowerCase() ?? '';
}
