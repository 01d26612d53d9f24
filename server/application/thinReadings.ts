// Old readings become means, a few hundred at a time, at the shop's quiet time: nobody waits behind it.
import type { Instant } from '../contract/index.ts';
import { quietTimeFrom } from '../domain/copyPlan.ts';
import { instantAfter } from '../domain/minutes.ts';
import { PortFailure } from './ports/portFailure.ts';
import type { Shop } from './shop.ts';
import { isClockSteady } from './steadyClock.ts';

export interface ThinPlan {
  /** Readings are kept whole for so long. */
  readonly keepDays: number;
  /** Of the local day, after midnight. */
  readonly quietMin: number;
}

const DAY_MIN = 24 * 60;
/** Of real time. */
const LOOK_EVERY_MS = 60_000;
/** From one step to the next: a step takes a few milliseconds, so that this is a small part of the machine [ms]. */
const REST_MS = 50;

/**
 * Thins as soon as the clock may be believed, since a shop that is switched off at night has no quiet time, and then once a
 * day, for as long as the clock runs.
 */
export function keepThin(shop: Shop, plan: ThinPlan): void {
  let dueAt: Instant | null = null;
  const look = async (): Promise<void> => {
    const nowAt = shop.clock.nowAt();
    // What was planned on a clock that jumped may lie a year ahead.
    if (!isClockSteady(shop.clock)) dueAt = null;
    else if (dueAt === null || nowAt >= dueAt) {
      await thinReadings(shop, instantAfter(nowAt, -plan.keepDays * DAY_MIN));
      dueAt = quietTimeFrom(instantAfter(nowAt, 1), plan.quietMin, shop.facts.timeZone);
    }
    shop.clock.after(LOOK_EVERY_MS, () => void look());
  };
  shop.clock.after(LOOK_EVERY_MS, () => void look());
}

/** Makes all readings from before an instant into means; says how many went. A store that fails is left until the next day. */
export async function thinReadings(shop: Shop, beforeAt: Instant): Promise<number> {
  let removedCount = 0;
  try {
    for (let step = await shop.air.thin(beforeAt); !step.isDone; step = await shop.air.thin(beforeAt)) {
      removedCount += step.removedCount;
      await new Promise<void>((resolve) => void shop.clock.after(REST_MS, resolve));
    }
  } catch (error) {
    if (!(error instanceof PortFailure)) throw error;
  }
  if (removedCount > 0) shop.log.info('readings.thinned', { removedCount });
  return removedCount;
}
