// What goes out on the wire, against the examples of the standards: RFC 8291, RFC 8292, Standard Webhooks.
import { createECDH, createPublicKey, verify } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { encryptPush } from '../../../server/adapters/notify/encryptPush.ts';
import { isPublicAddress } from '../../../server/adapters/notify/publicAddress.ts';
import { makeWebhookSecret, signWebhook } from '../../../server/adapters/notify/signWebhook.ts';
import { bringPushKeys, vapidHeader } from '../../../server/adapters/notify/vapid.ts';
import { makeMemoryPushStore } from '../../../server/adapters/ledger/memory/makeMemoryPushStore.ts';
import { decryptPush } from '../../support/decryptPush.ts';

/** RFC 8291, section 5 and appendix A. */
const RFC_8291 = {
  plaintext: 'When I grow up, I want to be a watermelon',
  browserPrivate: 'q1dXpw3UpT5VOmu_cf_v6ih07Aems3njxI-JWgLcM94',
  browserPublic: 'BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4',
  auth: 'BTBZMqHH6r4Tts7J_aSIgg',
  ownPrivate: 'yfWPiYE-n46HLnH0KqZOF1fJJU3MYrct3AELtAQ-oRw',
  salt: 'DGv6ra1nlYgDCS1FRnbzlw',
  body:
    'DGv6ra1nlYgDCS1FRnbzlwAAEABBBP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A_' +
    'yl95bQpu6cVPTpK4Mqgkf1CXztLVBSt2Ks3oZwbuwXPXLWyouBWLVWGNWQexSgSxsj_Qulcy4a-fN',
};

/** RFC 8292, section 2.4. */
const RFC_8292 = {
  token:
    'eyJ0eXAiOiJKV1QiLCJhbGciOiJFUzI1NiJ9.eyJhdWQiOiJodHRwczovL3B1c2guZXhhbXBsZS5uZXQiLCJleHAiOjE0NTM1MjM3NjgsInN1YiI6Im1' +
    'haWx0bzpwdXNoQGV4YW1wbGUuY29tIn0.i3CYb7t4xfxCDquptFOepC9GAu_HLGkMlMuCGSK2rpiUfnK9ojFwDXb1JrErtmysazNjjvW2L9OkSSHzvoD1oA',
  publicKey: 'BA1Hxzyi1RUM1b5wjxsn7nGxAszw2u61m164i3MrAIxHF6YK5h4SDYic-dRuU_RCPCfA5aq9ojSwk5Y2EmClBPs',
};

describe('a message to a phone', () => {
  const browser = { p256dh: RFC_8291.browserPublic, auth: RFC_8291.auth };

  it('is encrypted as RFC 8291 shows it, byte for byte', () => {
    const pair = createECDH('prime256v1');
    pair.setPrivateKey(Buffer.from(RFC_8291.ownPrivate, 'base64url'));
    const salt = Buffer.from(RFC_8291.salt, 'base64url');
    const body = encryptPush(RFC_8291.plaintext, browser, { pair, salt });
    expect(body.toString('base64url')).toBe(RFC_8291.body);
  });

  it('is read by the browser alone, and looks another way each time', () => {
    const [first, second] = [encryptPush('¡Prueba!', browser), encryptPush('¡Prueba!', browser)];
    expect(first.equals(second)).toBe(false);
    const own = { privateKey: RFC_8291.browserPrivate, auth: RFC_8291.auth };
    // The test's own reader reads the standard's example, so what it says of ours counts.
    expect(decryptPush(Buffer.from(RFC_8291.body, 'base64url'), own)).toBe(RFC_8291.plaintext);
    expect(decryptPush(first, own)).toBe('¡Prueba!');
    expect(() => decryptPush(first, { ...own, auth: 'AAAAAAAAAAAAAAAAAAAAAA' })).toThrow(/auth/);
  });
});

