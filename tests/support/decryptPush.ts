// A browser's side of a push message, written from RFC 8291 and RFC 8188 alone, for receivers of tests.
import { createDecipheriv, createECDH, createHmac } from 'node:crypto';

/** The text of a body in one record; throws when it was not meant for these keys. */
export function decryptPush(
  body: Buffer,
  own: { readonly privateKey: string; readonly auth: string },
): string {
  // RFC 8188, section 2.1: salt, record size, length of the key's id, the id, which is the sender's point.
  const salt = body.subarray(0, 16);
  const recordSize = body.readUInt32BE(16);
  const pointLength = body.readUInt8(20);
  const senderPoint = body.subarray(21, 21 + pointLength);
  const record = body.subarray(21 + pointLength);
  if (record.length > recordSize) throw new Error('more than one record');
  const pair = createECDH('prime256v1');
  pair.setPrivateKey(Buffer.from(own.privateKey, 'base64url'));
  // RFC 8291, section 3.4, written with HMAC as the section does.
  const keyPseudo = hmac(Buffer.from(own.auth, 'base64url'), pair.computeSecret(senderPoint));
  const info = Buffer.concat([
    Buffer.from('WebPush: info\0'),
    pair.getPublicKey(),
    senderPoint,
    Buffer.from([1]),
  ]);
  const pseudo = hmac(salt, hmac(keyPseudo, info));
  const contentKey = hmac(pseudo, Buffer.from('Content-Encoding: aes128gcm\0\x01')).subarray(0, 16);
  const nonce = hmac(pseudo, Buffer.from('Content-Encoding: nonce\0\x01')).subarray(0, 12);
  const decipher = createDecipheriv('aes-128-gcm', contentKey, nonce);
  decipher.setAuthTag(record.subarray(-16));
  const padded = Buffer.concat([decipher.update(record.subarray(0, -16)), decipher.final()]);
  const end = padded.lastIndexOf(2);
  if (end === -1 || padded.subarray(end + 1).some((byte) => byte !== 0))
    throw new Error('no end of the last record');
  return padded.subarray(0, end).toString('utf8');
}

function hmac(key: Buffer, data: Buffer): Buffer {
  return createHmac('sha256', key).update(data).digest();
}
