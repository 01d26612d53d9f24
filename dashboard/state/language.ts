// The language this device shows: what was chosen on it, else the browser's, else the shop's.
import { computed, signal } from '@preact/signals';
import { type Language, languageOfTags } from '../format/language.ts';
import { $device } from './device.ts';
import { $live } from './sources.ts';

/** The browser's languages, the dearest first. */
export const $browserTags = signal<readonly string[]>([]);

/** The language that is wanted: the device's, the browser's, the shop's; the words follow once its catalogue is here. */
export const $language = computed<Language>(() => {
  const { language } = $device.value;
  if (language !== 'auto') return language;
  return languageOfTags($browserTags.value) ?? $live.value?.shop.language ?? 'en';
});

/** A language whose catalogue could not be loaded; null when all is well. */
export const $missingLanguage = signal<Language | null>(null);
