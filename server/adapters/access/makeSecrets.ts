// Secrets are made by the system's own source of chance, compared in constant time, and hashed by argon2id where people chose them.
import { createHash, randomBytes, randomInt, timingSafeEqual } from 'node:crypto';
import { hash, type Options, verify } from '@node-rs/argon2';
import { PAIRING_CODE } from '../../contract/index.ts';
import type { Secrets } from '../../application/ports/accessStore.ts';

const TOKEN_BYTES = 32;
const PASSWORD_BYTES = 18;

/**
 * Argon2id, the package's own choice where none is named. RFC 9106, section 4, second choice: 64 MiB, three passes; one lane, since a shop's computer has few cores. Well above
 * the least that OWASP's password storage cheat sheet names for argon2id (19 MiB, two passes, one lane; from memory).
 */
const PASSPHRASE_HASH: Options = {
  memoryCost: 65_536,
  timeCost: 3,
  parallelism: 1,
};

/** Makes the secrets of a running shop. */
export function makeSecrets(): Secrets {
  return {
    makeToken: () => randomBytes(TOKEN_BYTES).toString('base64url'),
    makeCode: () =>
      Array.from(
        { length: PAIRING_CODE.length },
        () => PAIRING_CODE.alphabet[randomInt(PAIRING_CODE.alphabet.length)],
      ).join(''),
    makePassword: () => randomBytes(PASSWORD_BYTES).toString('base64url'),
    digest: (text) => createHash('sha256').update(text).digest('hex'),
    isSame(left, right) {
      const [a, b] = [Buffer.from(left), Buffer.from(right)];
      return a.length === b.length && timingSafeEqual(a, b);
    },
    hashPassphrase: (passphrase) => hash(passphrase.normalize('NFC'), PASSPHRASE_HASH),
    isPassphrase: (passphrase, kept) => verify(kept, passphrase.normalize('NFC')),
  };
}
