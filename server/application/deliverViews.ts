// The views of what was told outside the pages: they follow from facts, whoever appends them, in the same transaction.
import { type Delivery, evolveDelivery, isDeliveryOpen, isOfDelivery } from '../domain/deliverBook.ts';
import type { Fact } from '../domain/facts.ts';
import type { Ledger, ViewChange } from './ports/ledger.ts';

/** The same ledger, which keeps these views with every entry. */
export function keepDeliveries(ledger: Ledger): Ledger {
  return {
    ...ledger,
    // Read before the entry: should somebody else write in between, the entry meets another head and is not taken.
    append: async (entry) => {
      const held = new Map<string, Delivery>();
      for (const fact of entry.facts) {
        if (!isOfDelivery(fact) || held.has(fact.body.alertId)) continue;
        const delivery = await readDelivery(ledger, fact.body.alertId);
        if (delivery !== null) held.set(fact.body.alertId, delivery);
      }
      const views = evolveDeliveryViews(held, entry.facts);
      return ledger.append(views.length === 0 ? entry : { ...entry, views: [...entry.views, ...views] });
    },
  };
}

/** The views that some facts change, from how they stand; the map is brought on. */
export function evolveDeliveryViews(held: Map<string, Delivery>, facts: readonly Fact[]): ViewChange[] {
  const changed = new Set<string>();
  for (const fact of facts) {
    if (!isOfDelivery(fact)) continue;
    const { alertId } = fact.body;
    const delivery = evolveDelivery(held.get(alertId) ?? null, fact);
    if (delivery === null) continue;
    held.set(alertId, delivery);
    changed.add(alertId);
  }
  return [...changed].map((alertId) => viewOf(held.get(alertId) as Delivery));
}

/** Deliveries of which something may still have to be told. */
export async function readOpenDeliveries(ledger: Ledger): Promise<Delivery[]> {
  const views = await ledger.readViews('delivery', { openOnly: true });
  return views.map(({ body }) => body as Delivery);
}

/** One delivery; null where there is none. */
export async function readDelivery(ledger: Ledger, alertId: string): Promise<Delivery | null> {
  return (await ledger.readView('delivery', alertId)) as Delivery | null;
}

function viewOf(delivery: Delivery): ViewChange {
  return { kind: 'delivery', id: delivery.alertId, isOpen: isDeliveryOpen(delivery), body: delivery };
}
