// A copy of the whole shop to be carried away, named by the shop's own day.
import { makeDayReader } from '../domain/localDay.ts';
import type { Backup } from './ports/setupDoors.ts';
import type { Shop } from './shop.ts';

/** Makes a copy of the store, one at a time; a store in memory has none. */
export async function makeBackup(shop: Shop): Promise<Backup> {
  if (shop.copier === undefined) return { kind: 'no-file' };
  const day = makeDayReader(shop.facts.timeZone)(shop.clock.nowAt());
  const copy = await shop.copier.copy();
  if (copy === null) return { kind: 'busy' };
  if ('kind' in copy) {
    shop.log.error('backup.failed', { code: copy.code, detail: copy.detail });
    return copy;
  }
  shop.log.info('backup.made', { sizeBytes: copy.sizeBytes });
  return { kind: 'made', copy, day };
}
