// What follows when a card is calibrated anew: the fact that says with which constants, its view, and what was learned of it.
import type { Card } from '../domain/card.ts';
import type { FactDraft } from '../domain/facts.ts';
import { cardViewFrom } from './appendFacts.ts';
import { readLessons, viewsOfLessons } from './lessonViews.ts';
import type { ViewChange } from './ports/ledger.ts';
import type { Shop } from './shop.ts';

/** A card with what is appended when it comes into force. */
export interface CardBrought {
  readonly card: Card;
  readonly drafts: readonly FactDraft[];
  readonly views: readonly ViewChange[];
}

/** What a card in force is known by: its statement and the constants found from it. */
export async function bringCard(shop: Shop, card: Card): Promise<CardBrought> {
  const { constants, ...stated } = card;
  const body = { cardId: card.id, statement: JSON.stringify(stated), constants };
  const nowAt = shop.clock.nowAt();
  const lessons = await readLessons(shop, card.id);
  return {
    card,
    drafts: [{ type: 'CardCalibrated', version: 1, at: nowAt, by: null, batchId: null, bayId: null, body }],
    views: [cardViewFrom(body), ...(lessons === null ? [] : viewsOfLessons(lessons, card))],
  };
}
