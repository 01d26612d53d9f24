// The ticking clock: the server's time, carried on by this device's steady clock.
import { $nowAt } from '../state/sources.ts';
import { clockAt, tickEveryMs, type ClockAnchor } from '../state/serverClock.ts';

let anchor: ClockAnchor | null = null;
let timer: ReturnType<typeof setInterval> | undefined;

/** Sets the clock by a server's reading that arrived just now. */
export function anchorClock({ serverAt, rate }: Omit<ClockAnchor, 'receivedMs'>): void {
  const isNewRate = anchor?.rate !== rate;
  anchor = { serverAt, receivedMs: performance.now(), rate };
  tick();
  if (!isNewRate) return;
  clearInterval(timer);
  timer = setInterval(tick, tickEveryMs(rate));
}

/** The shop's time at this moment, finer than the last tick. */
export function readShopNow(): number {
  return anchor === null ? $nowAt.peek() : clockAt(anchor, performance.now());
}

function tick(): void {
  $nowAt.value = readShopNow();
}
