// The guard before every call: is it meant for us, who asks, may they. Without sign-in only this machine asks, and may everything.
import type { IncomingHttpHeaders, IncomingMessage } from 'node:http';
import type { Request, RequestHandler, Response } from 'express';
import {
  addressSource,
  BODY_BYTES_MAX,
  holdsRight,
  isFromHere,
  namesOtherSite,
  type Right,
  type SensorUserKind,
} from '../../contract/index.ts';
import type {
  AccessDoors,
  KnownUser,
  Limited,
  Origins,
  Standing,
} from '../../application/ports/accessDoors.ts';
import { readTokens } from './cookies.ts';
import { sendProblem } from './problem.ts';
import { findNeeded, type Needed, type Route } from './rights.ts';

declare global {
  // The types of Express are extended by this namespace and in no other way.
  // oxlint-disable-next-line typescript/no-namespace
  namespace Express {
    interface Request {
      /** Who asks. */
      access: Standing;
      /** The sensor's user that asks by name and password. */
      sensorUser?: KnownUser;
    }
  }
}

export interface GuardParts {
  /** Null: no sign-in. */
  readonly access: AccessDoors | null;
  readonly origins: Origins;
  readonly tls: boolean;
}

export interface Guard {
  readonly refuseStrangers: RequestHandler;
  /** Asks the right of a table for every path below a mount. */
  readonly askRight: (table: readonly Route[], below?: 'mount' | 'root') => RequestHandler;
  /** Whether a screen may follow the shop live; null when not. */
  readonly admit: (request: IncomingMessage) => Standing | null;
}

const EVERYBODY: Standing = { deviceId: null, sessionId: null, right: 'manage' };
const NOBODY: Standing = { deviceId: null, sessionId: null, right: null };
const JSON_TYPES = /^application\/(senml\+)?json\s*(;|$)/i;

/** Makes the guard. */
export function makeGuard(parts: GuardParts): Guard {
  const { access, origins, tls } = parts;
  const isOurs = (headers: IncomingHttpHeaders): boolean =>
    access === null ? isFromHere(headers) : origins.isOurs(headers);
  return {
    refuseStrangers(request, response, next) {
      // Nobody, until a right was asked for and found.
      request.access = access === null ? EVERYBODY : NOBODY;
      // Links lead to pages; another site that sends a browser to data, a whole copy for one, only makes the shop work.
      const isLedToData = isData(request.path) && namesOtherSite(request.headers);
      if (isOurs(request.headers) && !isLedToData) next();
      else {
        const detail =
          access === null
            ? 'Open this page by a loopback address.'
            : 'Open this page by the shop computer’s own address.';
        sendProblem(response, 403, { code: 'not-from-here', detail });
      }
    },
    askRight:
      (table, below = 'mount') =>
      (request, response, next) => {
        if (access === null) return next();
        const path = below === 'root' ? `${request.baseUrl}${request.path}`.replace(/\/$/, '') : request.path;
        if (
          mayPass({ access, tls }, { request, response }, findNeeded(table, { method: request.method, path }))
        )
          next();
      },
    admit(request) {
      if (!isOurs(request.headers)) return null;
      if (access === null) return EVERYBODY;
      const standing = access.findStanding(readTokens(request.headers, tls), false);
      return standing.right === null ? null : standing;
    },
  };
}

/** Where a request comes from, for limits. */
export function sourceOf(request: Request): string {
  return addressSource(request.socket.remoteAddress ?? '');
}

function isData(path: string): boolean {
  return path.startsWith('/api/v1/') || path === '/metrics';
}

/** Sends that it was too often. */
export function sendLimited(response: Response, { retryAfterS }: Limited): void {
  response.set('Retry-After', String(retryAfterS));
  sendProblem(response, 429, { code: 'too-often', detail: `Try again in ${retryAfterS} s.` });
}

interface Exchange {
  readonly request: Request;
  readonly response: Response;
}

/** Answers and says no, or lets pass. */
function mayPass(
  { access, tls }: { access: AccessDoors; tls: boolean },
  { request, response }: Exchange,
  needs: Needed | null,
): boolean {
  const isWriting = request.method !== 'GET' && request.method !== 'HEAD';
  const standing = access.findStanding(readTokens(request.headers, tls), isWriting);
  request.access = standing;
  const exchange = { request, response };
  if (needs === 'sensor' && standing.sessionId === null) return mayPassAsUser(access, exchange, needs);
  if (needs === 'reader' && standing.right === null) return mayPassAsUser(access, exchange, needs);
  const isHeld = needs === 'open' || (needs !== null && holdsRight(standing.right, rightOf(needs)));
  if (!isHeld) return refuse(access, exchange, needs);
  if (!isWriting) return true;
  if (!JSON_TYPES.test(request.get('content-type') ?? '')) {
    sendProblem(response, 415, { code: 'content-type', detail: 'Send application/json.' });
    return false;
  }
  return mayWrite(access, exchange, standing.deviceId ?? standing.sessionId ?? sourceOf(request));
}

/** The right that passes without a user's name and password. */
function rightOf(needs: Exclude<Needed, 'open'>): Right {
  switch (needs) {
    case 'sensor':
      return 'manage';
    case 'reader':
      return 'view';
    default:
      return needs;
  }
}

function mayPassAsUser(access: AccessDoors, exchange: Exchange, needs: SensorUserKind): boolean {
  const { request, response } = exchange;
  const credentials = readBasic(request.get('authorization'));
  if (credentials === null) return refuse(access, exchange, needs);
  const known = access.knowUser({ ...credentials, source: sourceOf(request) });
  if (known.kind === 'limited') {
    sendLimited(response, known);
    return false;
  }
  if (known.kind === 'refused' || known.user.kind !== needs) return refuse(access, exchange, needs);
  if (needs === 'reader') return true;
  request.sensorUser = known.user;
  return mayWrite(access, exchange, `user ${known.user.name}`);
}

function mayWrite(access: AccessDoors, { request, response }: Exchange, who: string): boolean {
  // A body without a stated length may be as long as any.
  const limited = access.takeWrite(who, Number(request.get('content-length') ?? BODY_BYTES_MAX));
  if (limited !== null) sendLimited(response, limited);
  return limited === null;
}

function refuse(access: AccessDoors, { request, response }: Exchange, needs: Needed | null): boolean {
  const limited = access.takeStranger(sourceOf(request));
  if (limited !== null) sendLimited(response, limited);
  else if (request.access.right === null) {
    const byName = needs === 'sensor' || needs === 'reader';
    response.set('WWW-Authenticate', byName ? `Basic realm="${needs}s"` : 'Pairing realm="shop"');
    sendProblem(response, 401, { code: 'not-paired', detail: 'This device is not paired with the shop.' });
  } else if (needs === null) {
    sendProblem(response, 404, { code: 'unknown-path', detail: 'There is no such call.' });
  } else {
    sendProblem(response, 403, { code: 'no-right', detail: 'This device has no right for that.' });
  }
  return false;
}

/** Name and password of RFC 7617; null when there are none. */
function readBasic(header: string | undefined): { name: string; password: string } | null {
  const [, encoded] = /^Basic ([A-Za-z0-9+/=]{1,400})$/i.exec(header ?? '') ?? [];
  if (encoded === undefined) return null;
  const [name, ...password] = Buffer.from(encoded, 'base64').toString('utf8').split(':');
  return name === undefined || password.length === 0 ? null : { name, password: password.join(':') };
}
