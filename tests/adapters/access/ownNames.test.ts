// Which requests are meant for this shop: its own numbers and names, and none that could be bent to it.
import { hostname } from 'node:os';
import { describe, expect, it } from 'vitest';
import { makeOrigins } from '../../../server/adapters/access/ownNames.ts';

const derived = makeOrigins({ tls: false, listed: undefined, host: '0.0.0.0' });
const listed = makeOrigins({ tls: false, listed: ['https://shop.example'], host: '127.0.0.1' });

describe('without a list', () => {
  it.each<[string, Record<string, string>, boolean]>([
    ['a number', { host: '192.168.1.20:4180' }, true],
    ['a number of IPv6', { host: '[fe80::1]:4180' }, true],
    ['loopback by name', { host: 'localhost:4180' }, true],
    ['its own name', { host: `${hostname()}:4180` }, true],
    ['a page of its own', { host: '192.168.1.20:4180', origin: 'http://192.168.1.20:4180' }, true],
    ['a name of the web', { host: 'shop.example:4180' }, false],
    ['a number with a name behind it', { host: '192.168.1.20.elsewhere.example' }, false],
    ['no host', {}, false],
    ['what is no host', { host: 'a b' }, false],
    ['a page of another port', { host: '192.168.1.20:4180', origin: 'http://192.168.1.20:80' }, false],
    ['a page of another scheme', { host: '192.168.1.20:4180', origin: 'https://192.168.1.20:4180' }, false],
    ['a page of nowhere', { host: '192.168.1.20:4180', origin: 'null' }, false],
    [
      'a foreign page that hides its origin',
      { host: '192.168.1.20:4180', 'sec-fetch-site': 'cross-site' },
      false,
    ],
    ['a page of a sister', { host: '192.168.1.20:4180', 'sec-fetch-site': 'same-site' }, false],
    [
      'a link that was followed from another site',
      { host: '192.168.1.20:4180', 'sec-fetch-site': 'cross-site', 'sec-fetch-mode': 'navigate' },
      true,
    ],
    [
      'a frame in a page of another site',
      {
        host: '192.168.1.20:4180',
        'sec-fetch-site': 'cross-site',
        'sec-fetch-mode': 'navigate',
        'sec-fetch-dest': 'iframe',
      },
      false,
    ],
    [
      'a form of another site',
      {
        host: '192.168.1.20:4180',
        origin: 'http://elsewhere.example',
        'sec-fetch-site': 'cross-site',
        'sec-fetch-mode': 'navigate',
      },
      false,
    ],
    ['a page of its own that says so', { host: '192.168.1.20:4180', 'sec-fetch-site': 'same-origin' }, true],
  ])('%s is judged as it should be', (_what, headers, isOurs) => {
    expect(derived.isOurs(headers)).toBe(isOurs);
  });

  it('tells phones an address that they can open, and keeps one that was opened', () => {
    expect(derived.addressFor('192.168.1.20:4180')).toBe('http://192.168.1.20:4180');
    expect(derived.addressFor('localhost:4180')).toMatch(/^http:\/\/(\d+\.\d+\.\d+\.\d+|localhost):4180$/);
    const loopback = makeOrigins({ tls: true, listed: undefined, host: '127.0.0.1' });
    expect(loopback.addressFor('127.0.0.1:4180')).toBe('https://127.0.0.1:4180');
  });
});

describe('with a list', () => {
  it.each<[string, Record<string, string>, boolean]>([
    ['the listed name behind another server', { host: 'shop.example', origin: 'https://shop.example' }, true],
    ['this machine by itself', { host: '127.0.0.1:4180', origin: 'http://127.0.0.1:4180' }, true],
    ['a number that is not listed', { host: '192.168.1.20:4180' }, false],
    ['a page that is not listed', { host: 'shop.example', origin: 'https://elsewhere.example' }, false],
  ])('%s is judged as it should be', (_what, headers, isOurs) => {
    expect(listed.isOurs(headers)).toBe(isOurs);
  });

  it('sends phones to the first of it', () => {
    expect(listed.addressFor('127.0.0.1:4180')).toBe('https://shop.example');
  });
});
