// Keeps what the shop said last in the device's storage, and brings it back where the page opens without a connection.
import { batch } from '@preact/signals';
import { type LastSeen, parseLastSeen, shopAtFrom } from '../state/lastSeen.ts';
import { $live } from '../state/sources.ts';
import { anchorClock, readShopNow } from './clock.ts';

const STORAGE_KEY = 'sandby.lastSeen';
const KEEP_EVERY_MS = 15_000;
/** The name of this very file changes with each build. */
const BUILD = import.meta.url;

let written: LastSeen['live'] | null = null;

/** Writes it down now and then, and whenever the page is left. */
export function startLastSeen(): void {
  setInterval(keep, KEEP_EVERY_MS);
  addEventListener('pagehide', keep);
  document.addEventListener('visibilitychange', keep);
}

/** Shows what was kept, if nothing newer is known. */
export function bringBackLastSeen(): void {
  if ($live.peek() !== null) return;
  const wallAt = Date.now();
  const seen = parseLastSeen(localStorage.getItem(STORAGE_KEY), { build: BUILD, wallAt });
  if (seen === null) return;
  batch(() => {
    anchorClock({ serverAt: shopAtFrom(seen, wallAt), rate: seen.live.rate });
    written = seen.live;
    $live.value = seen.live;
  });
}

/** What was brought back is not written again as if it were new. */
function keep(): void {
  const live = $live.peek();
  if (live === null || live === written) return;
  const seen: LastSeen = { build: BUILD, keptAt: Date.now(), shopAt: readShopNow(), live };
  try {
    localStorage.setItem(STORAGE_KEY, JSON.stringify(seen));
    written = live;
  } catch {
    // No room: the page then opens without a connection as it always did, and says so.
  }
}
