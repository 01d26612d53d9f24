// The alarm of this device: sound, vibration and, where the browser allows it, a notification.
import { effect } from '@preact/signals';
import type { AlertKind, AlertWire } from '../../server/contract/index.ts';
import { alertText } from '../format/alertText.ts';
import { $alerts } from '../state/computed.ts';
import { $device } from '../state/device.ts';
import { $alarm, $live, $words } from '../state/sources.ts';
import { playPattern, unlockSound } from './sound.ts';

const seenIds = new Set<string>();
let isSeeded = false;

/** Rings on every alert that was not there before; those found on arrival are shown silently. */
export function startAlarm(): void {
  readAbilities();
  const unlock = (): void => void unlockAlarm();
  addEventListener('pointerdown', unlock, { once: true });
  addEventListener('keydown', unlock, { once: true });
  effect(() => {
    if ($live.value === null) return;
    const fresh = $alerts.value.filter(({ id }) => !seenIds.has(id));
    for (const { id } of fresh) seenIds.add(id);
    if (isSeeded) for (const alert of fresh) ring(alert);
    isSeeded = true;
  });
}

/** Lets the page make sound; browsers allow it only from a person's tap. */
export async function unlockAlarm(): Promise<void> {
  const isSoundReady = await unlockSound();
  $alarm.value = { ...$alarm.peek(), isSoundReady };
}

/** Plays the alarm once, so that people know it. */
export async function tryAlarm(): Promise<void> {
  await unlockAlarm();
  makeNoise('test');
}

/** Asks the browser for notifications. */
export async function askForNotifications(): Promise<void> {
  await Notification.requestPermission();
  readAbilities();
}

function readAbilities(): void {
  $alarm.value = { ...$alarm.peek(), notifications: notificationsNow() };
}

function notificationsNow(): 'on' | 'ask' | 'denied' | 'insecure' {
  if (!isSecureContext || !('Notification' in globalThis)) return 'insecure';
  if (Notification.permission === 'granted') return 'on';
  return Notification.permission === 'denied' ? 'denied' : 'ask';
}

function ring(alert: AlertWire): void {
  makeNoise(alert.kind);
  if ($alarm.peek().notifications !== 'on') return;
  try {
    const notification = new Notification(alertText(alert, $words.peek()), { tag: alert.id });
    notification.addEventListener('click', () => focus());
  } catch {
    // Some phones allow notifications only from a service worker; sound and vibration have rung already.
  }
}

function makeNoise(kind: AlertKind): void {
  if ($device.peek().isMuted) return;
  playPattern(kind);
  if ('vibrate' in navigator) navigator.vibrate(kind === 'test' ? [300, 150, 300, 150, 300] : [120, 80, 120]);
}
