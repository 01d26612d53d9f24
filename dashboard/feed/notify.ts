// Notifications of the browser: what it allows, one an alert while the page is hidden, gone when the alert is.
import { $push } from '../state/notifications.ts';
import type { NotifyAbility } from '../state/sources.ts';

export interface NotifyGround {
  /** Whether the page came over TLS or from this very computer. */
  readonly isSecure: boolean;
  /** What was answered when people were asked; null where the browser has no notifications. */
  readonly permission: NotificationPermission | null;
}

export interface Notice {
  readonly id: string;
  readonly text: string;
  readonly language: string;
  /** Stays on a desk's screen until somebody looks. */
  readonly isCall: boolean;
}

const shown = new Map<string, Notification>();

/** What can be had. Over plain HTTP browsers say "denied" or have nothing at all: neither is anybody's choice. */
export function notifyAbility({ isSecure, permission }: NotifyGround): NotifyAbility {
  if (!isSecure) return 'insecure';
  switch (permission) {
    case null:
      return 'unsupported';
    case 'granted':
      return 'on';
    case 'denied':
      return 'denied';
    case 'default':
      return 'ask';
  }
}

/** The same for this browser, now. */
export function notifyAbilityNow(): NotifyAbility {
  const permission = 'Notification' in globalThis ? Notification.permission : null;
  return notifyAbility({ isSecure: isSecureContext, permission });
}

/** Asks whether notifications may be shown; only ever on somebody's tap. */
export async function askToNotify(): Promise<void> {
  if (notifyAbilityNow() === 'ask') await Notification.requestPermission();
}

/** Shows a notification; one alert never has two. */
export async function showNotice({ id, text, language, isCall }: Notice): Promise<void> {
  const options = { tag: id, lang: language, icon: '/icon-192.png', requireInteraction: isCall };
  if ($push.peek() === 'on') {
    // The push message may come as well: under one tag in one place they are one.
    await (await findWorker())?.showNotification(text, options);
    return;
  }
  try {
    const notification = new Notification(text, options);
    notification.addEventListener('click', () => {
      focus();
      notification.close();
    });
    shown.set(id, notification);
  } catch {
    // Phones allow them from the worker alone.
    await (await findWorker())?.showNotification(text, options);
  }
}

/** Closes those that are over, those of an earlier visit too where the worker showed them. */
export async function closeNotices(isOver: (id: string) => boolean): Promise<void> {
  for (const [id, notification] of shown) {
    if (!isOver(id)) continue;
    notification.close();
    shown.delete(id);
  }
  const ofWorker = (await (await findWorker())?.getNotifications()) ?? [];
  for (const notification of ofWorker) if (isOver(notification.tag)) notification.close();
}

async function findWorker(): Promise<ServiceWorkerRegistration | undefined> {
  return 'serviceWorker' in navigator ? navigator.serviceWorker.getRegistration() : undefined;
}
