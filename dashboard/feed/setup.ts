// Setup by HTTP: what it reads for as long as it is shown, what is put under a key, what a card would mean.
import { effect } from '@preact/signals';
import type { CardPreviewWire, CardSetupWire, CardWire, SettingsWire } from '../../server/contract/index.ts';
import {
  $canStayAwake,
  $cardSetups,
  $learned,
  $sensorList,
  $settings,
  $setupBasis,
  type SensorList,
  type SetupRead,
  takeCard,
} from '../state/setup.ts';
import type { CardPreviewed } from '../state/setupCard.ts';
import { type Answer, getJson, postJson, putJson } from './http.ts';
import { makeKey } from './makeKey.ts';

const SENSORS_EVERY_MS = 5000;
/** A change by hand brings more than one reason to read. */
const REST_MS = 150;
const RETRY_AFTER_MS = 700;
const TYPING_REST_MS = 300;

/** The last ask without an answer: the same once more is the same ask, under the same key. */
let unanswered: { readonly to: string; readonly text: string; readonly key: string } | null = null;
/** How often something was put here: an answer from before a put must not undo what the put brought. */
let putCount = 0;

/** Reads what Setup shows, again after each change and each minute, until the returned function is called. */
export function followSetup(): () => void {
  $canStayAwake.value = isSecureContext && 'wakeLock' in navigator;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const stop = effect(() => {
    void $setupBasis.value;
    clearTimeout(timer);
    timer = setTimeout(() => void readAll(), $settings.peek() === 'loading' ? 0 : REST_MS);
  });
  const sensors = setInterval(() => void readSensors(), SENSORS_EVERY_MS);
  return () => {
    stop();
    clearTimeout(timer);
    clearInterval(sensors);
  };
}

/** Puts a body; a lost connection is tried once more under the same key. */
export async function putSetup(to: string, body: unknown): Promise<Answer> {
  const text = JSON.stringify(body);
  const isSame = unanswered?.to === to && unanswered.text === text;
  const key = isSame && unanswered !== null ? unanswered.key : makeKey();
  let answer = await putJson(to, body, key);
  if (answer.kind === 'unanswered') {
    await rest(RETRY_AFTER_MS);
    answer = await putJson(to, body, key);
  }
  unanswered = answer.kind === 'unanswered' ? { to, text, key } : null;
  putCount += 1;
  return answer;
}

/** Reads everything again. */
export async function readAll(): Promise<void> {
  await Promise.all([readSettings(), readSensors(), readCards()]);
}

/** What a card would mean, once typing has rested; null when the question was dropped meanwhile. */
export async function readCardPreview(body: unknown, signal: AbortSignal): Promise<CardPreviewed | null> {
  await rest(TYPING_REST_MS);
  if (signal.aborted) return null;
  const answer = await postJson('/cards/previews', body);
  if (signal.aborted) return null;
  switch (answer.kind) {
    case 'answered':
      return { kind: 'preview', preview: answer.body as CardPreviewWire };
    case 'refused':
      return { kind: 'refused', errors: answer.problem.errors ?? [] };
    case 'unanswered':
      return { kind: 'unanswered' };
  }
}

/** Calls back later, unless the returned function is called before. */
export function callAfter(waitMs: number, callBack: () => void): () => void {
  const timer = setTimeout(callBack, waitMs);
  return () => clearTimeout(timer);
}

async function readSettings(): Promise<void> {
  const answer = await getSincePut('/settings');
  $settings.value = taken($settings.peek(), answer, (body) => body as SettingsWire);
}

async function readSensors(): Promise<void> {
  const answer = await getSincePut('/sensors');
  $sensorList.value = taken($sensorList.peek(), answer, (body) => body as SensorList);
}

async function readCards(): Promise<void> {
  const before = $learned.peek();
  const answer = await getJson('/cards');
  const found = taken(before, answer, (body) => (body as { cards: CardWire[] }).cards);
  $learned.value = found;
  if (typeof found === 'string') return;
  const statedOf = (card: CardWire | undefined): string => JSON.stringify({ ...card, learned: null });
  for (const card of found) {
    const known = typeof before === 'string' ? undefined : before.find(({ id }) => id === card.id);
    if ($cardSetups.peek().has(card.id) && statedOf(known) === statedOf(card)) continue;
    const setup = await getJson(`/cards/${encodeURIComponent(card.id)}`);
    if (setup.kind === 'answered') takeCard(setup.body as CardSetupWire);
  }
}

/** Reads, and once more where something was put meanwhile. */
async function getSincePut(path: string): Promise<Answer> {
  const countBefore = putCount;
  const answer = await getJson(path);
  return putCount === countBefore ? answer : getJson(path);
}

/** What was read before stays while nothing newer can be had. */
function taken<Body extends object>(
  held: SetupRead<Body>,
  answer: Answer,
  read: (body: unknown) => Body,
): SetupRead<Body> {
  if (answer.kind === 'answered') return read(answer.body);
  return typeof held === 'string' ? 'failed' : held;
}

function rest(waitMs: number): Promise<void> {
  return new Promise((resolve) => {
    setTimeout(resolve, waitMs);
  });
}
