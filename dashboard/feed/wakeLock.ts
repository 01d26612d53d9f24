// Keeps the screen on while something counts, where the browser allows it, and notes where it does not.
import { effect } from '@preact/signals';
import { $isCounting } from '../state/computed.ts';
import { $awake } from '../state/sources.ts';

let lock: WakeLockSentinel | null = null;

/** Holds the screen awake for as long as something counts and the page is in front. */
export function startWakeLock(): void {
  if (!('wakeLock' in navigator)) {
    $awake.value = isSecureContext ? 'refused' : 'insecure';
    return;
  }
  document.addEventListener('visibilitychange', () => void hold());
  effect(() => {
    if ($isCounting.value) void hold();
    else void release();
  });
}

async function hold(): Promise<void> {
  const isHeld = lock !== null && !lock.released;
  if (isHeld || document.visibilityState !== 'visible' || !$isCounting.peek()) return;
  try {
    lock = await navigator.wakeLock.request('screen');
    $awake.value = 'held';
  } catch {
    // The device saves its battery; the sound still rings.
    lock = null;
    $awake.value = 'refused';
  }
}

async function release(): Promise<void> {
  await lock?.release();
  lock = null;
}
