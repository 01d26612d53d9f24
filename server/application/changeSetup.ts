// The way of every change in Setup: one answer a key, decided on the head, appended with its views, in force at once.
import type { Instant, Rejection } from '../contract/index.ts';
import type { FactDraft, Sequence } from '../domain/facts.ts';
import { foldSettings, type SettingsByHand, type Touch } from '../domain/settings.ts';
import type { SettingsChange } from '../domain/settingsChange.ts';
import { DECIDE_TRIES_MAX } from './advanceBatch.ts';
import { markBay, planWake } from './advanceTime.ts';
import { placeFacts } from './appendFacts.ts';
import type { CardBrought } from './bringCard.ts';
import type { SetupAnswer } from './ports/setupDoors.ts';
import { presentTouches } from './presentSettings.ts';
import { readByHand, settingsAhead, settingsViewFrom } from './settingsView.ts';
import type { Shop } from './shop.ts';

/** What is decided on a wish. */
export type SetupDecision =
  | {
      readonly kind: 'change';
      /** Null: all of it is so already. */
      readonly change: SettingsChange | null;
      readonly isNew: boolean;
      /** A product that the change brings, with what follows from it. */
      readonly card?: CardBrought;
    }
  | { readonly kind: 'rejected'; readonly rejections: readonly Rejection[] }
  | { readonly kind: 'stale'; readonly version: number; readonly touches: readonly Touch[] }
  | { readonly kind: 'unknown' };

export interface SetupWish<Body> {
  readonly key: string;
  /** What is asked, in a canonical text. */
  readonly fingerprint: string;
  readonly by: string | null;
  decide(byHand: SettingsByHand): Promise<SetupDecision>;
  /** The answer, from the settings as they will be in force. */
  present(ahead: Shop, byHand: SettingsByHand): Promise<Body>;
}

interface KeptBody<Body> {
  readonly body: Body;
  readonly isNew: boolean;
}

/** Does what is asked once, whatever is sent; open screens read everything anew and open batches are looked at again. */
export async function changeSetup<Body>(shop: Shop, wish: SetupWish<Body>): Promise<SetupAnswer<Body>> {
  const answer = await shop.turns(async (): Promise<SetupAnswer<Body>> => {
    const kept = await shop.ledger.readAnswer(wish.key);
    if (kept !== null) {
      if (kept.fingerprint !== wish.fingerprint) return { kind: 'key-reused' };
      return { kind: 'done', ...(kept.body as KeptBody<Body>) };
    }
    for (let tryIndex = 0; tryIndex < DECIDE_TRIES_MAX; tryIndex += 1) {
      const settled = await settle(shop, wish);
      if (settled !== 'conflict') return settled;
    }
    return { kind: 'stale', version: 0, changes: [] };
  });
  if (answer.kind === 'done') await planWake(shop);
  return answer;
}

async function settle<Body>(shop: Shop, wish: SetupWish<Body>): Promise<SetupAnswer<Body> | 'conflict'> {
  const head = await shop.ledger.readHead();
  const held = await readByHand(shop);
  const decision = await wish.decide(held);
  if (decision.kind === 'stale')
    return { kind: 'stale', version: decision.version, changes: presentTouches(decision.touches) };
  if (decision.kind !== 'change') return decision;
  const nowAt = shop.clock.nowAt();
  const { change, isNew, card } = decision;
  const drafts =
    change === null ? [] : [changedFact(change, { at: nowAt, by: wish.by }), ...(card?.drafts ?? [])];
  const facts = placeFacts(shop, drafts, head);
  const byHand = facts.reduce(foldSettings, held);
  const ahead = { ...shop, ...settingsAhead(shop, { byHand, card: card?.card ?? null }) };
  const body = await wish.present(ahead, byHand);
  const views = change === null ? [] : [settingsViewFrom(byHand), ...(card?.views ?? [])];
  const { key, fingerprint } = wish;
  const answer = { key, fingerprint, at: nowAt, body: { body, isNew } satisfies KeptBody<Body> };
  const appended = await shop.ledger.append({ afterSequence: head, facts, views, answer });
  if (appended.kind === 'conflict') return 'conflict';
  if (change !== null) {
    shop.facts = ahead.facts;
    shop.cards = ahead.cards;
    tellAll(shop, appended.sequence);
  }
  return { kind: 'done', body, isNew };
}

function changedFact(change: SettingsChange, { at, by }: { at: Instant; by: string | null }): FactDraft {
  return { type: 'SettingsChanged', version: 1, at, by, batchId: null, bayId: null, body: change };
}

/** Screens read the snapshot anew, also those that were away meanwhile; every open batch is estimated anew. */
function tellAll(shop: Shop, sequence: Sequence): void {
  shop.live.publishResync(sequence);
  for (const bay of shop.facts.bays) markBay(shop, bay.id);
}
