// Pairing: a manager makes a code, a device shows it once and gets a token; later it is renamed or ended.
import { type DeviceRight, MS_PER_MIN, plainCode } from '../contract/index.ts';
import { dropSession, tellEnded } from './access.ts';
import { noteAccess, noteRefused } from './accessAudit.ts';
import type { Access, WaitingCode } from './accessParts.ts';
import { findDevice, limitedFor } from './accessStanding.ts';
import type { Done, Paired, Tokens } from './ports/accessDoors.ts';
import type { PairedDevice } from './ports/accessStore.ts';

/** How long a code waits [min]. */
const CODE_VALID_MIN = 10;
const CODES_COUNT_MAX = 20;
const DEVICES_COUNT_MAX = 500;

/** Makes a code that works once; null while too many wait. */
export function makePairing(access: Access, right: DeviceRight): { code: string; validMin: number } | null {
  const { codes, secrets, shop } = access;
  const nowMs = shop.clock.elapsedMs();
  for (const [codeHash, { endsMs }] of codes) if (endsMs <= nowMs) codes.delete(codeHash);
  if (codes.size >= CODES_COUNT_MAX) return null;
  const code = secrets.makeCode();
  codes.set(secrets.digest(code), { right, endsMs: nowMs + CODE_VALID_MIN * MS_PER_MIN });
  return { code, validMin: CODE_VALID_MIN };
}

export interface PairAsk {
  readonly code: string;
  readonly name: string;
  readonly source: string;
  readonly tokens: Tokens;
}

/** Pairs a device that shows a code; a device that was paired before is paired anew. */
export async function pairDevice(access: Access, { code, name, source, tokens }: PairAsk): Promise<Paired> {
  const { clock, makeId } = access.shop;
  const limited = limitedFor(access.limits.pairing.take(source, clock.elapsedMs()));
  if (limited !== null) {
    await noteRefused(access, { door: 'pairing', source });
    return limited;
  }
  const taken = takeCode(access, code);
  if (taken === null || access.devices.size >= DEVICES_COUNT_MAX) {
    await noteRefused(access, { door: 'pairing', source });
    return { kind: 'refused' };
  }
  const token = access.secrets.makeToken();
  const nowAt = clock.nowAt();
  const tokenHash = access.secrets.digest(token);
  const { right } = taken.code;
  const device: PairedDevice = { id: makeId(), name, right, tokenHash, pairedAt: nowAt, seenAt: nowAt };
  await access.store.putDevice(device).catch((error: unknown) => {
    // Nothing was paired: the code goes on waiting.
    access.codes.set(taken.codeHash, taken.code);
    throw error;
  });
  access.devices.set(tokenHash, device);
  bindSession(access, tokens, device.id);
  access.limits.pairing.forgive(source);
  const before = tokens.device === null ? null : findDevice(access, tokens.device);
  if (before !== null) await endDevice(access, before.id);
  await noteAccess(access, { type: 'DevicePaired', body: { deviceId: device.id, name, right } });
  return { kind: 'paired', token };
}

/** A manager may have signed in before the device was paired: whoever ends the device means that session too. */
function bindSession({ sessions, secrets }: Access, tokens: Tokens, deviceId: string): void {
  if (tokens.session === null) return;
  const tokenHash = secrets.digest(tokens.session);
  const session = sessions.get(tokenHash);
  if (session !== undefined) sessions.set(tokenHash, { ...session, deviceId });
}

/** Gives a device another name. */
export async function renameDevice(
  access: Access,
  { deviceId, name }: { deviceId: string; name: string },
): Promise<Done> {
  const device = deviceOf(access, deviceId);
  if (device === undefined) return 'unknown';
  const renamed = { ...device, name };
  await access.store.putDevice(renamed);
  if (!access.devices.has(device.tokenHash)) return 'unknown';
  access.devices.set(device.tokenHash, renamed);
  await noteAccess(access, { type: 'DeviceRenamed', body: { deviceId, name } });
  return 'done';
}

/** Ends a device: its next request is refused, what it holds open is cut, its sessions end with it. */
export async function endDevice(access: Access, deviceId: string): Promise<Done> {
  const device = deviceOf(access, deviceId);
  if (device === undefined) return 'unknown';
  // Out at once, so that nothing under way writes it down again; back in where the store could not forget it.
  access.devices.delete(device.tokenHash);
  await access.store.removeDevice(deviceId).catch((error: unknown) => {
    access.devices.set(device.tokenHash, device);
    throw error;
  });
  for (const [tokenHash, session] of access.sessions) {
    if (session.deviceId === deviceId) dropSession(access, tokenHash);
  }
  tellEnded(access, { kind: 'device', id: deviceId });
  await noteAccess(access, { type: 'DeviceEnded', body: { deviceId, name: device.name } });
  return 'done';
}

function deviceOf({ devices }: Access, deviceId: string): PairedDevice | undefined {
  return [...devices.values()].find(({ id }) => id === deviceId);
}

interface TakenCode {
  readonly codeHash: string;
  readonly code: WaitingCode;
}

/** The code that waits as it was typed; it is gone with that. */
function takeCode({ codes, secrets, shop }: Access, typed: string): TakenCode | null {
  const code = plainCode(typed);
  if (code === null) return null;
  const codeHash = secrets.digest(code);
  // Every code that waits is looked at in the same time, whichever it is.
  const found = [...codes].filter(([waiting]) => secrets.isSame(waiting, codeHash));
  const [entry] = found;
  if (entry === undefined) return null;
  codes.delete(codeHash);
  return entry[1].endsMs > shop.clock.elapsedMs() ? { codeHash, code: entry[1] } : null;
}
