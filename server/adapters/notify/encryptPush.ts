// Encrypts a message for one browser, so that the push service in between can read nothing: RFC 8291 over RFC 8188.
import { createCipheriv, createECDH, type ECDH, hkdfSync, randomBytes } from 'node:crypto';

export interface BrowserKeys {
  /** The browser's public point, and its secret; base64url. */
  readonly p256dh: string;
  readonly auth: string;
}

/** What is new for every message; given only by a test that follows the standard's own example. */
export interface Fresh {
  readonly pair: ECDH;
  readonly salt: Buffer;
}

/** The body of a push request, in one record. Throws when the browser's point is none. */
export function encryptPush(text: string, keys: BrowserKeys, fresh: Fresh = makeFresh()): Buffer {
  const { pair, salt } = fresh;
  const browserPoint = Buffer.from(keys.p256dh, 'base64url');
  const ownPoint = pair.getPublicKey();
  // RFC 8291, section 3.4.
  const keyInfo = Buffer.concat([Buffer.from('WebPush: info\0'), browserPoint, ownPoint]);
  const shared = pair.computeSecret(browserPoint);
  const inputKey = derive(shared, {
    salt: Buffer.from(keys.auth, 'base64url'),
    info: keyInfo,
    lengthBytes: 32,
  });
  // RFC 8188, sections 2.2 and 2.3.
  const contentKey = derive(inputKey, {
    salt,
    info: Buffer.from('Content-Encoding: aes128gcm\0'),
    lengthBytes: 16,
  });
  const nonce = derive(inputKey, { salt, info: Buffer.from('Content-Encoding: nonce\0'), lengthBytes: 12 });
  const cipher = createCipheriv('aes-128-gcm', contentKey, nonce);
  const record = Buffer.concat([
    cipher.update(text, 'utf8'),
    cipher.update(LAST_RECORD),
    cipher.final(),
    cipher.getAuthTag(),
  ]);
  const head = Buffer.alloc(5);
  head.writeUInt32BE(RECORD_SIZE_BYTES, 0);
  head.writeUInt8(ownPoint.length, 4);
  return Buffer.concat([salt, head, ownPoint, record]);
}

function derive(
  secret: Buffer,
  { salt, info, lengthBytes }: { salt: Buffer; info: Buffer; lengthBytes: number },
): Buffer {
  return Buffer.from(hkdfSync('sha256', secret, salt, info, lengthBytes));
}

function makeFresh(): Fresh {
  const pair = createECDH('prime256v1');
  pair.generateKeys();
  return { pair, salt: randomBytes(16) };
}

/** Push services take no more than this (RFC 8291, section 4), and no message of ours comes near. */
const RECORD_SIZE_BYTES = 4096;
/** The delimiter of the last record: RFC 8188, section 2. */
const LAST_RECORD = Buffer.from([2]);
