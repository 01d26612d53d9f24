// Idempotency keys. Pages on a plain HTTP address have no crypto.randomUUID, so the key is made from random bytes.

/** A random key of 32 hexadecimal digits. */
export function makeKey(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
