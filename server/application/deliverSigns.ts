// What stands on the broker for stack lights and other programs: the light of each bay and the open batches, from the views.
import type { BatchWire, BayLight } from '../contract/index.ts';
import { bayLight } from '../domain/bayLight.ts';
import type { Sequence } from '../domain/facts.ts';
import { readBook } from './advanceAlerts.ts';
import { readOpenBatches } from './appendFacts.ts';
import type { SignDoors } from './ports/notifyDoors.ts';
import { presentBatch } from './present.ts';
import type { Shop } from './shop.ts';

/** How many of the newest facts are looked through for batches that closed. */
const TAIL_FACTS_MAX = 2000;

/** Makes the doors. */
export function makeSignDoors(shop: Shop): SignDoors {
  return {
    // Not in turns: what changes in between is followed by its own change.
    readLights: () => readLights(shop),
    readOpenBatches: async (): Promise<readonly BatchWire[]> => {
      const nowAt = shop.clock.nowAt();
      return (await readOpenBatches(shop)).map((state) => presentBatch(state, nowAt));
    },
    readLatelyClosed: () => readLatelyClosed(shop),
  };
}

async function readLights(shop: Shop): Promise<ReadonlyMap<string, BayLight>> {
  const batches = await readOpenBatches(shop);
  const { alerts: lines } = await readBook(shop);
  return new Map(shop.facts.bays.map(({ id }) => [id, bayLight(id, { batches, lines })]));
}

/** A broker that went on while the program was off may still hold what closed just before it stopped. */
async function readLatelyClosed(shop: Shop): Promise<readonly string[]> {
  const head = await shop.ledger.readHead();
  const afterSequence = Math.max(0, head - TAIL_FACTS_MAX) as Sequence;
  const facts = await shop.ledger.readFacts({ afterSequence, limit: TAIL_FACTS_MAX });
  const open = new Set((await readOpenBatches(shop)).map(({ id }) => id));
  const touched = new Set(facts.flatMap(({ batchId }) => (batchId === null ? [] : [batchId])));
  return [...touched].filter((batchId) => !open.has(batchId));
}
