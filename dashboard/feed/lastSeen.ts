// Keeps what the shop said last in the device's storage, and brings it back where the page opens without a connection.
import { batch, effect } from '@preact/signals';
import { type LastSeen, parseLastSeen, shopAtFrom } from '../state/lastSeen.ts';
import { $live } from '../state/sources.ts';
import { anchorClock, readShopNow } from './clock.ts';

const STORAGE_KEY = 'sandby.lastSeen';
const KEEP_EVERY_MS = 15_000;
/** The name of this very file changes with each build. */
const BUILD = import.meta.url;

let written: LastSeen['live'] | null = null;

/** Writes it down now and then, and whenever the page is left; what was closed lately is taken over from the last visit. */
export function startLastSeen(): void {
  takeOverClosed();
  setInterval(keep, KEEP_EVERY_MS);
  addEventListener('pagehide', keep);
  document.addEventListener('visibilitychange', keep);
}

/** Shows what was kept, if nothing newer is known. */
export function bringBackLastSeen(): void {
  if ($live.peek() !== null) return;
  const wallAt = Date.now();
  const seen = readSeen(wallAt);
  if (seen === null) return;
  batch(() => {
    anchorClock({ serverAt: shopAtFrom(seen, wallAt), rate: seen.live.rate });
    written = seen.live;
    $live.value = seen.live;
  });
}

/** Takes what was kept from the device: it may not know the shop any more. */
export function forgetLastSeen(): void {
  localStorage.removeItem(STORAGE_KEY);
}

/** A snapshot has only what is open: a page that was loaded anew must not forget what was sanded a moment ago. */
function takeOverClosed(): void {
  const seen = readSeen(Date.now())?.live;
  let isTaken = seen?.closed === undefined;
  effect(() => {
    const live = $live.value;
    if (isTaken || live === null) return;
    isTaken = true;
    if (seen?.closed === undefined || seen.ledgerId !== live.ledgerId) return;
    const knownIds = new Set([...live.batches, ...(live.closed ?? [])].map(({ id }) => id));
    const closed = [...seen.closed.filter(({ id }) => !knownIds.has(id)), ...(live.closed ?? [])];
    $live.value = { ...live, closed };
  });
}

function readSeen(wallAt: number): LastSeen | null {
  return parseLastSeen(localStorage.getItem(STORAGE_KEY), { build: BUILD, wallAt });
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
