// The middle: every door ends here. Estimates a batch from its facts and air, decides, and appends what people must see.
import { type BatchState, isCuring, isOpen } from '../domain/batch.ts';
import type { Card } from '../domain/card.ts';
import { decideBatch } from '../domain/decideBatch.ts';
import { estimateCompletion } from '../domain/estimateCompletion.ts';
import { evolveBatch } from '../domain/evolveBatch.ts';
import type { BatchId, Estimate, FactDraft } from '../domain/facts.ts';
import type { AirOfBays } from '../domain/filmJob.ts';
import type { LearnedProduct } from '../domain/learned.ts';
import { appendFacts, placeFacts } from './appendFacts.ts';
import { findEstimate, holdEstimate, type KnownNews, knownNews } from './heldEstimates.ts';
import { readLearned } from './lessonViews.ts';
import { type AirReader, makeAirReader } from './readBayAir.ts';
import type { Shop } from './shop.ts';

/** A version conflict is decided again this often; nothing else is ever repeated blindly. */
export const DECIDE_TRIES_MAX = 3;

/** One pass over some batches: the air that it reads once for all of them, and the news it knew of before. */
export interface Pass {
  readonly news: KnownNews;
  readonly readAir: AirReader;
}

/** Begins a pass. */
export function beginPass(shop: Shop): Pass {
  return { news: knownNews(shop), readAir: makeAirReader(shop) };
}

/**
 * Brings one open batch up to now; called in a turn of its own. It goes on from the view, which is what the facts give:
 * what time alone brings takes nothing back, and a batch that gathers facts all day is not folded anew at each reading.
 */
export async function advanceBatch(
  shop: Shop,
  batchId: BatchId,
  pass: Pass = beginPass(shop),
): Promise<void> {
  for (let tryIndex = 0; tryIndex < DECIDE_TRIES_MAX; tryIndex += 1) {
    const head = await shop.ledger.readHead();
    const held = (await shop.ledger.readView('batch', batchId)) as BatchState | null;
    if (held === null || !isOpen(held)) return;
    const drafts = await decideNow(shop, held, pass);
    if (drafts.length === 0) return;
    const facts = placeFacts(shop, drafts, head);
    const state = facts.reduce(evolveBatch, held);
    if ((await appendFacts(shop, { head, state, facts })) === 'appended') return;
  }
  shop.log.warn('batch.conflict', { batchId, triesCount: DECIDE_TRIES_MAX });
}

/** What time and air make of a batch as it stands: estimates it when it cures, and decides. */
export async function decideNow(
  shop: Shop,
  state: BatchState,
  pass: Pass = beginPass(shop),
): Promise<FactDraft[]> {
  return decideWith(shop, state, isCuring(state) ? await estimateNow(shop, state, pass) : null);
}

/** Whether nothing is to be decided on a batch, as far as can be said without a new estimate. */
export function isAtRest(shop: Shop, state: BatchState): boolean {
  const estimate = isCuring(state) ? findEstimate(shop, state) : null;
  return (estimate !== null || !isCuring(state)) && decideWith(shop, state, estimate).length === 0;
}

function decideWith(shop: Shop, state: BatchState, estimate: Estimate | null): FactDraft[] {
  const { clock, facts } = shop;
  return decideBatch(state, estimate, {
    card: cardOf(shop, state),
    nowAt: clock.nowAt(),
    alerts: facts.alerts,
  });
}

async function estimateNow(shop: Shop, state: BatchState, { news, readAir }: Pass): Promise<Estimate> {
  const held = findEstimate(shop, state);
  if (held !== null) return held;
  const bays = await readAir(state);
  const learned = await readLearned(shop, state.cardId);
  const begunMs = shop.clock.elapsedMs();
  const estimate = estimateWith(shop, state, { bays, learned });
  shop.counters.observe('sandby_estimate_duration_seconds', (shop.clock.elapsedMs() - begunMs) / 1000);
  for (const note of estimate.notes) shop.counters.add('sandby_estimate_notes_total', { note });
  holdEstimate(shop, state, { estimate, bays, news });
  return estimate;
}

/** The estimate of a batch from the air that it met, or from what that air might be. */
export function estimateWith(
  shop: Shop,
  state: BatchState,
  known: { readonly bays: AirOfBays; readonly learned: LearnedProduct | null },
): Estimate {
  const { testProbability } = shop.facts;
  return estimateCompletion(state, {
    ...known,
    card: cardOf(shop, state),
    nowAt: shop.clock.nowAt(),
    testProbability,
  });
}

/** The card of a batch; a start with an open batch whose product left the cards file is refused (findStrays). */
export function cardOf(shop: Shop, state: BatchState): Card {
  const card = shop.cards.get(state.cardId);
  if (card === undefined) throw new Error(`no card "${state.cardId}" for batch ${state.id}`);
  return card;
}
