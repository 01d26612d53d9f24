// Copies of the shop on a schedule and by button, kept beside the store: one that was missed is made soon after the start,
// and older ones go only when a new good one stands.
import {
  type CopiesWire,
  type CopyTrouble,
  type Instant,
  isoFromInstant,
  type KeptCopyWire,
} from '../contract/index.ts';
import { newestFirst, nextCopyAt } from '../domain/copyPlan.ts';
import { instantAfter } from '../domain/minutes.ts';
import type { CopyRun } from './copyRun.ts';
import { PortFailure } from './ports/portFailure.ts';
import type { CopyAnswer } from './ports/setupDoors.ts';
import type { CopyShelf, Keeping, KeptCopy, StoreCopy } from './ports/storeCopier.ts';
import type { Shop } from './shop.ts';

/** How soon after the start the first look is [ms of real time]: the start itself comes first. */
const FIRST_LOOK_MS = 120_000;
const LOOK_EVERY_MS = 60_000;
/** After an attempt that brought none, the next one waits so long; by hand it waits for nothing. */
const RETRY_MIN = 15;

/** Looks each minute whether a copy is due, for as long as the clock runs. */
export function keepCopies(shop: Shop): void {
  const { copies } = shop;
  if (copies === undefined) return;
  const look = async (): Promise<void> => {
    try {
      if (await isDue(shop, copies)) await make(shop, copies);
    } catch (error) {
      if (!(error instanceof PortFailure)) throw error;
      noteFailure(shop, copies, { code: 'not-written', detail: 'the folder of copies cannot be read' });
    }
    shop.clock.after(LOOK_EVERY_MS, () => void look());
  };
  shop.clock.after(FIRST_LOOK_MS, () => void look());
}

/** Makes a copy now, whatever the schedule says. */
export async function makeCopy(shop: Shop, key: string): Promise<CopyAnswer> {
  const { copies } = shop;
  if (copies === undefined) return { kind: 'no-file' };
  if (copies.lastAsk?.key === key) return { kind: 'kept', copy: wireOf(copies.lastAsk.copy), isRepeat: true };
  if (copies.isMaking) return { kind: 'busy' };
  const kept = await make(shop, copies);
  if (kept.kind === 'failed') return kept;
  copies.lastAsk = { key, copy: kept.copy };
  return { kind: 'kept', copy: wireOf(kept.copy), isRepeat: false };
}

/** What there is of copies and when the next one comes; null for a store in memory. */
export async function readCopies(shop: Shop): Promise<CopiesWire | null> {
  const { copies } = shop;
  if (copies === undefined) return null;
  const { shelf, plan, isMaking, failure } = copies;
  const kept = newestFirst(await shelf.list(), shop.clock.nowAt());
  return {
    folder: shelf.folder,
    everyMin: plan.everyMin,
    quietTime: timeOfDay(plan.quietMin),
    keepCount: plan.keepCount,
    making: isMaking,
    nextAt: isoFromInstant(nextAt(shop, copies, kept)),
    failure: failure === null ? null : { ...failure, at: isoFromInstant(failure.at) },
    copies: kept.map(wireOf),
  };
}

/** One kept copy to be read; null when there is none of that name. */
export async function openKeptCopy(shop: Shop, name: string): Promise<StoreCopy | null> {
  return (await shop.copies?.shelf.open(name)) ?? null;
}

/** How copies fare, for health: a copy that failed leaves the shop as good as it was, so it degrades nothing. */
export function copiesInShort({ copies }: Pick<Shop, 'copies'>): string {
  const failure = copies?.failure ?? null;
  return failure === null
    ? 'ok'
    : `no copy could be made at ${isoFromInstant(failure.at)}: ${failure.detail}`;
}

async function isDue(shop: Shop, copies: CopyRun): Promise<boolean> {
  const nowAt = shop.clock.nowAt();
  const { failure } = copies;
  if (copies.isMaking) return false;
  // A clock that was put back must not hold the next attempt for longer.
  if (failure !== null && nowAt >= failure.at && nowAt < instantAfter(failure.at, RETRY_MIN)) return false;
  return nextAt(shop, copies, await copies.shelf.list()) <= nowAt;
}

function nextAt(shop: Shop, { plan }: CopyRun, copies: readonly KeptCopy[]): Instant {
  return nextCopyAt(plan, { copies, nowAt: shop.clock.nowAt(), timeZone: shop.facts.timeZone });
}

async function make(shop: Shop, copies: CopyRun): Promise<Keeping> {
  const nowAt = shop.clock.nowAt();
  copies.isMaking = true;
  const kept = await copies.shelf.keep(nowAt).finally(() => {
    copies.isMaking = false;
  });
  if (kept.kind === 'kept') {
    copies.failure = null;
    shop.log.info('copy.kept', { name: kept.copy.name, sizeBytes: kept.copy.sizeBytes });
    await removeOld(shop, copies, kept.copy.name);
  } else {
    noteFailure(shop, copies, kept);
  }
  return kept;
}

function noteFailure(
  shop: Shop,
  copies: CopyRun,
  { code, detail }: { code: CopyTrouble; detail: string },
): void {
  copies.failure = { at: shop.clock.nowAt(), code, detail };
  shop.log.error('copy.failed', { code, detail });
}

/**
 * Goes by the age that the names tell; one that will not go is tried again after the next copy. The one just made stays
 * whatever the clock has done meanwhile: somebody may have been told that it is there.
 */
async function removeOld(shop: Shop, { shelf, plan }: CopyRun, nameJustMade: string): Promise<void> {
  const copies = newestFirst(await shelf.list(), shop.clock.nowAt());
  for (const { name } of copies.slice(plan.keepCount)) {
    if (name === nameJustMade) continue;
    try {
      if (await isLastOfAnother(shop, shelf, { name, copies })) continue;
      await shelf.remove(name);
    } catch (cause) {
      shop.log.warn('copy.stays', { name, reason: String(cause) });
    }
  }
}

/**
 * Whether a copy is the newest that there is of another ledger. A data disk that was missing at the start makes a new and
 * empty shop, whose copies must not push off the last of what was lost.
 */
async function isLastOfAnother(
  { ledger }: Shop,
  shelf: CopyShelf,
  { name, copies }: { readonly name: string; readonly copies: readonly KeptCopy[] },
): Promise<boolean> {
  const ledgerId = await shelf.ledgerOf(name);
  if (ledgerId === null || ledgerId === ledger.ledgerId) return false;
  const newer = copies.slice(
    0,
    copies.findIndex((copy) => copy.name === name),
  );
  for (const copy of newer) if ((await shelf.ledgerOf(copy.name)) === ledgerId) return false;
  return true;
}

function wireOf({ name, madeAt, sizeBytes }: KeptCopy): KeptCopyWire {
  return { name, madeAt: isoFromInstant(madeAt), sizeBytes };
}

function timeOfDay(quietMin: number): string {
  const [hours, minutes] = [Math.floor(quietMin / 60), quietMin % 60];
  return `${String(hours).padStart(2, '0')}:${String(minutes).padStart(2, '0')}`;
}
