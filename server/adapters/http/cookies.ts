// The two cookies of access: a device's and a manager's. Scripts never see them, other sites never send them.
import type { IncomingHttpHeaders } from 'node:http';
import type { Response } from 'express';
import type { Tokens } from '../../application/ports/accessDoors.ts';

export type CookieKind = keyof Tokens;

const NAMES: Readonly<Record<CookieKind, string>> = { device: 'sandby_device', session: 'sandby_session' };
/** As long as browsers keep any cookie [s]; a device's is written anew whenever its page opens. */
const DEVICE_S = 400 * 24 * 3600;
const TOKEN = /^[\w-]{20,100}$/;

/** The tokens that a request brings; anything that cannot be one counts as none. */
export function readTokens(headers: IncomingHttpHeaders, tls: boolean): Tokens {
  const pairs = (headers.cookie ?? '').split(';').map((pair) => pair.trim());
  const find = (kind: CookieKind): string | null => {
    const found = pairs.filter((pair) => pair.startsWith(`${nameOf(kind, tls)}=`));
    const [first] = found;
    const token = first?.slice(first.indexOf('=') + 1) ?? '';
    // Two of one name: somebody has planted one, and nobody can say which.
    return found.length === 1 && TOKEN.test(token) ? token : null;
  };
  return { device: find('device'), session: find('session') };
}

/** Gives a cookie. A session's goes with the browser, at the latest. */
export function giveCookie(
  response: Response,
  kind: CookieKind,
  { token, tls }: { token: string; tls: boolean },
): void {
  const age = kind === 'device' ? `; Max-Age=${DEVICE_S}` : '';
  append(response, `${nameOf(kind, tls)}=${token}${age}${attributes(tls)}`);
}

/** Takes a cookie back. */
export function takeCookie(response: Response, kind: CookieKind, tls: boolean): void {
  append(response, `${nameOf(kind, tls)}=; Max-Age=0${attributes(tls)}`);
}

/** Over TLS the name itself says that only a secure answer for this host may have set it (RFC 6265bis, 4.1.3). */
function nameOf(kind: CookieKind, tls: boolean): string {
  return tls ? `__Host-${NAMES[kind]}` : NAMES[kind];
}

function attributes(tls: boolean): string {
  return `; Path=/; HttpOnly; SameSite=Strict${tls ? '; Secure' : ''}`;
}

function append(response: Response, cookie: string): void {
  response.append('Set-Cookie', cookie);
}
