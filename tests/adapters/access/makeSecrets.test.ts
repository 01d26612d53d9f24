// Secrets: long enough, never twice, hashed as the standards ask, written without letters that look alike.
import { describe, expect, it } from 'vitest';
import { drawCode } from '../../../server/adapters/access/drawCode.ts';
import { makeSecrets } from '../../../server/adapters/access/makeSecrets.ts';
import { plainCode } from '../../../server/contract/index.ts';

const secrets = makeSecrets();

describe('makeSecrets', () => {
  it('hashes a passphrase by argon2id, at or above the least that is asked for, with its own salt', async () => {
    const [first, second] = [
      await secrets.hashPassphrase('a long phrase'),
      await secrets.hashPassphrase('a long phrase'),
    ];
    // RFC 9106, section 4: 64 MiB, three passes. OWASP's least is m=19456, t=2, p=1 (from memory).
    expect(first).toMatch(/^\$argon2id\$v=19\$m=65536,t=3,p=1\$/);
    expect(first).not.toBe(second);
    expect(await secrets.isPassphrase('a long phrase', first)).toBe(true);
    expect(await secrets.isPassphrase('a long phrasf', first)).toBe(false);
  });

  it('takes one phrase for itself, however a keyboard composes its letters', async () => {
    const hash = await secrets.hashPassphrase('contrase\u00f1a larga');
    expect(await secrets.isPassphrase('contrasen\u0303a larga', hash)).toBe(true);
  });

  it('makes tokens of 256 bits and passwords of 144, none twice', () => {
    const tokens = Array.from({ length: 200 }, () => secrets.makeToken());
    expect(new Set(tokens).size).toBe(200);
    expect(tokens.every((token) => Buffer.from(token, 'base64url').length === 32)).toBe(true);
    expect(Buffer.from(secrets.makePassword(), 'base64url')).toHaveLength(18);
  });

  it('makes codes that can be read out and typed in any way', () => {
    for (let count = 0; count < 100; count += 1) {
      const code = secrets.makeCode();
      expect(code).toMatch(/^[2-9A-HJKMNP-TV-Z]{8}$/);
      expect(plainCode(`${code.slice(0, 4)}-${code.slice(4).toLowerCase()} `)).toBe(code);
    }
    for (const typed of ['', 'ABCD-EFG', 'ABCDEFGH2', 'ABCD-EFG0', 'ABCDEFGI'])
      expect(plainCode(typed)).toBeNull();
  });

  it('compares what is of other lengths without a fault', () => {
    expect([secrets.isSame('ab', 'ab'), secrets.isSame('ab', 'ac'), secrets.isSame('ab', 'abc')]).toEqual([
      true,
      false,
      false,
    ]);
    // FIPS 180-4's example for "abc".
    expect(secrets.digest('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
  });
});

describe('drawCode', () => {
  it('draws a square with the three finders of ISO/IEC 18004 at its corners', () => {
    const rows = drawCode('http://192.168.1.20:4180/pair#ABCDEFGH');
    const size = rows.length;
    expect((size - 17) % 4).toBe(0);
    expect(rows.every((row) => row.length === size)).toBe(true);
    const finder = ['#######', '#     #', '# ### #', '# ### #', '# ### #', '#     #', '#######'];
    const at = (x: number, y: number): string[] => rows.slice(y, y + 7).map((row) => row.slice(x, x + 7));
    for (const corner of [at(0, 0), at(size - 7, 0), at(0, size - 7)]) expect(corner).toEqual(finder);
  });
});
