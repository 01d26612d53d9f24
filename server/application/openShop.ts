// From settings to a shop that works: cards calibrated, stale views mended, every open batch brought up to now.
import type { CardStated, Card } from '../domain/card.ts';
import type { FactBodies } from '../domain/facts.ts';
import { calibrateCard, type CardConstants } from '../engine/index.ts';
import type { Rejection } from '../contract/index.ts';
import { advanceTime } from './advanceTime.ts';
import { placeFacts, readOpenBatches } from './appendFacts.ts';
import { bringCard } from './bringCard.ts';
import { keepDeliveries } from './deliverViews.ts';
import { rememberViews } from './rememberViews.ts';
import { NO_COUNTERS } from './ports/counters.ts';
import type { Shop } from './shop.ts';
import { makeStoreWatch } from './storeTroubles.ts';
import { makeTurns } from './turns.ts';
import { watchAir, watchLedger } from './watchStore.ts';

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

/** Puts the runtime parts beside settings and ports, and a watch over the stores. */
export function makeShop(
  parts: Omit<Shop, 'turns' | 'wake' | 'troubles' | 'outbox' | 'counters'> & Partial<Pick<Shop, 'counters'>>,
): Shop {
  const troubles: Shop['troubles'] = new Map();
  const { counters = NO_COUNTERS } = parts;
  const watch = makeStoreWatch(troubles, { ...parts, counters });
  return {
    ...parts,
    counters,
    ledger: rememberViews(keepDeliveries(watchLedger(parts.ledger, watch))),
    air: watchAir(parts.air, watch),
    turns: makeTurns(),
    wake: {
      lookedAt: parts.clock.nowAt(),
      isLooking: false,
      passes: makeTurns(),
      restsUntilMs: new Map(),
      busyBays: new Set(),
      newsBays: new Set(),
    },
    outbox: { owedCount: 0, oldestAt: null, givenUpCount: 0 },
    troubles,
  };
}

/** Open batches whose product or bay the settings no longer know, each in words; a shop must not open over them. */
export async function findStrays(shop: Shop): Promise<string[]> {
  const bayIds = shop.facts.bays.map((bay) => bay.id);
  return (await readOpenBatches(shop)).flatMap((state) => {
    if (!shop.cards.has(state.cardId)) return [`product "${state.cardId}" is still on ${state.panel}`];
    return bayIds.includes(state.bayId) ? [] : [`bay "${state.bayId}" still holds ${state.panel}`];
  });
}

/**
 * Keeps new calibrations, catches up with what time has done while the program was off, and keeps time from here on. With a
 * patience [ms of elapsed time] a shop of hundreds of open batches goes on opening while its last ones are still looked at:
 * `caughtUp` tells when that has ended, and rejects with a fault of it.
 */
export async function catchUp(
  shop: Shop,
  patienceMs?: number,
): Promise<{ readonly caughtUp: Promise<void> }> {
  for (const card of shop.cards.values()) await shop.turns(() => keepCalibration(shop, card));
  const caughtUp = advanceTime(shop, 'all');
  if (patienceMs === undefined) await caughtUp;
  else
    await Promise.race([
      caughtUp,
      new Promise<void>((resolve) => void shop.clock.after(patienceMs, resolve)),
    ]);
  return { caughtUp };
}

/** A card is calibrated once a statement and model: the fact says which constants every estimate after it has used. */
async function keepCalibration(shop: Shop, card: Card): Promise<void> {
  const { constants, ...stated } = card;
  const statement = JSON.stringify(stated);
  const kept = (await shop.ledger.readView('card', card.id)) as FactBodies['CardCalibrated'] | null;
  if (kept !== null && kept.statement === statement && isSameFit(kept.constants, constants)) return;
  const head = await shop.ledger.readHead();
  const { drafts, views } = await bringCard(shop, card);
  await shop.ledger.append({ afterSequence: head, facts: placeFacts(shop, drafts, head), views });
}

function isSameFit(left: CardConstants, right: CardConstants): boolean {
  return left.inductionS === right.inductionS && left.rateConstantPerS === right.rateConstantPerS;
}
