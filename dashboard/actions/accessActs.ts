// What people do about access: pair this device, sign in and out, and, as managers, let others in and end them.
import { PASSPHRASE_LIMITS } from '../../server/contract/accessTerms.ts';
import {
  askPairing,
  followAccess,
  pairThisDevice,
  postAccess,
  putAccess,
  signIn,
  signOut,
  takePassword,
} from '../feed/access.ts';
import type { Answer } from '../feed/http.ts';
import type { Words } from '../format/words.en.ts';
import { $pairing, $toldPassword } from '../state/access.ts';
import { $words } from '../state/sources.ts';

/** What went wrong, in words; null when nothing did. */
export type Told = string | null;

/** Keeps the part of Setup fresh until the returned function is called. */
export function keepAccess(): () => void {
  return followAccess();
}

/** Pairs this device by the code of a manager. */
export async function pairDevice({ code, name }: { code: string; name: string }): Promise<Told> {
  return toldOf(await pairThisDevice({ code: code.trim(), name: name.trim() }));
}

/** Signs this page in as a manager's. */
export async function signInAs(passphrase: string): Promise<Told> {
  return toldOf(await signIn(passphrase));
}

/** Signs this page out. */
export function leaveSession(): void {
  void signOut();
}

/** Asks for a code by which another device is paired, and shows it. */
export async function makePairing(right: 'view' | 'work'): Promise<Told> {
  return toldOf(await askPairing(right));
}

/** Takes the code from the screen; it goes on waiting to be used. */
export function hidePairing(): void {
  $pairing.value = null;
}

/** Takes a password from the screen: it is told this once. */
export function hidePassword(): void {
  $toldPassword.value = null;
}

/** Gives a paired device another name. */
export async function renameDevice({ id, name }: { id: string; name: string }): Promise<Told> {
  return toldOf(await putAccess(`/devices/${encodeURIComponent(id)}`, { name: name.trim() }));
}

/** Ends a device: its next request is refused. */
export async function endDevice(id: string): Promise<Told> {
  return toldOf(await postAccess(`/devices/${encodeURIComponent(id)}/end`));
}

/** Ends a manager's session, this page's or another's. */
export async function endSession(id: string): Promise<Told> {
  return toldOf(await postAccess(`/sessions/${encodeURIComponent(id)}/end`));
}

export interface UserDraft {
  readonly name: string;
  readonly kind: 'sensor' | 'reader';
  /** As typed, with commas. */
  readonly sensors: string;
}

/** Makes a user of sensors or displays, and shows its password once. */
export async function addUser({ name, kind, sensors }: UserDraft): Promise<Told> {
  const answer = await postAccess('/sensor-users', { name: name.trim(), kind, sensorIds: idsIn(sensors) });
  takePassword(answer);
  return toldOf(answer);
}

/** Says anew whose readings a user may send. */
export async function changeUser({ name, sensors }: { name: string; sensors: string }): Promise<Told> {
  return toldOf(await putAccess(`/sensor-users/${encodeURIComponent(name)}`, { sensorIds: idsIn(sensors) }));
}

/** Makes a new password for a user, and shows it once. */
export async function renewPassword(name: string): Promise<Told> {
  const answer = await postAccess(`/sensor-users/${encodeURIComponent(name)}/password`);
  takePassword(answer);
  return toldOf(answer);
}

/** Ends a user: what it holds open is cut. */
export async function endUser(name: string): Promise<Told> {
  return toldOf(await postAccess(`/sensor-users/${encodeURIComponent(name)}/end`));
}

/** What is wrong with a new passphrase is found before it is sent. */
export async function changePassphrase(of: { current: string; next: string; again: string }): Promise<Told> {
  const { trouble } = $words.peek().gate;
  if (of.next.length < PASSPHRASE_LIMITS.charactersMin) return trouble.short(PASSPHRASE_LIMITS.charactersMin);
  if (of.next !== of.again) return trouble.unlike;
  return toldOf(await postAccess('/passphrase', { current: of.current, next: of.next }));
}

function idsIn(sensors: string): string[] {
  return sensors
    .split(',')
    .map((id) => id.trim())
    .filter((id) => id !== '');
}

function toldOf(answer: Answer): Told {
  const { gate, access } = $words.peek();
  if (answer.kind === 'answered') return null;
  if (answer.kind === 'unanswered') return gate.trouble[answer.why];
  const { status, problem } = answer;
  const byCode = TROUBLE_OF_CODE[problem.code ?? ''];
  if (problem.code === 'no-passphrase') return gate.noPassphrase;
  if (problem.code === 'too-many-codes') return access.tooMany;
  if (byCode !== undefined) return gate.trouble[byCode];
  return status === UNKNOWN_STATUS || status === FORBIDDEN_STATUS ? gate.trouble.rights : gate.trouble.field;
}

type PlainTrouble = Exclude<keyof Words['gate']['trouble'], 'short'>;

const UNKNOWN_STATUS = 401;
const FORBIDDEN_STATUS = 403;
const TROUBLE_OF_CODE: Readonly<Record<string, PlainTrouble>> = {
  'code-unknown': 'code',
  'passphrase-wrong': 'passphrase',
  'too-often': 'often',
  'name-taken': 'taken',
  'too-many': 'field',
};