describe('the shop’s own name before a push service', () => {
  const read = (token: string, publicKey: string): Record<string, unknown> => {
    const [head, claims, signature] = token.split('.') as [string, string, string];
    const point = Buffer.from(publicKey, 'base64url');
    const key = createPublicKey({
      format: 'jwk',
      key: {
        kty: 'EC',
        crv: 'P-256',
        x: point.subarray(1, 33).toString('base64url'),
        y: point.subarray(33).toString('base64url'),
      },
    });
    const isSigned = verify(
      'sha256',
      Buffer.from(`${head}.${claims}`),
      { key, dsaEncoding: 'ieee-p1363' },
      Buffer.from(signature, 'base64url'),
    );
    expect(isSigned).toBe(true);
    return JSON.parse(Buffer.from(claims, 'base64url').toString()) as Record<string, unknown>;
  };

  it('is a token of the form of RFC 8292, section 2.4, signed by the keys that are kept', async () => {
    expect(read(RFC_8292.token, RFC_8292.publicKey)).toEqual({
      aud: 'https://push.example.net',
      exp: 1453523768,
      sub: 'mailto:push@example.com',
    });
    const store = makeMemoryPushStore();
    const keys = await bringPushKeys(store);
    expect(await bringPushKeys(store)).toEqual(keys);
    const header = vapidHeader({
      keys,
      audience: 'https://push.example.net',
      contact: 'mailto:a@example.org',
      nowMs: 5000,
    });
    const [, token = '', publicKey = ''] = /^vapid t=([\w.-]+), k=([\w-]+)$/.exec(header) ?? [];
    expect(publicKey).toBe(keys.publicKey);
    const { exp, ...claims } = read(token, publicKey);
    expect(claims).toEqual({ aud: 'https://push.example.net', sub: 'mailto:a@example.org' });
    // Section 2: not more than 24 hours ahead.
    expect(exp).toBeGreaterThan(5);
    expect(exp).toBeLessThanOrEqual(5 + 24 * 60 * 60);
  });

  it('is signed with a scalar that begins with a zero as well', () => {
    const pair = createECDH('prime256v1');
    const scalar = Buffer.concat([Buffer.alloc(1), Buffer.alloc(31, 7)]);
    pair.setPrivateKey(scalar);
    const keys = {
      publicKey: pair.getPublicKey('base64url'),
      privateKey: scalar.subarray(1).toString('base64url'),
    };
    const header = vapidHeader({
      keys,
      audience: 'https://a.example',
      contact: 'https://b.example',
      nowMs: 0,
    });
    read(/t=([\w.-]+)/.exec(header)?.[1] ?? '', keys.publicKey);
  });
});

describe('a webhook', () => {
  it('is signed as the reference of Standard Webhooks signs', () => {
    // The test vector that the reference libraries of Standard Webhooks share (standardwebhooks.com).
    const headers = signWebhook({
      id: 'msg_p5jXN8AQM9LWM0D4loKWxJek',
      secret: 'whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw',
      body: '{"test": 2432232314}',
      nowMs: 1_614_265_330_000,
    });
    expect(headers).toEqual({
      'webhook-id': 'msg_p5jXN8AQM9LWM0D4loKWxJek',
      'webhook-timestamp': '1614265330',
      'webhook-signature': 'v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=',
    });
  });

  it('gets a secret of the length that Standard Webhooks asks for, each its own', () => {
    const secrets = [makeWebhookSecret(), makeWebhookSecret()];
    expect(new Set(secrets).size).toBe(2);
    for (const secret of secrets) {
      expect(secret).toMatch(/^whsec_/);
      const lengthBytes = Buffer.from(secret.slice('whsec_'.length), 'base64').length;
      // Its specification: between 24 and 64 bytes.
      expect(lengthBytes).toBeGreaterThanOrEqual(24);
      expect(lengthBytes).toBeLessThanOrEqual(64);
    }
  });
});

describe('an address of the network', () => {
  // The registries of special-purpose addresses: RFC 6890, RFC 4193, RFC 6598, RFC 4291; and
  // what older standards and translators made of it: RFC 3879, RFC 4380, RFC 7526, RFC 7915, RFC 8215.
  it.each([
    '127.0.0.1',
    '10.1.2.3',
    '172.16.0.1',
    '172.31.255.255',
    '192.168.1.1',
    '169.254.169.254',
    '100.64.0.1',
    '0.0.0.0',
    '224.0.0.1',
    '255.255.255.255',
    '::',
    '::1',
    '::ffff:127.0.0.1',
    '::ffff:7f00:1',
    'fe80::1',
    'fd00::1',
    'ff02::1',
    '64:ff9b::a00:1',
    '64:ff9b:1::a00:1',
    '64:ff9b:1:ffff::1',
    '2002:7f00:1::',
    '2001:0:4136:e378:8000:63bf:3fff:fdd2',
    '::ffff:0:7f00:1',
    '::ffff:0:10.0.0.1',
    'fec0::1',
    'feff::1',
    '192.88.99.1',
    'no address',
  ])('%s is nobody’s push service', (address) => {
    expect(isPublicAddress(address)).toBe(false);
  });

  it.each([
    '1.1.1.1',
    '172.32.0.1',
    '192.88.98.1',
    '192.88.100.1',
    '64:ff9b:2::1',
    '2001:1::1',
    '2001:4860:4860::8888',
    '142.250.1.1',
    '2606:4700:4700::1111',
    '2a00:1450::1',
    '::ffff:1.1.1.1',
  ])('%s may be one', (address) => {
    expect(isPublicAddress(address)).toBe(true);
  });
});
