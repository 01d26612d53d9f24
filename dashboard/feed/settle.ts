// What an answer changes on the page: the batch at once, a toast with undo, or the trouble beside the button.
import { batch } from '@preact/signals';
import type { BatchWire } from '../../server/contract/index.ts';
import { formatRefusal } from '../format/refusalText.ts';
import { mergeBatch } from '../state/applyLiveMessage.ts';
import type { Kept } from '../state/kept.ts';
import { $connection, $live, $words, setTrouble } from '../state/sources.ts';
import type { Answer } from './http.ts';
import { readSnapshot } from './snapshot.ts';
import { showToast } from './toast.ts';

type Settled = Exclude<Answer, { kind: 'unanswered' }>;

/** Applies an answer to the page. */
export function settle(entry: Kept, answer: Settled): void {
  if (answer.kind === 'refused') return tellRefusal(entry, answer);
  batch(() => {
    setTrouble(placeOf(entry), null);
    const held = $live.peek();
    if (held !== null && isBatch(answer.body)) $live.value = mergeBatch(held, answer.body);
    tellDone(entry, answer.body);
  });
  if ($connection.peek() !== 'live') void readSnapshot();
}

/** Where the trouble of an entry is shown. */
export function placeOf({ body }: Kept): string {
  if (body.kind === 'start') return 'mix';
  return body.kind === 'command' ? body.batchId : 'page';
}

function tellRefusal(entry: Kept, answer: Extract<Settled, { kind: 'refused' }>): void {
  const { status, problem } = answer;
  const words = $words.peek();
  const { trouble, field } = words;
  const errors = problem.errors ?? [];
  const said = status === 401 || status === 403 ? trouble.rights : trouble.refused;
  const text = errors.length > 0 ? field.lookAgain : (formatRefusal(problem, words) ?? said);
  setTrouble(placeOf(entry), { text, errors });
  // A "no" mostly means that somebody else was quicker: see what they did.
  void readSnapshot();
}

function tellDone(entry: Kept, answer: unknown): void {
  if (entry.body.kind !== 'command') return;
  const { batchId, command } = entry.body;
  const words = $words.peek();
  const factSequence = isBatch(answer) && command.type !== 'undo' ? answer.lastAct?.factSequence : undefined;
  showToast({
    text: words.actDone[command.type](entry.panel),
    undo: factSequence === undefined ? null : { batchId, factSequence, panel: entry.panel },
  });
}

function isBatch(value: unknown): value is BatchWire {
  const candidate = value as Partial<BatchWire> | null;
  return typeof candidate?.id === 'string' && typeof candidate.version === 'number' && 'stage' in candidate;
}
