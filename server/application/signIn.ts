// Managers sign in with the shop's passphrase: a session of limited length, to be listed and ended, and a new passphrase.
import { dropSession, notePassphrase } from './access.ts';
import { noteAccess, noteRefused } from './accessAudit.ts';
import type { Access, Session } from './accessParts.ts';
import { findDevice, limitedFor } from './accessStanding.ts';
import type { Changed, Done, Limited, SignedIn, Standing, Tokens } from './ports/accessDoors.ts';

/** One more ends the one that was quiet for longest. */
const SESSIONS_COUNT_MAX = 50;

export interface SignInAsk {
  readonly passphrase: string;
  readonly source: string;
  readonly tokens: Tokens;
}

/** Signs a manager in. */
export async function signIn(access: Access, { passphrase, source, tokens }: SignInAsk): Promise<SignedIn> {
  const judged = await judgePassphrase(access, passphrase, source);
  if (judged.kind !== 'right') return judged;
  const { clock, makeId } = access.shop;
  const token = access.secrets.makeToken();
  const nowAt = clock.nowAt();
  const nowMs = clock.elapsedMs();
  const session: Session = {
    id: makeId(),
    deviceId: tokens.device === null ? null : (findDevice(access, tokens.device)?.id ?? null),
    signedInAt: nowAt,
    startedMs: nowMs,
    passphraseAt: judged.changedAt,
    seenAt: nowAt,
    seenMs: nowMs,
  };
  if (tokens.session !== null) dropSession(access, access.secrets.digest(tokens.session));
  if (access.sessions.size >= SESSIONS_COUNT_MAX) dropQuietest(access);
  access.sessions.set(access.secrets.digest(token), session);
  await noteAccess(access, { type: 'SignedIn', body: {} });
  return { kind: 'signedIn', token };
}

/** Ends one's own session. */
export async function signOut(access: Access, { sessionId }: Standing): Promise<void> {
  if (sessionId !== null) await endSession(access, sessionId);
}

/** Ends a session: its next request has no right of a manager, and what it holds open is cut. */
export async function endSession(access: Access, sessionId: string): Promise<Done> {
  const found = [...access.sessions].find(([, { id }]) => id === sessionId);
  if (found === undefined) return 'unknown';
  dropSession(access, found[0]);
  await noteAccess(access, { type: 'SessionEnded', body: {} });
  return 'done';
}

export interface PassphraseAsk {
  readonly current: string;
  readonly next: string;
  readonly source: string;
  readonly standing: Standing;
}

/** Sets a new passphrase and ends every session but the asking one. */
export async function changePassphrase(access: Access, ask: PassphraseAsk): Promise<Changed> {
  const judged = await judgePassphrase(access, ask.current, ask.source);
  if (judged.kind !== 'right') return judged.kind === 'limited' ? judged : { kind: 'refused' };
  const hash = await access.secrets.hashPassphrase(ask.next);
  // Who was judged by a passphrase that is no longer in force must not replace the new one.
  if (judged.changedAt !== access.passphraseAt) return { kind: 'refused' };
  // Two changes in one moment must not look like one.
  const changedAt = Math.max(
    access.shop.clock.nowAt(),
    (access.passphraseAt ?? 0) + 1,
  ) as Session['signedInAt'];
  await access.store.putPassphrase({ hash, changedAt, isTold: false });
  for (const [tokenHash, session] of access.sessions) {
    if (session.id === ask.standing.sessionId)
      access.sessions.set(tokenHash, { ...session, passphraseAt: changedAt });
  }
  await notePassphrase(access);
  return { kind: 'changed' };
}

interface Right {
  readonly kind: 'right';
  /** Of the passphrase that it was judged by. */
  readonly changedAt: Session['passphraseAt'];
}

async function judgePassphrase(
  access: Access,
  ...[passphrase, source]: [passphrase: string, source: string]
): Promise<Right | Limited | { kind: 'none' } | { kind: 'refused' }> {
  const limited = limitedFor(access.limits.passphrase.take(source, access.shop.clock.elapsedMs()));
  if (limited !== null) {
    await noteRefused(access, { door: 'passphrase', source });
    return limited;
  }
  await notePassphrase(access);
  const kept = await access.store.readPassphrase();
  if (kept === null) return { kind: 'none' };
  const isRight = await access.secrets.isPassphrase(passphrase, kept.hash);
  // The check takes its time: another passphrase may be in force by now, and what fits the old one is worth nothing.
  if (!isRight || kept.changedAt !== access.passphraseAt) {
    await noteRefused(access, { door: 'passphrase', source });
    return { kind: 'refused' };
  }
  access.limits.passphrase.forgive(source);
  return { kind: 'right', changedAt: kept.changedAt };
}

function dropQuietest(access: Access): void {
  const [quietest] = [...access.sessions].toSorted(([, a], [, b]) => a.seenMs - b.seenMs);
  if (quietest !== undefined) dropSession(access, quietest[0]);
}
