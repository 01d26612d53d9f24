// What was said by hand, as a view, and the shop's settings brought in line with it.
import type { Card, CardStated } from '../domain/card.ts';
import type { FactBodies } from '../domain/facts.ts';
import { NO_SETTINGS, type SettingsByHand } from '../domain/settings.ts';
import { layOver } from '../domain/settingsInForce.ts';
import { calibrateCard } from '../engine/index.ts';
import type { Ledger, ViewChange } from './ports/ledger.ts';
import type { Shop } from './shop.ts';

/** There is one such view a shop. */
const VIEW_ID = 'by-hand';

/** The view of what was said by hand. */
export function settingsViewFrom(byHand: SettingsByHand): ViewChange {
  return { kind: 'settings', id: VIEW_ID, isOpen: true, body: byHand };
}

/** What was said by hand so far. */
export async function readByHand({ ledger }: { readonly ledger: Ledger }): Promise<SettingsByHand> {
  return ((await ledger.readView('settings', VIEW_ID)) as SettingsByHand | null) ?? NO_SETTINGS;
}

/** Lays what is kept over the config's settings: to be called once when a shop opens, before anything asks for them. */
export async function recallSettings(shop: Shop): Promise<void> {
  const byHand = await readByHand(shop);
  if (byHand === NO_SETTINGS) return;
  for (const { said } of Object.values(byHand.cards)) {
    const card = await recallCard(shop, said.stated);
    if (card === null) shop.log.error('card.not-recalled', { cardId: said.stated.id });
    else shop.cards = settingsAhead(shop, { byHand, card }).cards;
  }
  shop.facts = layOver(shop.facts, byHand);
}

/** The settings and products of a shop with what was said by hand laid over them, and a product more. */
export function settingsAhead(
  { facts, cards }: Pick<Shop, 'facts' | 'cards'>,
  { byHand, card }: { byHand: SettingsByHand; card: Card | null },
): Pick<Shop, 'facts' | 'cards'> {
  return {
    facts: layOver(facts, byHand),
    cards: card === null ? cards : new Map([...cards, [card.id, card]]),
  };
}

/** A card put by hand once calibrated; should a newer model find no constants for it, those that were kept hold. */
async function recallCard(shop: Shop, stated: CardStated): Promise<Card | null> {
  const calibrated = calibrateCard(stated);
  if (calibrated.kind === 'calibrated') return { ...stated, constants: calibrated.constants };
  const kept = (await shop.ledger.readView('card', stated.id)) as FactBodies['CardCalibrated'] | null;
  return kept === null || kept.statement !== JSON.stringify(stated)
    ? null
    : { ...stated, constants: kept.constants };
}
