// What is wrong with the shop's computer, what that means here and what to do, in one line for each part.
import type { TroubleWire } from '../../server/contract/index.ts';
import type { Words } from './words.en.ts';

/** The lines for a screen, the worst first; a device that people enter things on also says what becomes of those. */
export function formatDegraded(
  troubles: readonly TroubleWire[],
  { words, isEntering }: { words: Words; isEntering: boolean },
): string[] {
  const { connection } = words;
  return ORDER.flatMap((part) => {
    const found = troubles.find((one) => one.part === part);
    if (found === undefined) return [];
    if (part === 'broker') return [connection.brokerGone];
    const line = connection.store[storeCodeOf(found)];
    return [part === 'ledger' && isEntering ? `${line} ${connection.degradedKept}` : line];
  });
}

function storeCodeOf({ code }: TroubleWire): keyof Words['connection']['store'] {
  return code === 'gone' || code === 'late' ? 'failed' : code;
}

/** What waits to be told outside the pages has a line of its own. */
const ORDER = ['integrity', 'ledger', 'broker'] as const;
