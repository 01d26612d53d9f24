// Facts of access: told to the ledger after they are so, without secrets or addresses, and shown in Setup.
import { type AccessDoor, isoFromInstant } from '../contract/index.ts';
import { type AccessLog, EMPTY_ACCESS_LOG, foldAccess } from '../domain/accessLog.ts';
import type { FactDraft } from '../domain/facts.ts';
import type { Access } from './accessParts.ts';
import { placeFacts } from './appendFacts.ts';
import type { Ledger, ViewChange } from './ports/ledger.ts';

/** There is one such view a shop. */
const VIEW_ID = 'log';
const TRIES_MAX = 3;

/** Facts of access by type and body. */
export type AccessFact = Pick<
  Extract<
    FactDraft,
    {
      type:
        | 'DevicePaired'
        | 'DeviceRenamed'
        | 'DeviceEnded'
        | 'SignedIn'
        | 'SessionEnded'
        | 'SignInRefused'
        | 'PassphraseChanged'
        | 'SensorUserChanged';
    }
  >,
  'type' | 'body'
>;

/** The view of who came and went. */
export function accessViewFrom(log: AccessLog): ViewChange {
  return { kind: 'accessLog', id: VIEW_ID, isOpen: true, body: log };
}

/** Who came and went lately. */
export async function readAccessLog({ ledger }: { readonly ledger: Ledger }): Promise<AccessLog> {
  return ((await ledger.readView('accessLog', VIEW_ID)) as AccessLog | null) ?? EMPTY_ACCESS_LOG;
}

/** The list as the wire carries it. */
export function presentAccessLog({ entries }: AccessLog) {
  return entries.map(({ at, act, name }) => ({ at: isoFromInstant(at), act, name }));
}

/**
 * Appends a fact. What it tells of has been done and stands in the file of keys: a ledger that cannot take it just now
 * is logged and undoes nothing.
 */
export async function noteAccess(access: Access, fact: AccessFact): Promise<boolean> {
  const { shop } = access;
  try {
    await shop.turns(async () => append(access, fact));
    return true;
  } catch (error) {
    shop.log.error('access.untold', { type: fact.type, reason: String(error) });
    return false;
  }
}

/** Notes that a door was tried in vain: in the ledger and the log once a minute and source, whatever is tried. */
export async function noteRefused(
  access: Access,
  { door, source, name = null }: { door: AccessDoor; source: string; name?: string | null },
): Promise<void> {
  const { clock, log } = access.shop;
  if (access.limits.audit.take(`${door} ${source}`, clock.elapsedMs()) !== null) return;
  log.warn('access.refused', { door });
  await noteAccess(access, { type: 'SignInRefused', body: { door, name } });
}

async function append({ shop }: Access, fact: AccessFact): Promise<void> {
  for (let tryIndex = 0; tryIndex < TRIES_MAX; tryIndex += 1) {
    const head = await shop.ledger.readHead();
    const draft = { ...fact, version: 1, at: shop.clock.nowAt(), by: null, batchId: null, bayId: null };
    const facts = placeFacts(shop, [draft as FactDraft], head);
    const log = facts.reduce(foldAccess, await readAccessLog(shop));
    const appended = await shop.ledger.append({ afterSequence: head, facts, views: [accessViewFrom(log)] });
    if (appended.kind === 'conflict') continue;
    // Screens count sequences: one that nobody told them of would look like a gap.
    shop.live.publishChange({ sequence: appended.sequence, afterSequence: head, batches: [], alerts: [] });
    return;
  }
  throw new Error('the ledger moved on each time');
}
