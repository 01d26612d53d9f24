// Users of sensors and displays: a name, a password made here and told once, and whose readings it may send.
import type { SensorPasswordWire, SensorUserBody } from '../contract/index.ts';
import { tellEnded } from './access.ts';
import { noteAccess, noteRefused } from './accessAudit.ts';
import type { Access } from './accessParts.ts';
import { limitedFor } from './accessStanding.ts';
import type { Credentials, Done, KnownUser, UserKnown } from './ports/accessDoors.ts';
import type { SensorUser } from './ports/accessStore.ts';

const USERS_COUNT_MAX = 1000;
/** A message of so much holds a reading or two, and takes one place in its user's pace. */
const PLACE_BYTES = 256;

/** Makes a user and its password, which is told this once. */
export async function makeSensorUser(
  access: Access,
  { name, kind, sensorIds }: SensorUserBody,
): Promise<SensorPasswordWire | Done> {
  if (access.users.has(name)) return 'taken';
  if (access.users.size >= USERS_COUNT_MAX) return 'full';
  const madeAt = access.shop.clock.nowAt();
  // A reader sends nothing, whatever list came with it.
  const own = kind === 'reader' ? [] : sensorIds;
  const user: SensorUser = { name, kind, sensorIds: own, madeAt, passwordHash: '' };
  // Taken at once, with a password that nobody can have, so that no two are made of one name.
  access.users.set(name, user);
  const password = await keepWithPassword(access, user).catch((error: unknown) => {
    access.users.delete(name);
    throw error;
  });
  await noteAccess(access, { type: 'SensorUserChanged', body: { name, change: 'made' } });
  return { name, password };
}

/** Says anew whose readings a user may send; what it holds open is cut, so that it comes back as what it is now. */
export async function putSensorUser(
  access: Access,
  name: string,
  sensorIds: readonly string[],
): Promise<Done> {
  const user = access.users.get(name);
  if (user === undefined || user.kind === 'reader') return 'unknown';
  const put = { ...user, sensorIds };
  await access.store.putSensorUser(put);
  if (!access.users.has(name)) return 'unknown';
  access.users.set(name, put);
  tellEnded(access, { kind: 'sensorUser', id: name });
  await noteAccess(access, { type: 'SensorUserChanged', body: { name, change: 'topics' } });
  return 'done';
}

/** Makes a new password; the old one is worth nothing from now on. */
export async function renewPassword(access: Access, name: string): Promise<SensorPasswordWire | Done> {
  const user = access.users.get(name);
  if (user === undefined) return 'unknown';
  const password = await keepWithPassword(access, user);
  tellEnded(access, { kind: 'sensorUser', id: name });
  await noteAccess(access, { type: 'SensorUserChanged', body: { name, change: 'password' } });
  return { name, password };
}

/** Ends a user. */
export async function endSensorUser(access: Access, name: string): Promise<Done> {
  const user = access.users.get(name);
  if (user === undefined) return 'unknown';
  // Out at once, so that nothing under way writes it down again; back in where the store could not forget it.
  access.users.delete(name);
  await access.store.removeSensorUser(name).catch((error: unknown) => {
    access.users.set(name, user);
    throw error;
  });
  access.pace.forgive(name);
  tellEnded(access, { kind: 'sensorUser', id: name });
  await noteAccess(access, { type: 'SensorUserChanged', body: { name, change: 'ended' } });
  return 'done';
}

/** Judges a name and its password; only what is wrong counts against a source. */
export function knowUser(access: Access, { name, password, source }: Credentials): UserKnown {
  const { secrets, users, limits, shop } = access;
  const user = users.get(name);
  const isRight = secrets.isSame(secrets.digest(password), user?.passwordHash ?? secrets.digest(''));
  if (user !== undefined && isRight) return { kind: 'known', user: knownFrom(user) };
  // Names are told only where they are known: anybody may send any text as one.
  void noteRefused(access, { door: 'sensor', source, name: user?.name ?? null });
  return limitedFor(limits.sensor.take(source, shop.clock.elapsedMs())) ?? { kind: 'refused' };
}

/** A user that was known before, as it is now. */
export function findUser({ users }: Access, name: string): KnownUser | null {
  const user = users.get(name);
  return user === undefined ? null : knownFrom(user);
}

/** Takes places in the line of a user's messages, more for a message of many readings; how long until its turn [ms]. */
export function paceUser({ pace, shop }: Access, name: string, payloadBytes: number): number {
  const placesCount = Math.max(1, Math.ceil(payloadBytes / PLACE_BYTES));
  return pace.take(name, shop.clock.elapsedMs(), placesCount);
}

async function keepWithPassword(access: Access, user: SensorUser): Promise<string> {
  const password = access.secrets.makePassword();
  const kept = { ...user, passwordHash: access.secrets.digest(password) };
  await access.store.putSensorUser(kept);
  if (access.users.has(user.name)) access.users.set(user.name, kept);
  return password;
}

function knownFrom({ name, kind, sensorIds }: SensorUser): KnownUser {
  return { name, kind, sensorIds };
}
