// Who brings these tokens: a paired device, a manager's session, both, or nobody.
import type { AccessWire } from '../contract/index.ts';
import { dropSession, isOver } from './access.ts';
import type { Access, Session } from './accessParts.ts';
import type { Limited, Standing, Tokens } from './ports/accessDoors.ts';
import type { PairedDevice } from './ports/accessStore.ts';

/** When a device was last seen is written down no more often than this [ms]. */
const SEEN_EVERY_MS = 10 * 60_000;
/** What a page writes is smaller; two thousand readings in one body are some thirty such writes. */
const WRITE_BYTES = 4096;

/** Finds who asks. A write keeps a session awake; reading does not, since pages read by themselves. */
export function findStanding(access: Access, { device, session }: Tokens, isWriting: boolean): Standing {
  const paired = device === null ? null : findDevice(access, device);
  const own = session === null ? null : findSession(access, session);
  if (paired !== null) noteSeen(access, paired);
  if (own !== null) {
    const { clock } = access.shop;
    own.seenAt = clock.nowAt();
    if (isWriting) own.seenMs = clock.elapsedMs();
  }
  return {
    deviceId: paired?.id ?? null,
    sessionId: own?.id ?? null,
    right: own === null ? (paired?.right ?? null) : 'manage',
  };
}

/** The device that a token was given to. */
export function findDevice({ devices, secrets }: Access, token: string): PairedDevice | null {
  return devices.get(secrets.digest(token)) ?? null;
}

/** Takes one write of somebody known, a large one as several; null while one may. */
export function takeWrite({ limits, shop }: Access, who: string, bodyBytes: number): Limited | null {
  const triesCount = Math.max(1, Math.ceil(bodyBytes / WRITE_BYTES));
  return limitedFor(limits.write.take(who, shop.clock.elapsedMs(), triesCount));
}

/** Somebody asked without the right for it: told in the log once for a source, and slowed down in the end. */
export function takeStranger({ limits, shop }: Access, source: string): Limited | null {
  const nowMs = shop.clock.elapsedMs();
  if (limits.log.take(source, nowMs) === null) shop.log.warn('access.no-right', { source });
  return limitedFor(limits.stranger.take(source, nowMs));
}

/** A wait as an answer; null for none. */
export function limitedFor(waitMs: number | null): Limited | null {
  return waitMs === null ? null : { kind: 'limited', retryAfterS: Math.ceil(waitMs / 1000) };
}

/** What a page is told of itself. */
export async function readAccess(access: Access, standing: Standing, tls: boolean): Promise<AccessWire> {
  const device = [...access.devices.values()].find(({ id }) => id === standing.deviceId);
  return {
    kind: 'signIn',
    right: standing.right,
    deviceName: device?.name ?? null,
    signedIn: standing.sessionId !== null,
    tls,
    passphrase: (await access.store.readPassphrase()) !== null,
  };
}

function findSession(access: Access, token: string): Session | null {
  const tokenHash = access.secrets.digest(token);
  const session = access.sessions.get(tokenHash);
  if (session === undefined) return null;
  if (!isOver(access, session)) return session;
  dropSession(access, tokenHash);
  return null;
}

function noteSeen(access: Access, device: PairedDevice): void {
  const seenAt = access.shop.clock.nowAt();
  if (Math.abs(seenAt - device.seenAt) < SEEN_EVERY_MS) return;
  const seen = { ...device, seenAt };
  access.devices.set(device.tokenHash, seen);
  access.store.putDevice(seen).catch((error: unknown) => {
    access.shop.log.warn('access.unwritten', { reason: String(error) });
  });
}
