// The whole store is looked through soon after the start, by another process: it takes longer than a start may.
import { noteDamage } from './storeTroubles.ts';
import type { Shop } from './shop.ts';

/** What a look through the whole store found; unfinished: it was ended before its end. */
export type StoreLook =
  { readonly kind: 'sound' | 'unfinished' } | { readonly kind: 'damaged'; readonly sentence: string };

/** The start itself comes first [ms of real time]. */
const LOOK_AFTER_MS = 20_000;

/** Has the store looked through once; what is found degrades the shop in words. */
export function lookOverStore(shop: Shop, look: () => Promise<StoreLook>): void {
  const lookNow = async (): Promise<void> => {
    const found = await look();
    if (found.kind === 'damaged') noteDamage(shop, found.sentence);
    else shop.log.info('store.looked', { outcome: found.kind });
  };
  shop.clock.after(LOOK_AFTER_MS, () => void lookNow());
}
