// What people do about the ways out: try, make a secret, end a phone, settle what did not get through, let this phone be called.
import type { DeliveryAsk } from '../../server/contract/index.ts';
import { endPhone, followNotifications, renewSecret, settleLost, tryChannel } from '../feed/notifications.ts';
import { allowPush, endPush } from '../feed/push.ts';
import { isLoneTap } from '../feed/tapGuard.ts';
import { $device } from '../state/device.ts';
import { $secret } from '../state/notifications.ts';

/** Keeps the ways out fresh until the returned function is called. */
export function keepNotifications(): () => void {
  return followNotifications();
}

/** Tries a webhook. */
export function tryWebhook(webhookId: string): void {
  if (isLoneTap())
    void tryChannel({
      path: `/webhooks/${encodeURIComponent(webhookId)}`,
      channelId: `webhook:${webhookId}`,
    });
}

/** Tries a phone. */
export function tryPhone(subscriptionId: string): void {
  if (isLoneTap())
    void tryChannel({
      path: `/subscriptions/${encodeURIComponent(subscriptionId)}`,
      channelId: `push:${subscriptionId}`,
    });
}

/** Makes a new secret and shows it. */
export function makeSecret(webhookId: string): void {
  if (isLoneTap()) void renewSecret(webhookId);
}

/** The secret that was shown is shown no more. */
export function hideSecret(): void {
  $secret.value = null;
}

/** Calls a phone no more. */
export function stopCalling(subscriptionId: string): void {
  if (isLoneTap()) void endPhone(subscriptionId);
}

/** Sends again what did not get through. */
export function sendAgain({ alertId, channelId }: DeliveryAsk): void {
  if (isLoneTap()) void settleLost('again', { alertId, channelId, ...byPerson() });
}

/** Lets be what did not get through. */
export function forgetLost({ alertId, channelId }: DeliveryAsk): void {
  if (isLoneTap()) void settleLost('forget', { alertId, channelId, ...byPerson() });
}

/** Lets this phone be called while the page is closed. */
export function callThisPhone(): void {
  if (isLoneTap()) void allowPush();
}

/** Ends that. */
export function stopThisPhone(): void {
  if (isLoneTap()) void endPush();
}

function byPerson(): { by?: string } {
  const { person } = $device.peek();
  return person === null ? {} : { by: person };
}
