// Who sends: the shop's own pair of keys, and the token that it signs for one push service (RFC 8292).
import { createECDH, createPrivateKey, type KeyObject, sign } from 'node:crypto';
import type { PushKeys, PushStore } from '../../application/ports/pushStore.ts';

export interface VapidAsk {
  readonly keys: PushKeys;
  /** The push service's origin. */
  readonly audience: string;
  /** Whom it may ask: mailto: or https:. */
  readonly contact: string;
  readonly nowMs: number;
}

/** The shop's keys: made once, then kept. */
export async function bringPushKeys(store: PushStore): Promise<PushKeys> {
  const kept = await store.readKeys();
  if (kept !== null) return kept;
  const pair = createECDH('prime256v1');
  pair.generateKeys();
  const keys = { publicKey: pair.getPublicKey('base64url'), privateKey: pair.getPrivateKey('base64url') };
  await store.keepKeys(keys);
  return keys;
}

/** The header by which the shop names itself. */
export function vapidHeader({ keys, audience, contact, nowMs }: VapidAsk): string {
  const head = encode({ typ: 'JWT', alg: 'ES256' });
  const claims = encode({ aud: audience, exp: Math.floor(nowMs / 1000) + VALID_S, sub: contact });
  const signature = sign('sha256', Buffer.from(`${head}.${claims}`), {
    key: privateKeyOf(keys),
    dsaEncoding: 'ieee-p1363',
  });
  return `vapid t=${head}.${claims}.${signature.toString('base64url')}, k=${keys.publicKey}`;
}

function privateKeyOf({ publicKey, privateKey }: PushKeys): KeyObject {
  const point = Buffer.from(publicKey, 'base64url');
  return createPrivateKey({
    format: 'jwk',
    key: {
      kty: 'EC',
      crv: 'P-256',
      x: point.subarray(1, 33).toString('base64url'),
      y: point.subarray(33).toString('base64url'),
      d: wholeScalar(Buffer.from(privateKey, 'base64url')).toString('base64url'),
    },
  });
}

/** A scalar that begins with zeros is given shorter than a key wants it. */
function wholeScalar(scalar: Buffer): Buffer {
  return Buffer.concat([Buffer.alloc(SCALAR_BYTES - scalar.length), scalar]);
}

function encode(value: unknown): string {
  return Buffer.from(JSON.stringify(value)).toString('base64url');
}

const SCALAR_BYTES = 32;
/** A token may be good for 24 hours at most (RFC 8292, section 2). */
const VALID_S = 12 * 60 * 60;
