// What Setup shows of the ways out, and whether this phone is called while the page is closed.
import { signal } from '@preact/signals';
import type { NotificationsWire, TrialWire, WebhookSecretWire } from '../../server/contract/index.ts';
import type { SetupRead } from './setup.ts';

/** insecure and unsupported: as for notifications; busy: being settled; failed: the push service was out of reach. */
export type PushState = 'insecure' | 'unsupported' | 'denied' | 'off' | 'busy' | 'on' | 'failed';

/** What came of a trial. */
export type TrialState = TrialWire | 'trying' | 'unanswered';

export const $notifications = signal<SetupRead<NotificationsWire>>('loading');
/** By what was tried: "webhook:ID" or "push:ID". */
export const $trials = signal<Readonly<Record<string, TrialState>>>({});
/** A secret that was just made, until somebody says that it was copied. */
export const $secret = signal<WebhookSecretWire | null>(null);
export const $push = signal<PushState>('insecure');

/** Notes what came of a trial. */
export function setTrial(channelId: string, state: TrialState): void {
  $trials.value = { ...$trials.peek(), [channelId]: state };
}
