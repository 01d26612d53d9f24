// Access by HTTP: what this device may, pairing, signing in and out, and what managers do about others.
import { effect } from '@preact/signals';
import type {
  AccessSetupWire,
  AccessWire,
  PairingWire,
  SensorPasswordWire,
} from '../../server/contract/index.ts';
import {
  $access,
  $accessDoubts,
  $accessSetup,
  $broughtCode,
  $isShut,
  $pairing,
  $toldPassword,
} from '../state/access.ts';
import { $live, $path } from '../state/sources.ts';
import { type Answer, getJson, postJson, putJson } from './http.ts';
import { forgetLastSeen } from './lastSeen.ts';
import { makeKey } from './makeKey.ts';
import { readSnapshot } from './snapshot.ts';

const SETUP_EVERY_MS = 10_000;
const PAIR_PATH = '/pair';

/** Reads what this device may, and again whenever somebody was told no. */
export function startAccess(): void {
  takeBroughtCode();
  effect(() => {
    void $accessDoubts.value;
    void readAccess();
  });
  effect(() => {
    if (!$isShut.value) return;
    // What the shop said to a device that is none of its own any more does not stay there.
    forgetLastSeen();
    $live.value = null;
  });
}

/** Asks the server anew; without an answer what was known holds. */
async function readAccess(): Promise<void> {
  const answer = await getJson('/access');
  if (answer.kind !== 'answered') return;
  const access = answer.body as AccessWire;
  if (JSON.stringify(access) !== JSON.stringify($access.peek())) $access.value = access;
}

/** Pairs this device and shows the shop. */
export async function pairThisDevice(ask: { code: string; name: string }): Promise<Answer> {
  const answer = await postJson('/access/pair', ask);
  if (answer.kind !== 'answered') return answer;
  $broughtCode.value = '';
  await readAccess();
  if ($path.peek() === PAIR_PATH) $path.value = $access.peek()?.right === 'view' ? '/floor' : '/bench';
  await readSnapshot();
  return answer;
}

/** Signs a manager in. */
export async function signIn(passphrase: string): Promise<Answer> {
  const answer = await postJson('/access/sign-in', { passphrase });
  if (answer.kind !== 'answered') return answer;
  await readAccess();
  if ($path.peek() === PAIR_PATH) $path.value = '/setup';
  await readSnapshot();
  return answer;
}

/** Signs out. */
export async function signOut(): Promise<void> {
  await postJson('/access/sign-out', {});
  $accessSetup.value = 'loading';
  $pairing.value = null;
  $toldPassword.value = null;
  await readAccess();
}

/** Reads who may use the shop for as long as it is shown. */
export function followAccess(): () => void {
  void readAccessSetup();
  const timer = setInterval(() => void readAccessSetup(), SETUP_EVERY_MS);
  return () => {
    clearInterval(timer);
    $pairing.value = null;
    $toldPassword.value = null;
  };
}

/** Does something about others and reads again what came of it. */
export async function postAccess(path: string, body: unknown = {}): Promise<Answer> {
  const answer = await postJson(`/access${path}`, body);
  await readAccessSetup();
  return answer;
}

/** Puts something of others in another way. */
export async function putAccess(path: string, body: unknown): Promise<Answer> {
  const answer = await putJson(`/access${path}`, body, makeKey());
  await readAccessSetup();
  return answer;
}

/** Asks for a code and shows it. */
export async function askPairing(right: 'view' | 'work'): Promise<Answer> {
  const answer = await postJson('/access/pairings', { right });
  if (answer.kind === 'answered') $pairing.value = answer.body as PairingWire;
  return answer;
}

/** Takes a password that was told this once. */
export function takePassword(answer: Answer): void {
  if (answer.kind === 'answered') $toldPassword.value = answer.body as SensorPasswordWire;
}

async function readAccessSetup(): Promise<void> {
  if ($access.peek()?.kind === 'open') return;
  const answer = await getJson('/access/setup');
  if (answer.kind === 'answered') $accessSetup.value = answer.body as AccessSetupWire;
  else if (typeof $accessSetup.peek() === 'string') $accessSetup.value = 'failed';
}

/** A code stands behind the address's #, which no server ever sees, and does not stay in the history. */
function takeBroughtCode(): void {
  if (location.pathname !== PAIR_PATH) return;
  $broughtCode.value = decodeURIComponent(location.hash.slice(1)).slice(0, CODE_CHARACTERS_MAX);
  history.replaceState(null, '', PAIR_PATH);
}

const CODE_CHARACTERS_MAX = 40;
