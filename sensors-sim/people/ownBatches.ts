// Tells own batches from those of visitors: the milliseconds of the mixing time carry a mark that only this program sets,
// so that a simulator that starts again finds its open batches and never touches anyone else's.
import { type BatchWire, type Instant, instantFromIso } from '../../server/contract/index.ts';
import { STEP_S } from '../air/stepShop.ts';
import { indexOfName } from '../random.ts';

/** The key of a car's n-th mix. */
export function batchKeyOf({ repairOrder, mixCount }: { repairOrder: string; mixCount: number }): string {
  return `${repairOrder}/${mixCount}`;
}

/** A mixing time that carries the mark of a batch. */
export function markedMixAt(at: Instant, { key, panel }: { key: string; panel: string }): Instant {
  return (Math.floor(at / 1000) * 1000 + markMs(key, panel)) as Instant;
}

/** The key of a batch that the server shows, or null when someone else started it. */
export function keyOfOwn(batch: BatchWire): string | null {
  const mixedAt = instantFromIso(batch.mixedAt);
  if (batch.repairOrder === null || mixedAt === null) return null;
  if (Math.floor(mixedAt / 1000) % STEP_S !== 0) return null;
  for (let mixCount = 0; mixCount < MIX_COUNT_MAX; mixCount += 1) {
    const key = batchKeyOf({ repairOrder: batch.repairOrder, mixCount });
    if (mixedAt % 1000 === markMs(key, batch.panel)) return key;
  }
  return null;
}

/** A car is not mixed for more often in a day. */
export const MIX_COUNT_MAX = 8;

function markMs(key: string, panel: string): number {
  return 1 + indexOfName(`${key} ${panel}`, 999);
}
