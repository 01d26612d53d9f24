// The copies that are kept beside the store: read while they are shown, and one more made on asking.
import type { CopiesWire, KeptCopyWire } from '../../server/contract/index.ts';
import { $copyAsk, $keptCopies } from '../state/copies.ts';
import { getJson, postJson } from './http.ts';
import { makeKey } from './makeKey.ts';

const PATH = '/copies';
const READ_EVERY_MS = 5000;
/** While one is made, people wait for it. */
const WAIT_EVERY_MS = 1500;
const RUNNING_STATUS = 409;

/** Keeps the list fresh until the returned function is called. */
export function followKeptCopies(): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let isOn = true;
  const read = async (): Promise<void> => {
    await readKeptCopies();
    if (isOn) timer = setTimeout(() => void read(), isMaking() ? WAIT_EVERY_MS : READ_EVERY_MS);
  };
  void read();
  return () => {
    isOn = false;
    clearTimeout(timer);
    $copyAsk.value = { kind: 'none' };
  };
}

/** Has a copy made and kept; a large one takes longer than an answer is waited for, and then shows up in the list. */
export async function askForCopy(): Promise<void> {
  if ($copyAsk.peek().kind === 'asked' || isMaking()) return;
  $copyAsk.value = { kind: 'asked' };
  const answer = await postJson(PATH, {}, makeKey());
  await readKeptCopies();
  if (answer.kind === 'answered') {
    $copyAsk.value = { kind: 'kept', madeAt: (answer.body as KeptCopyWire).madeAt };
  } else if (answer.kind === 'refused' && answer.status === RUNNING_STATUS) {
    $copyAsk.value = { kind: 'busy' };
  } else {
    // Why the server made none stands in what was read just now.
    const isTold = answer.kind === 'unanswered' && (answer.why === 'server' || isMaking());
    $copyAsk.value = { kind: isTold ? 'none' : 'noAnswer' };
  }
}

async function readKeptCopies(): Promise<void> {
  const answer = await getJson(PATH);
  if (answer.kind === 'answered') $keptCopies.value = answer.body as CopiesWire;
  else if (typeof $keptCopies.peek() === 'string') $keptCopies.value = 'failed';
}

function isMaking(): boolean {
  const held = $keptCopies.peek();
  return typeof held !== 'string' && held.making;
}
