// What the service worker says of alerts, taken from the catalogue at build time: the worker is one file that imports nothing.
import { alertWordsEn } from '../dashboard/format/alertWords.en.ts';
import { alertWordsEs } from '../dashboard/format/alertWords.es.ts';
import { notifyWordsEn } from '../dashboard/format/notifyWords.en.ts';
import { notifyWordsEs } from '../dashboard/format/notifyWords.es.ts';
import { ALERT_KINDS } from '../server/contract/alertTerms.ts';

/** Stands for the panel or sensor, and for how many. */
const NAME = '⟨name⟩';
const MANY_COUNT = 2;

/** The texts by language and kind: of one, and of many. */
export function workerWords(): object {
  return { en: textsOf(alertWordsEn, notifyWordsEn), es: textsOf(alertWordsEs, notifyWordsEs) };
}

function textsOf(
  { alert, alertOfMany }: typeof alertWordsEn,
  { notify }: { readonly notify: { readonly trialText: string } },
): object {
  const kinds = ALERT_KINDS.map((kind) => [
    kind,
    {
      one: alert[kind](NAME),
      // What the technician waits for is never folded.
      many:
        kind === 'spreadBy' || kind === 'test'
          ? null
          : alertOfMany[kind](MANY_COUNT).replace(String(MANY_COUNT), '⟨count⟩'),
    },
  ]);
  return { trial: notify.trialText, kinds: Object.fromEntries(kinds) as object };
}
