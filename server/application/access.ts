// Opens access and brings what is over to its end: by time, by a new passphrase.
import { noteAccess } from './accessAudit.ts';
import { makeLimiter, makePacer } from './accessLimits.ts';
import type { Access, Session } from './accessParts.ts';
import type { Ended } from './ports/accessDoors.ts';

/** A session that has written nothing for so long ends [ms of elapsed time]; pages read by themselves all the time. */
const SESSION_IDLE_MS = 30 * 60_000;
/** No session lasts longer [ms]. */
const SESSION_MAX_MS = 12 * 3_600_000;
const SWEEP_EVERY_MS = 60_000;

/** Opens access: reads what is kept, and ends sessions in time. */
export async function openAccess(parts: Pick<Access, 'shop' | 'store' | 'secrets'>): Promise<Access> {
  const { store } = parts;
  const devices = await store.readDevices();
  const users = await store.readSensorUsers();
  const access: Access = {
    ...parts,
    devices: new Map(devices.map((device) => [device.tokenHash, device])),
    sessions: new Map(),
    users: new Map(users.map((user) => [user.name, user])),
    codes: new Map(),
    limits: {
      passphrase: makeLimiter({ burstCount: 5, refillMs: 60_000 }, { burstCount: 30, refillMs: 10_000 }),
      pairing: makeLimiter({ burstCount: 10, refillMs: 30_000 }, { burstCount: 60, refillMs: 5_000 }),
      sensor: makeLimiter({ burstCount: 20, refillMs: 5_000 }, { burstCount: 500, refillMs: 500 }),
      write: makeLimiter({ burstCount: 300, refillMs: 200 }),
      stranger: makeLimiter({ burstCount: 300, refillMs: 200 }),
      // One fact a minute and source, whatever is tried; and not a flood of them from many.
      audit: makeLimiter({ burstCount: 1, refillMs: 60_000 }, { burstCount: 30, refillMs: 60_000 }),
      log: makeLimiter({ burstCount: 1, refillMs: 600_000 }, { burstCount: 30, refillMs: 60_000 }),
    },
    // A sensor says something each half minute; a gateway that was away for a day may tell what it has kept.
    pace: makePacer({ burstCount: 3000, refillMs: 20 }),
    passphraseAt: null,
    listeners: [],
  };
  await notePassphrase(access);
  sweep(access);
  return access;
}

/** Whether a session has come to its end by time or by a new passphrase. */
export function isOver(access: Access, session: Session): boolean {
  const nowMs = access.shop.clock.elapsedMs();
  return (
    nowMs - session.seenMs > SESSION_IDLE_MS ||
    nowMs - session.startedMs > SESSION_MAX_MS ||
    session.passphraseAt !== access.passphraseAt
  );
}

/** Takes a session out and tells whoever holds something open for it. */
export function dropSession(access: Access, tokenHash: string): void {
  const session = access.sessions.get(tokenHash);
  if (session === undefined) return;
  access.sessions.delete(tokenHash);
  tellEnded(access, { kind: 'session', id: session.id });
}

/** Tells whoever holds something open. */
export function tellEnded(access: Access, ended: Ended): void {
  for (const listener of access.listeners) listener(ended);
}

/** Looks at the passphrase, which a command beside the program may have set; a new one ends every session. */
export async function notePassphrase(access: Access): Promise<void> {
  const kept = await access.store.readPassphrase();
  access.passphraseAt = kept?.changedAt ?? null;
  dropOver(access);
  if (kept === null || kept.isTold) return;
  const isNoted = await noteAccess(access, { type: 'PassphraseChanged', body: {} });
  if (isNoted) await access.store.markPassphraseTold(kept.changedAt);
}

function dropOver(access: Access): void {
  for (const [tokenHash, session] of access.sessions) {
    if (isOver(access, session)) dropSession(access, tokenHash);
  }
  const nowMs = access.shop.clock.elapsedMs();
  for (const [codeHash, code] of access.codes) if (code.endsMs <= nowMs) access.codes.delete(codeHash);
}

/** A socket that nobody asks anything through would outlive its session. */
function sweep(access: Access): void {
  access.shop.clock.after(SWEEP_EVERY_MS, () => {
    notePassphrase(access)
      .catch((error: unknown) => access.shop.log.error('access.unread', { reason: String(error) }))
      .finally(() => sweep(access));
  });
}
