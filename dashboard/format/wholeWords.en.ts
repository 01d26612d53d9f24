// The whole English catalogue: what every page has, and what comes with Setup.
import { copyWordsEn } from './copyWords.en.ts';
import { setupWordsEn } from './setupWords.en.ts';
import { firstWordsEn, type Words } from './words.en.ts';

export const wordsEn: Words = { ...firstWordsEn, ...setupWordsEn, ...copyWordsEn };
