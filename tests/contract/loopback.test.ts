// Who is answered while there is no sign-in: pages of this machine and what is no page, and no page of another site.
import { describe, expect, it } from 'vitest';
import { isFromHere } from '../../server/contract/index.ts';

const HOST = '127.0.0.1:4180';

function asked(site: string, [mode, dest]: [mode?: string, dest?: string] = []) {
  return {
    host: HOST,
    'sec-fetch-site': site,
    ...(mode === undefined ? {} : { 'sec-fetch-mode': mode }),
    ...(dest === undefined ? {} : { 'sec-fetch-dest': dest }),
  };
}

describe('without sign-in', () => {
  it.each<[string, Record<string, string>, boolean]>([
    ['a program that is no browser', { host: HOST }, true],
    ['this machine by name', { host: 'localhost:4180', origin: 'http://localhost:4180' }, true],
    ['this machine by IPv6', { host: '[::1]:4180' }, true],
    ['another name', { host: 'shop.example:4180' }, false],
    ['a foreign page by its origin', { host: HOST, origin: 'http://elsewhere.example' }, false],
    ['an address that was typed', asked('none', ['navigate', 'document']), true],
    ['a page of its own', asked('same-origin', ['cors', 'empty']), true],
    ['its live feed', asked('same-origin', ['websocket', 'empty']), true],
    ['a link that was followed from elsewhere', asked('cross-site', ['navigate', 'document']), true],
    ['such a link, of a browser that says less', asked('cross-site', ['navigate']), true],
    ['a picture in a foreign page', asked('cross-site', ['no-cors', 'image']), false],
    ['a frame in a foreign page', asked('cross-site', ['navigate', 'iframe']), false],
    ['an object in a foreign page', asked('cross-site', ['navigate', 'object']), false],
    ['a script of a foreign page', asked('cross-site', ['cors', 'empty']), false],
    ['a foreign page that says no more', asked('cross-site'), false],
    ['a socket of a foreign page', asked('cross-site', ['websocket', 'empty']), false],
    ['a page of another port', asked('same-site', ['no-cors', 'empty']), false],
    ['a link from another port', asked('same-site', ['navigate', 'document']), true],
  ])('%s is judged as it should be', (_what, headers, isHere) => {
    expect(isFromHere(headers)).toBe(isHere);
  });
});
