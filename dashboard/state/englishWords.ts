// The English catalogue as far as it is here: Setup's part of it comes with Setup's chunk. Another language comes whole.
import { signal } from '@preact/signals';
import { firstWordsEn, type Words } from '../format/words.en.ts';

/** What Setup alone says stands in the type from the start: nobody but its chunk reads it. */
export const $englishWords = signal<Words>(firstWordsEn as Words);
