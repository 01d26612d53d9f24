// The door for time: brings every open batch up to now, at the next instant at which one may turn and each minute.
import type { Instant } from '../contract/index.ts';
import { turningInstants } from '../domain/alertRules.ts';
import type { BatchState } from '../domain/batch.ts';
import { instantAfter } from '../domain/minutes.ts';
import { advanceAlerts } from './advanceAlerts.ts';
import { advanceBatch, beginPass, cardOf, isAtRest } from './advanceBatch.ts';
import { readOpenBatches } from './appendFacts.ts';
import { forgetEstimates, noteNews } from './heldEstimates.ts';
import { PortFailure } from './ports/portFailure.ts';
import type { Shop } from './shop.ts';
import { isClockSteady } from './steadyClock.ts';
import { probeStore } from './storeTroubles.ts';

/** Answers to commands are kept this long. */
const ANSWERS_KEPT_MIN = 7 * 24 * 60;
/** With a store in trouble the next look comes so soon. */
const TROUBLED_LOOK_MIN = 5 / 60;
/** The shortest pause between two passes over a bay [ms of elapsed time]: news is on every screen within a second. */
const PAUSE_MIN_MS = 400;
/** A bay with many batches rests longer: this many times as long as its last pass took. */
const PAUSE_RATIO = 4;
/** All bays rest as long as a pass took before the next one's turn: passes never take more than half of the machine. */
const SHOP_PAUSE_RATIO = 1;

/**
 * Brings open batches up to now and sets the clock for the next turn; one such look at a time. Once a shop is open, those
 * whose bay is about to have its pass are left to that, unless their own turn has come.
 */
export async function advanceTime(shop: Shop, looksAt: 'all' | 'due' = 'due'): Promise<void> {
  if (shop.wake.isLooking) return;
  const { lookedAt } = shop.wake;
  shop.wake.isLooking = true;
  shop.wake.lookedAt = shop.clock.nowAt();
  try {
    await guarded(async () => {
      await advanceOpen(
        shop,
        (state) => looksAt === 'all' || isTurning(shop, state, lookedAt) || !hasPassAhead(shop, state),
      );
      await probeStore(shop);
      // On a clock that jumped ahead every answer is old, and without its answer a command would be done a second time.
      if (isClockSteady(shop.clock))
        await shop.ledger.forgetAnswers(instantAfter(shop.clock.nowAt(), -ANSWERS_KEPT_MIN));
    });
  } finally {
    // Whatever went wrong in this look: the next one is not kept from looking.
    shop.wake.isLooking = false;
  }
  await planWake(shop);
}

/** Whether an instant at which a batch may turn has come since the last look. */
function isTurning(shop: Shop, state: BatchState, lookedAt: Instant): boolean {
  const nowAt = shop.clock.nowAt();
  return turnsOf(shop, state).some((turnAt) => turnAt > lookedAt && turnAt <= nowAt);
}

/** Whether news of its air is about to be looked at anyway: in a busy shop no look would find anything else to do. */
function hasPassAhead({ wake }: Shop, { stays }: BatchState): boolean {
  return stays.some(({ bayId }) => wake.newsBays.has(bayId));
}

/** Notes that a bay has new air; its open batches are estimated at once, or as soon as its pause is over. */
export function markBay(shop: Shop, bayId: string): void {
  const { busyBays, newsBays, restsUntilMs } = shop.wake;
  noteNews(shop, bayId);
  newsBays.add(bayId);
  if (busyBays.has(bayId)) return;
  busyBays.add(bayId);
  const restMs = (restsUntilMs.get(bayId) ?? 0) - shop.clock.elapsedMs();
  shop.clock.after(Math.max(0, restMs), () => void shop.wake.passes(() => advanceBay(shop, bayId)));
}

/** One pass over a bay; news that came meanwhile gets a pass of its own, after the rest. Bays have their passes in turn. */
async function advanceBay(shop: Shop, bayId: string): Promise<void> {
  const { busyBays, newsBays, restsUntilMs } = shop.wake;
  newsBays.delete(bayId);
  let passed: Passed = { meantCount: 0, workedMs: 0 };
  await guarded(async () => {
    passed = await advanceOpen(shop, (state) => state.stays.some((stay) => stay.bayId === bayId));
  });
  const { meantCount, workedMs } = passed;
  const pauseMs = Math.max(PAUSE_MIN_MS, PAUSE_RATIO * workedMs);
  if (meantCount > 0) restsUntilMs.set(bayId, shop.clock.elapsedMs() + pauseMs);
  busyBays.delete(bayId);
  if (newsBays.has(bayId)) markBay(shop, bayId);
  await planWake(shop);
  await restShop(shop, SHOP_PAUSE_RATIO * workedMs);
}

async function restShop({ clock }: Shop, durationMs: number): Promise<void> {
  if (durationMs > 0) await new Promise<void>((resolve) => void clock.after(durationMs, resolve));
}

interface Passed {
  readonly meantCount: number;
  /** Time in which nobody else had a turn. */
  readonly workedMs: number;
}

/** Advances the open batches that a pass is for, letting others have their turns in between. */
async function advanceOpen(shop: Shop, isMeant: (state: BatchState) => boolean): Promise<Passed> {
  const open = await readOpenBatches(shop);
  forgetEstimates(shop, open);
  const meant = open.filter((state) => isMeant(state));
  const pass = beginPass(shop);
  let workedMs = 0;
  for (const state of meant) {
    if (isAtRest(shop, state)) continue;
    await shop.turns(async () => {
      const begunMs = shop.clock.elapsedMs();
      await advanceBatch(shop, state.id, pass);
      workedMs += shop.clock.elapsedMs() - begunMs;
    });
    await shop.clock.breathe();
  }
  return { meantCount: meant.length, workedMs };
}

/**
 * Looks at the shop's warnings, which every look and act may have changed, and sets the clock to the next instant at which
 * a batch or a warning may turn, a minute after the last look at the latest, some seconds where the store is in trouble.
 * A turn that fell due since that look is looked at now: a later wish must not push it aside.
 */
export async function planWake(shop: Shop): Promise<void> {
  if (shop.wake.isLooking) return;
  // A wall clock that was put back makes the last look one of the future: nothing waits for it to come round again.
  const lookedAt = Math.min(shop.wake.lookedAt, shop.clock.nowAt()) as Instant;
  // What could not be stored may be a call that is due: a minute would be long for whoever waits for it.
  let nextAt = instantAfter(lookedAt, shop.troubles.has('ledger') ? TROUBLED_LOOK_MIN : 1);
  await guarded(async () => {
    const open = await readOpenBatches(shop);
    const alertsAt = await advanceAlerts(shop, open);
    const turns = [
      ...open.flatMap((state) => turnsOf(shop, state)),
      ...(alertsAt === null ? [] : [alertsAt]),
    ];
    for (const turnAt of turns) if (turnAt > lookedAt && turnAt < nextAt) nextAt = turnAt;
  });
  if (nextAt <= shop.clock.nowAt()) await advanceTime(shop);
  else shop.clock.wakeAt(nextAt, () => void advanceTime(shop));
}

function turnsOf(shop: Shop, state: BatchState): Instant[] {
  if (state.estimate === null) return [];
  return turningInstants(state, {
    estimate: state.estimate,
    card: cardOf(shop, state),
    settings: shop.facts.alerts,
  });
}

/** A store that fails leaves the shop degraded, not dead (the watch has said so): it is tried again at the next turn. */
async function guarded(job: () => Promise<void>): Promise<void> {
  try {
    await job();
  } catch (error) {
    if (!(error instanceof PortFailure)) throw error;
  }
}
