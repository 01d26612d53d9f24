// Brings the catalogue of the wanted language: English is always here, every other one is a chunk of its own.
import { batch, effect } from '@preact/signals';
import type { Language } from '../format/language.ts';
import type { Words } from '../format/words.en.ts';
import { $englishWords } from '../state/englishWords.ts';
import { $browserTags, $language, $missingLanguage } from '../state/language.ts';
import { $connection, $words } from '../state/sources.ts';

/** The first screen waits for its language this long at most. */
const WAIT_MS = 1500;

/** Follows the device's choice from now on; done when the first words are there, or cannot be had soon. */
export async function startLanguage(): Promise<void> {
  readTags();
  addEventListener('languagechange', readTags);
  let first: Promise<void> = Promise.resolve();
  effect(() => {
    const language = $language.value;
    // What could not be loaded is tried again with each change of the connection.
    void $connection.value;
    if ($words.peek().language === language) $missingLanguage.value = null;
    else first = speak(language);
  });
  await Promise.race([
    first,
    new Promise<void>((resolve) => {
      setTimeout(resolve, WAIT_MS);
    }),
  ]);
}

function readTags(): void {
  $browserTags.value = navigator.languages;
}

/** While a catalogue is on its way the old one stays. */
async function speak(language: Language): Promise<void> {
  const words = await loadWords(language).catch(() => null);
  if ($language.peek() !== language) return;
  batch(() => {
    $missingLanguage.value = words === null ? language : null;
    if (words !== null) $words.value = words;
  });
}

async function loadWords(language: Language): Promise<Words> {
  switch (language) {
    case 'en':
      return $englishWords.peek();
    case 'es':
      return (await import('../format/words.es.ts')).wordsEs;
  }
}
