// What is unusual about a card, in the reader's words and units.
import type { CardPreviewWire } from '../../../server/contract/index.ts';
import { formatDegrees, formatThickness, formatWholeTemperature } from '../../format/numbers.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';

/** Thicker is not put on in one coat; the server warns beyond it. */
const COAT_MAX_MM = 6;

/** A warning as a sentence. */
export function cardWarning(
  { code, airTemperatureC }: CardPreviewWire['warnings'][number],
  doublingK: number | null,
): string {
  const { warning: words } = $words.value.setup.plausible;
  const place = $place.value;
  const at = formatWholeTemperature(airTemperatureC ?? 0, place);
  switch (code) {
    case 'doubling-unusual':
      return words.doubling(formatDegrees(doublingK ?? 0, place));
    case 'working-share-unusual':
      return words.workingShare;
    case 'hardener-unusual':
      return words.hardener;
    case 'thick-for-one-coat':
      return words.thick(formatThickness(COAT_MAX_MM, place));
    case 'stalls-in-the-cold':
      return words.stalls(at);
    case 'slow-in-the-cold':
      return words.slow(at);
  }
}
