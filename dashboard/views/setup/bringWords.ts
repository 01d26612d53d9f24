// Brings what Setup alone says into the English catalogue as soon as its chunk is here, before any of it is drawn.
import { wordsEn } from '../../format/wholeWords.en.ts';
import { $englishWords } from '../../state/englishWords.ts';
import { $words } from '../../state/sources.ts';

/** Makes the English catalogue whole. */
export function bringWords(): void {
  $englishWords.value = wordsEn;
  if ($words.peek().language === 'en') $words.value = wordsEn;
}
