// Webhooks in the open form "Standard Webhooks" (standardwebhooks.com, 1.0): which headers, what is signed, how a secret looks.
import { createHmac, randomBytes } from 'node:crypto';

export interface SignAsk {
  /** The same at each try: by it a receiver knows a message again. */
  readonly id: string;
  readonly secret: string;
  readonly body: string;
  readonly nowMs: number;
}

const SECRET_PREFIX = 'whsec_';
const SECRET_LENGTH_BYTES = 32;

/** A new secret. */
export function makeWebhookSecret(): string {
  return `${SECRET_PREFIX}${randomBytes(SECRET_LENGTH_BYTES).toString('base64')}`;
}

/** The headers that a receiver checks; the time is that of this try. */
export function signWebhook({ id, secret, body, nowMs }: SignAsk): Record<string, string> {
  const timestamp = String(Math.floor(nowMs / 1000));
  const key = Buffer.from(secret.slice(SECRET_PREFIX.length), 'base64');
  const signature = createHmac('sha256', key).update(`${id}.${timestamp}.${body}`).digest('base64');
  return { 'webhook-id': id, 'webhook-timestamp': timestamp, 'webhook-signature': `v1,${signature}` };
}
