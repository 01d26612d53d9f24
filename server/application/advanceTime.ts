// The door for time: brings every open batch up to now, at the next instant at which one may turn and each minute.
import type { Instant } from '../contract/index.ts';
import { turningInstants } from '../domain/alertRules.ts';
import type { BatchState } from '../domain/batch.ts';
import { instantAfter } from '../domain/minutes.ts';
import { advanceBatch, cardOf } from './advanceBatch.ts';
import { PortFailure } from './ports/portFailure.ts';
import type { Shop } from './shop.ts';

/** Answers to commands are kept this long. */
const ANSWERS_KEPT_MIN = 7 * 24 * 60;
/** A bay is estimated again at most this often [ms of elapsed time]. */
const BAY_PAUSE_MS = 2000;

/** Brings all open batches up to now and sets the clock for the next turn. */
export async function advanceTime(shop: Shop): Promise<void> {
  await guarded(async () => {
    for (const state of await readOpenBatches(shop)) {
      await shop.turns(() => advanceBatch(shop, state.id));
      await shop.clock.breathe();
    }
    await shop.ledger.forgetAnswers(instantAfter(shop.clock.nowAt(), -ANSWERS_KEPT_MIN));
  });
  await planWake(shop);
}

/** Notes that a bay has new air; its open batches are estimated at once, or as soon as its pause is over. */
export function markBay(shop: Shop, bayId: string): void {
  if (shop.wake.waitingBays.has(bayId)) return;
  shop.wake.waitingBays.add(bayId);
  const sinceMs = shop.clock.elapsedMs() - (shop.wake.estimatedAtMs.get(bayId) ?? Number.NEGATIVE_INFINITY);
  shop.clock.after(Math.max(0, BAY_PAUSE_MS - sinceMs), () => void advanceBay(shop, bayId));
}

async function advanceBay(shop: Shop, bayId: string): Promise<void> {
  shop.wake.waitingBays.delete(bayId);
  shop.wake.estimatedAtMs.set(bayId, shop.clock.elapsedMs());
  await guarded(async () => {
    for (const state of await readOpenBatches(shop)) {
      if (!state.stays.some((stay) => stay.bayId === bayId)) continue;
      await shop.turns(() => advanceBatch(shop, state.id));
      await shop.clock.breathe();
    }
  });
  await planWake(shop);
}

/** Sets the clock to the next instant at which a batch may turn, a minute ahead at most. */
export async function planWake(shop: Shop): Promise<void> {
  const nowAt = shop.clock.nowAt();
  let nextAt = instantAfter(nowAt, 1);
  await guarded(async () => {
    for (const state of await readOpenBatches(shop)) {
      for (const turnAt of turnsOf(shop, state)) if (turnAt > nowAt && turnAt < nextAt) nextAt = turnAt;
    }
  });
  shop.clock.wakeAt(nextAt, () => void advanceTime(shop));
}

function turnsOf(shop: Shop, state: BatchState): Instant[] {
  if (state.estimate === null) return [];
  return turningInstants(state, {
    estimate: state.estimate,
    card: cardOf(shop, state),
    settings: shop.facts.alerts,
  });
}

/** Open batches as their views stand. */
export async function readOpenBatches(shop: Shop): Promise<BatchState[]> {
  const views = await shop.ledger.readViews('batch', { openOnly: true });
  return views.map((view) => view.body as BatchState);
}

/** A store that fails leaves the shop degraded, not dead (the watch has said so): it is tried again at the next turn. */
async function guarded(job: () => Promise<void>): Promise<void> {
  try {
    await job();
  } catch (error) {
    if (!(error instanceof PortFailure)) throw error;
  }
}
