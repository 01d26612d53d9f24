// From settings to a shop that works: cards calibrated, stale views mended, every open batch brought up to now.
import type { CardStated, Card } from '../domain/card.ts';
import { calibrateCard } from '../engine/index.ts';
import type { Rejection } from '../contract/index.ts';
import { advanceTime } from './advanceTime.ts';
import type { Shop } from './shop.ts';
import { makeTurns } from './turns.ts';

export type Calibrated =
  | { readonly kind: 'calibrated'; readonly cards: ReadonlyMap<string, Card> }
  | { readonly kind: 'rejected'; readonly rejections: readonly Rejection[] };

/** Finds the constants of every card; a card that no constants fit is named with its reason. */
export function calibrateCards(stated: readonly CardStated[]): Calibrated {
  const cards = new Map<string, Card>();
  const rejections: Rejection[] = [];
  for (const [index, card] of stated.entries()) {
    const result = calibrateCard(card);
    if (result.kind === 'calibrated') cards.set(card.id, { ...card, constants: result.constants });
    else rejections.push(...result.rejections.map((one) => ({ ...one, path: `cards.${index}.${one.path}` })));
  }
  return rejections.length > 0 ? { kind: 'rejected', rejections } : { kind: 'calibrated', cards };
}

/** Puts the runtime parts beside settings and ports. */
export function makeShop(parts: Omit<Shop, 'turns' | 'wake' | 'troubles'>): Shop {
  return {
    ...parts,
    turns: makeTurns(),
    wake: { estimatedAtMs: new Map(), waitingBays: new Set() },
    troubles: new Map(),
  };
}

/** Catches up with what time has done while the program was off, and keeps time from here on. */
export async function catchUp(shop: Shop): Promise<void> {
  await advanceTime(shop);
}
