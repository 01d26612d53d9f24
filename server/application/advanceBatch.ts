// The middle: every door ends here. Estimates a batch from its facts and air, decides, and appends what people must see.
import { type BatchState, isCuring, isOpen } from '../domain/batch.ts';
import type { Card } from '../domain/card.ts';
import { decideBatch } from '../domain/decideBatch.ts';
import { estimateCompletion } from '../domain/estimateCompletion.ts';
import type { BatchId, Estimate, FactDraft } from '../domain/facts.ts';
import type { AirOfBays } from '../domain/filmJob.ts';
import { appendFacts, extendHistory, placeFacts, readHistory } from './appendFacts.ts';
import { type AirReader, makeAirReader } from './readBayAir.ts';
import type { Shop } from './shop.ts';

/** A version conflict is decided again this often; nothing else is ever repeated blindly. */
export const DECIDE_TRIES_MAX = 3;

/** Brings one open batch up to now; called in a turn of its own. */
export async function advanceBatch(
  shop: Shop,
  batchId: BatchId,
  readAir: AirReader = makeAirReader(shop),
): Promise<void> {
  for (let tryIndex = 0; tryIndex < DECIDE_TRIES_MAX; tryIndex += 1) {
    const head = await shop.ledger.readHead();
    const history = await readHistory(shop, batchId);
    if (history.state === null || !isOpen(history.state)) return;
    const drafts = await decideNow(shop, history.state, readAir);
    if (drafts.length === 0) return;
    const facts = placeFacts(shop, drafts, head);
    const { state } = extendHistory(history, facts);
    if ((await appendFacts(shop, { head, state: state as BatchState, facts })) === 'appended') return;
  }
  shop.log.warn('batch.conflict', { batchId, triesCount: DECIDE_TRIES_MAX });
}

/** What time and air make of a batch as it stands: estimates it when it cures, and decides. */
export async function decideNow(
  shop: Shop,
  state: BatchState,
  readAir: AirReader = makeAirReader(shop),
): Promise<FactDraft[]> {
  const card = cardOf(shop, state);
  const nowAt = shop.clock.nowAt();
  const estimate = isCuring(state) ? estimateWith(shop, state, await readAir(state)) : null;
  return decideBatch(state, estimate, { card, nowAt, alerts: shop.facts.alerts });
}

/** The estimate of a batch from the air that it met, or from what that air might be. */
export function estimateWith(shop: Shop, state: BatchState, bays: AirOfBays): Estimate {
  const { testProbability } = shop.facts;
  return estimateCompletion(state, {
    card: cardOf(shop, state),
    bays,
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
