// The way out for everything people enter: written down first, then sent in order, kept while there is no answer.
import { effect } from '@preact/signals';
import { actNameOf } from '../state/actName.ts';
import { $mayWork } from '../state/access.ts';
import { parseQueue, partByAge, withKept, withoutKept, type Kept, type KeptBody } from '../state/kept.ts';
import { $connection, $kept, $sending, setTrouble, $words } from '../state/sources.ts';
import { readShopNow } from './clock.ts';
import { type Answer, isForWantOfRight } from './http.ts';
import { makeKey } from './makeKey.ts';
import { postCommand } from './postCommand.ts';
import { placeOf, settle } from './settle.ts';

export type Outcome = 'stored' | 'refused' | 'kept';

const STORAGE_KEY = 'sandby.kept';
const RETRY_AFTER_MS = 700;
const TRY_AGAIN_EVERY_MS = 5000;

let line: Promise<void> = Promise.resolve();
const refusedKeys = new Set<string>();

/** Keeps an entry and sends it; tells what became of it so far. */
export async function submit(body: KeptBody, panel: string): Promise<Outcome> {
  const entry: Kept = { key: makeKey(), body, panel, tappedAt: readShopNow(), keptAt: Date.now() };
  setTrouble(placeOf(entry), null);
  $kept.value = withKept($kept.peek(), entry);
  await flush();
  if (refusedKeys.delete(entry.key)) return 'refused';
  return $kept.peek().some(({ key }) => key === entry.key) ? 'kept' : 'stored';
}

/** Reads what an earlier visit left, writes down every change, and tries again for as long as something is kept. */
export function startOutbox(): void {
  $kept.value = parseQueue(localStorage.getItem(STORAGE_KEY));
  effect(() => localStorage.setItem(STORAGE_KEY, JSON.stringify($kept.value)));
  effect(() => {
    if ($connection.value === 'live' && $mayWork.value) void flush();
  });
  setInterval(() => {
    if ($kept.peek().length > 0) void flush();
  }, TRY_AGAIN_EVERY_MS);
}

async function flush(): Promise<void> {
  line = line.then(sendAll, sendAll);
  return line;
}

async function sendAll(): Promise<void> {
  dropTooOld();
  if (!$mayWork.peek()) return;
  for (const entry of $kept.peek()) {
    $sending.value = new Set([entry.key]);
    const answer = await sendTwice(entry);
    $sending.value = new Set();
    if (answer.kind === 'unanswered') {
      tellKept(entry, answer);
      return;
    }
    if (isForWantOfRight(answer)) {
      // Paired or signed in again, it is sent as it was tapped.
      setTrouble(placeOf(entry), { text: $words.peek().gate.heldBack, errors: [] });
      return;
    }
    if (answer.kind === 'refused') refusedKeys.add(entry.key);
    settle(entry, answer);
    $kept.value = withoutKept($kept.peek(), entry.key);
  }
}

async function sendTwice(entry: Kept): Promise<Answer> {
  const first = await postCommand(entry);
  if (first.kind !== 'unanswered' || $connection.peek() === 'lost') return first;
  await new Promise((resolve) => {
    setTimeout(resolve, RETRY_AFTER_MS);
  });
  return postCommand(entry);
}

function dropTooOld(): void {
  const { fresh, tooOld } = partByAge($kept.peek(), Date.now());
  if (tooOld.length === 0) return;
  const words = $words.peek();
  const texts = tooOld.map((entry) => words.connection.dropped(actNameOf(entry, words), entry.panel));
  setTrouble('page', { text: texts.join(' '), errors: [] });
  $kept.value = fresh;
}

/** Without a connection the slip itself says what is kept; trouble in spite of one is told apart. */
function tellKept(entry: Kept, answer: Extract<Answer, { kind: 'unanswered' }>): void {
  if ($connection.peek() === 'lost') return setTrouble(placeOf(entry), null);
  const { trouble } = $words.peek();
  const text = answer.why === 'network' ? trouble.network : trouble.server;
  setTrouble(placeOf(entry), { text, errors: [] });
}
