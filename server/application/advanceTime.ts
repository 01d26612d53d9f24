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
/** The shortest pause between two passes over a bay [ms of elapsed time]: news is on every screen within a second. */
const PAUSE_MIN_MS = 400;
/** A bay with many batches rests longer: this many times as long as its last pass took. */
const PAUSE_RATIO = 4;

/** Brings all open batches up to now and sets the clock for the next turn. */
export async function advanceTime(shop: Shop): Promise<void> {
  shop.wake.lookedAt = shop.clock.nowAt();
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
  const restMs = (shop.wake.restsUntilMs.get(bayId) ?? 0) - shop.clock.elapsedMs();
  shop.clock.after(Math.max(0, restMs), () => void advanceBay(shop, bayId));
}

async function advanceBay(shop: Shop, bayId: string): Promise<void> {
  shop.wake.waitingBays.delete(bayId);
  const begunMs = shop.clock.elapsedMs();
  let passedCount = 0;
  await guarded(async () => {
    for (const state of await readOpenBatches(shop)) {
      if (!state.stays.some((stay) => stay.bayId === bayId)) continue;
      passedCount += 1;
      await shop.turns(() => advanceBatch(shop, state.id));
      await shop.clock.breathe();
    }
  });
  const endedMs = shop.clock.elapsedMs();
  const pauseMs = Math.max(PAUSE_MIN_MS, PAUSE_RATIO * (endedMs - begunMs));
  if (passedCount > 0) shop.wake.restsUntilMs.set(bayId, endedMs + pauseMs);
  await planWake(shop);
}

/** Sets the clock to the next instant at which a batch may turn, a minute after all were last looked at at the latest. */
export async function planWake(shop: Shop): Promise<void> {
  const nowAt = shop.clock.nowAt();
  let nextAt = instantAfter(shop.wake.lookedAt, 1);
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
