// A certificate that signs itself, for TLS receivers of tests: X.509 version 3 in DER, for localhost and 127.0.0.1, a day long.
import { generateKeyPairSync, type KeyObject, randomBytes, sign } from 'node:crypto';

export interface Certificate {
  readonly cert: string;
  readonly key: string;
}

/** Makes one with a pair of its own. */
export function makeCertificate(commonName = 'localhost'): Certificate {
  const { publicKey, privateKey } = generateKeyPairSync('ec', { namedCurve: 'P-256' });
  const signed = signedPart(commonName, publicKey);
  const signature = sign('sha256', signed, privateKey);
  const der = sequence(signed, SIGNED_WITH, tagged(0x03, Buffer.concat([Buffer.alloc(1), signature])));
  return {
    cert: `-----BEGIN CERTIFICATE-----\n${(der.toString('base64').match(/.{1,64}/g) ?? []).join('\n')}\n-----END CERTIFICATE-----\n`,
    key: privateKey.export({ type: 'pkcs8', format: 'pem' }).toString(),
  };
}

/** RFC 5280, section 4.1.2. */
function signedPart(commonName: string, publicKey: KeyObject): Buffer {
  const nowMs = Date.now();
  const name = sequence(tagged(0x31, sequence(oid('550403'), tagged(0x0c, Buffer.from(commonName)))));
  const names = sequence(tagged(0x82, Buffer.from('localhost')), tagged(0x87, Buffer.from([127, 0, 0, 1])));
  const extensions = sequence(
    sequence(oid('551d11'), tagged(0x04, names)),
    sequence(
      oid('551d13'),
      tagged(0x01, Buffer.from([0xff])),
      tagged(0x04, sequence(tagged(0x01, Buffer.from([0xff])))),
    ),
  );
  return sequence(
    tagged(0xa0, tagged(0x02, Buffer.from([2]))),
    tagged(0x02, Buffer.concat([Buffer.from([1]), randomBytes(8)])),
    SIGNED_WITH,
    name,
    sequence(utcTime(nowMs - DAY_MS / 2), utcTime(nowMs + DAY_MS / 2)),
    name,
    publicKey.export({ type: 'spki', format: 'der' }),
    tagged(0xa3, extensions),
  );
}

function utcTime(epochMs: number): Buffer {
  const text = new Date(epochMs).toISOString().replaceAll(/[-:T]/g, '').slice(2, 14);
  return tagged(0x17, Buffer.from(`${text}Z`));
}

function sequence(...parts: readonly Buffer[]): Buffer {
  return tagged(0x30, Buffer.concat(parts));
}

function oid(hex: string): Buffer {
  return tagged(0x06, Buffer.from(hex, 'hex'));
}

function tagged(tag: number, content: Buffer): Buffer {
  const { length } = content;
  const size =
    length < 0x80 ? [length] : length < 0x100 ? [0x81, length] : [0x82, length >> 8, length & 0xff];
  return Buffer.concat([Buffer.from([tag, ...size]), content]);
}

const DAY_MS = 24 * 60 * 60_000;
/** ecdsa-with-SHA256: RFC 5758, section 3.2. */
const SIGNED_WITH = sequence(oid('2a8648ce3d040302'));
