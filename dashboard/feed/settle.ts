// What an answer changes on the page: the batch at once, a toast with undo, or the trouble beside the button.
import { batch } from '@preact/signals';
import type { BatchWire } from '../../server/contract/index.ts';
import { formatRefusal } from '../format/refusalText.ts';
import { mergeBatch } from '../state/applyLiveMessage.ts';
import { $place } from '../state/computed.ts';
import type { Kept } from '../state/kept.ts';
import { nextLayerOf } from '../state/mixDraft.ts';
import { rejectionText } from '../state/rejection.ts';
import { $connection, $live, $words, setTrouble, type FieldError } from '../state/sources.ts';
import type { Answer } from './http.ts';
import { readSnapshot } from './snapshot.ts';
import { showToast } from './toast.ts';
import { tellWhoWasQuicker } from './whoWasQuicker.ts';

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
  const text = errors.length === 0 ? (formatRefusal(problem, words) ?? said) : field.lookAgain;
  setTrouble(placeOf(entry), { text: entry.body.kind === 'start' ? text : actText(errors, text), errors });
  if (status === CONFLICT_STATUS) void tellWhoWasQuicker(entry);
  // A "no" mostly means that somebody else was quicker: see what they did.
  void readSnapshot();
}

/** An act has hardly any fields: what is wrong with them is said at once. */
function actText(errors: readonly FieldError[], text: string): string {
  const naming = { words: $words.peek(), place: $place.peek() };
  return errors.length === 0 ? text : errors.map((error) => rejectionText(error, naming)).join(' ');
}

function tellDone(entry: Kept, answer: unknown): void {
  const { body, panel } = entry;
  if (body.kind === 'acknowledgement') return;
  const type = body.kind === 'start' ? 'startBatch' : body.command.type;
  const { id, lastAct } = isBatch(answer) ? answer : { id: '', lastAct: null };
  const sanded = type === 'finishSanding' && isBatch(answer) ? answer : null;
  showToast({
    text: $words.peek().actDone[type](panel),
    undo:
      type === 'undo' || lastAct === null ? null : { batchId: id, factSequence: lastAct.factSequence, panel },
    ...(sanded === null ? {} : { layer: nextLayerOf(sanded, $live.peek()?.cards ?? []) }),
  });
}

const CONFLICT_STATUS = 409;

function isBatch(value: unknown): value is BatchWire {
  const candidate = value as Partial<BatchWire> | null;
  return typeof candidate?.id === 'string' && typeof candidate.version === 'number' && 'stage' in candidate;
}
