// Whether this phone is called while the page is closed: asked for on a tap, kept in line with who uses it, ended on a tap.
import { effect } from '@preact/signals';
import { ALERT_PLACES } from '../../server/contract/alertTerms.ts';
import type { Subscribe } from '../../server/contract/index.ts';
import { $device, changeDevice, type PushScreens } from '../state/device.ts';
import { $push, type PushState } from '../state/notifications.ts';
import { $words } from '../state/sources.ts';
import { getJson, postJson } from './http.ts';
import { makeKey } from './makeKey.ts';

/** Typing initials is not over at the first letter [ms]. */
const REST_MS = 1500;

/** Reads what this phone can do, and tells the shop again who uses it whenever that changes. */
export function startPush(): void {
  $push.value = abilityNow();
  if ($push.peek() !== 'off') return;
  let timer: ReturnType<typeof setTimeout> | undefined;
  effect(() => {
    const { isPushWanted } = $device.value;
    // What the shop is told.
    void $words.value;
    clearTimeout(timer);
    if (isPushWanted) timer = setTimeout(() => void bringInLine(), REST_MS);
  });
}

/** Asks the browser and the shop to call this phone; only ever on somebody's tap. */
export async function allowPush(): Promise<void> {
  if ($push.peek() === 'busy') return;
  $push.value = 'busy';
  const permission = await Notification.requestPermission();
  if (permission === 'granted') await bringInLine();
  else $push.value = permission === 'denied' ? 'denied' : 'off';
}

/** Ends it, here and there. */
export async function endPush(): Promise<void> {
  $push.value = 'busy';
  changeDevice({ isPushWanted: false });
  const subscription = await (await workerOf())?.pushManager.getSubscription();
  if (subscription !== null && subscription !== undefined) {
    await postJson('/subscriptions/end', { endpoint: subscription.endpoint }, makeKey());
    await subscription.unsubscribe();
  }
  $push.value = 'off';
}

function abilityNow(): PushState {
  if (!isSecureContext) return 'insecure';
  if (!('Notification' in globalThis) || !('serviceWorker' in navigator) || !('PushManager' in globalThis))
    return 'unsupported';
  return Notification.permission === 'denied' ? 'denied' : 'off';
}

async function bringInLine(): Promise<void> {
  const subscription = Notification.permission === 'granted' ? await subscribe() : null;
  const told =
    subscription === null ? null : await postJson('/subscriptions', bodyOf(subscription), makeKey());
  $push.value = told?.kind === 'answered' ? 'on' : 'failed';
  if (told?.kind === 'answered' && !$device.peek().isPushWanted) changeDevice({ isPushWanted: true });
}

/** The subscription that there is, if it is for this shop's key; else a new one. Null where none can be had. */
async function subscribe(): Promise<PushSubscription | null> {
  const key = await getJson('/push');
  const worker = await workerOf();
  if (key.kind !== 'answered' || worker === undefined) return null;
  const { publicKey } = key.body as { publicKey: string };
  try {
    const held = await worker.pushManager.getSubscription();
    if (held !== null && keyText(held.options.applicationServerKey) === publicKey) return held;
    await held?.unsubscribe();
    return await worker.pushManager.subscribe({ userVisibleOnly: true, applicationServerKey: publicKey });
  } catch {
    return null;
  }
}

function bodyOf(subscription: PushSubscription): Subscribe {
  const { person, pushScreens } = $device.peek();
  return {
    endpoint: subscription.endpoint,
    keys: {
      p256dh: keyText(subscription.getKey('p256dh')),
      auth: keyText(subscription.getKey('auth')),
    },
    language: $words.peek().language,
    person,
    screens: screensOf(pushScreens),
  };
}

function screensOf(chosen: PushScreens): Subscribe['screens'] {
  if (chosen === 'all') return [...ALERT_PLACES];
  return chosen === 'floor' ? ['bench', 'floor'] : ['bench'];
}

/** Bytes in base64url. */
function keyText(bytes: ArrayBuffer | null): string {
  const text = btoa(String.fromCharCode(...new Uint8Array(bytes ?? new ArrayBuffer(0))));
  return text.replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

/** The worker, once it works; a browser that never makes one does not keep people waiting. */
async function workerOf(): Promise<ServiceWorkerRegistration | undefined> {
  const registration = await navigator.serviceWorker.getRegistration();
  return (registration?.active ?? null) === null ? undefined : registration;
}
