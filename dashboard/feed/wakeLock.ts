// Keeps the screen on while something is curing, where the browser allows it.
import { effect } from '@preact/signals';
import { $slips } from '../state/computed.ts';

let lock: WakeLockSentinel | null = null;

/** Holds the screen awake for as long as there is a slip and the page is in front. */
export function startWakeLock(): void {
  if (!('wakeLock' in navigator)) return;
  document.addEventListener('visibilitychange', () => void hold());
  effect(() => {
    if ($slips.value.length > 0) void hold();
    else void release();
  });
}

async function hold(): Promise<void> {
  const isHeld = lock !== null && !lock.released;
  if (isHeld || document.visibilityState !== 'visible' || $slips.peek().length === 0) return;
  try {
    lock = await navigator.wakeLock.request('screen');
  } catch {
    // The device saves its battery; the sound still rings.
    lock = null;
  }
}

async function release(): Promise<void> {
  await lock?.release();
  lock = null;
}
