// The ways out by HTTP: what Setup shows of them, and what it asks.
import { effect } from '@preact/signals';
import type {
  DeliveryAsk,
  NotificationsWire,
  TrialWire,
  WebhookSecretWire,
} from '../../server/contract/index.ts';
import { $notifications, $secret, setTrial } from '../state/notifications.ts';
import { $setupBasis } from '../state/setup.ts';
import { getJson, postJson } from './http.ts';
import { makeKey } from './makeKey.ts';

const READ_EVERY_MS = 5000;

/** Reads what Setup shows for as long as it is shown, until the returned function is called. */
export function followNotifications(): () => void {
  const stop = effect(() => {
    void $setupBasis.value;
    void readNotifications();
  });
  const timer = setInterval(() => void readNotifications(), READ_EVERY_MS);
  return () => {
    stop();
    clearInterval(timer);
    // It was shown once.
    $secret.value = null;
  };
}

/** Sends something that says nothing, and tells what came of it. */
export async function tryChannel({
  path,
  channelId,
}: {
  readonly path: string;
  readonly channelId: string;
}): Promise<void> {
  setTrial(channelId, 'trying');
  const answer = await postJson(`${path}/trial`, {}, makeKey());
  setTrial(channelId, answer.kind === 'answered' ? (answer.body as TrialWire) : 'unanswered');
}

/** Makes a new secret for a webhook and shows it. */
export async function renewSecret(webhookId: string): Promise<void> {
  const answer = await postJson(`/webhooks/${encodeURIComponent(webhookId)}/secret`, {}, makeKey());
  if (answer.kind === 'answered') $secret.value = answer.body as WebhookSecretWire;
  await readNotifications();
}

/** Calls a phone no more. */
export async function endPhone(subscriptionId: string): Promise<void> {
  await postJson(`/subscriptions/${encodeURIComponent(subscriptionId)}/end`, {}, makeKey());
  await readNotifications();
}

/** Tries anew what was given up, or lets it be. */
export async function settleLost(act: 'again' | 'forget', ask: DeliveryAsk): Promise<void> {
  await postJson(`/deliveries/${act}`, ask, makeKey());
  await readNotifications();
}

async function readNotifications(): Promise<void> {
  const answer = await getJson('/notifications');
  if (answer.kind === 'answered') $notifications.value = answer.body as NotificationsWire;
  else if (typeof $notifications.peek() === 'string') $notifications.value = 'failed';
}
