// Sends messages: to programs as signed JSON, to phones encrypted through their push service.
import { createHash } from 'node:crypto';
import type { RequestOptions } from 'node:https';
import type { AlertWire, PushMessage, WebhookMessage } from '../../contract/index.ts';
import { isoFromInstant } from '../../contract/index.ts';
import type { Notifier, OutMessage, SendOutcome, Target } from '../../application/ports/notifier.ts';
import type { PushKeys } from '../../application/ports/pushStore.ts';
import { encryptPush } from './encryptPush.ts';
import { postOnce } from './postOnce.ts';
import { type AddressRule, isPublicAddress } from './publicAddress.ts';
import { signWebhook } from './signWebhook.ts';
import { vapidHeader } from './vapid.ts';

export interface NotifierOptions {
  readonly keys: PushKeys;
  /** Whom a push service may ask about this shop. */
  readonly contact?: string | undefined;
  /** Where a phone's push service may stand; anywhere public when left out. */
  readonly isPushAllowed?: AddressRule;
  /** Which certificates count; those of the system when left out. */
  readonly tls?: Pick<RequestOptions, 'ca'>;
}

/** Makes the notifier. */
export function makeNotifier(options: NotifierOptions): Notifier {
  const underWay = new Set<AbortController>();
  return {
    async send(target, message) {
      const limit = new AbortController();
      const timer = setTimeout(() => limit.abort(), SEND_MAX_MS);
      underWay.add(limit);
      try {
        const sending = { ...options, signal: limit.signal };
        return target.kind === 'webhook'
          ? await sendWebhook(target, message, sending)
          : await sendPush(target, message, sending);
      } catch {
        // A key that is no point of the curve, an address that cannot be read: nothing that waiting would mend.
        return { kind: 'gone', trouble: { code: 'gone', status: null } };
      } finally {
        clearTimeout(timer);
        underWay.delete(limit);
      }
    },
    close() {
      for (const limit of underWay) limit.abort();
    },
  };
}

interface Sending extends NotifierOptions {
  readonly signal: AbortSignal;
}

async function sendWebhook(
  { url, secret }: Extract<Target, { kind: 'webhook' }>,
  { id, message, alert, at, shopName }: OutMessage,
  { signal, tls }: Sending,
): Promise<SendOutcome> {
  const content: WebhookMessage = {
    type: message === 'trial' ? 'trial' : `alert.${message}`,
    timestamp: isoFromInstant(at),
    data: { shop: { name: shopName }, alert },
  };
  const body = JSON.stringify(content);
  const headers = {
    'content-type': 'application/json',
    ...signWebhook({ id, secret, body, nowMs: Date.now() }),
  };
  // A shop's own programs are what a webhook is for: its manager names any address there is.
  return postOnce({ url, headers, body: Buffer.from(body), isAllowed: () => true, signal, ...withTls(tls) });
}

async function sendPush(
  { endpoint, p256dh, auth, language }: Extract<Target, { kind: 'push' }>,
  { id, message, alert }: OutMessage,
  { keys, contact = CONTACT, isPushAllowed = isPublicAddress, signal, tls }: Sending,
): Promise<SendOutcome> {
  const content: PushMessage = {
    id: alert?.id ?? id,
    message,
    kind: alert?.kind ?? null,
    name: alert === null ? '' : nameOf(alert),
    subjectCount: alert?.subjects.length ?? 0,
    language,
  };
  const headers = {
    'content-type': 'application/octet-stream',
    'content-encoding': 'aes128gcm',
    ttl: String(TTL_S),
    urgency: alert !== null && CALLS.includes(alert.kind) && message === 'raised' ? 'high' : 'normal',
    // A phone that was away gets only the newest message of an alert: RFC 8030, section 5.4.
    topic: createHash('sha256').update(content.id).digest('base64url').slice(0, TOPIC_LENGTH),
    authorization: vapidHeader({ keys, audience: new URL(endpoint).origin, contact, nowMs: Date.now() }),
  };
  const body = encryptPush(JSON.stringify(content), { p256dh, auth });
  const outcome = await postOnce({
    url: endpoint,
    headers,
    body,
    isAllowed: isPushAllowed,
    signal,
    ...withTls(tls),
  });
  // RFC 8030, section 7.3: a subscription that is no more.
  return outcome.kind === 'failed' && outcome.trouble.status === MISSING_STATUS
    ? { kind: 'gone', trouble: { code: 'gone', status: MISSING_STATUS } }
    : outcome;
}

function nameOf({ panel, sensorId }: AlertWire): string {
  return panel ?? sensorId ?? '';
}

function withTls(tls: NotifierOptions['tls']): { tls?: Pick<RequestOptions, 'ca'> } {
  return tls === undefined ? {} : { tls };
}

/** For connecting, sending and the whole answer [ms]. */
const SEND_MAX_MS = 10_000;
/** A reserved name that leads to nobody, where the shop names no contact of its own. */
const CONTACT = 'https://sandby.example/';
/** What a phone that is off longer than this does not have to hear any more [s]. */
const TTL_S = 2 * 60 * 60;
const TOPIC_LENGTH = 32;
const MISSING_STATUS = 404;
const CALLS: readonly AlertWire['kind'][] = ['test', 'spreadBy'];
