// One POST with a bound on everything: time, answer, address. No redirect is followed: it would lead where nobody agreed to.
import { lookup, type LookupAddress } from 'node:dns';
import { request as requestPlain } from 'node:http';
import { request as requestTls, type RequestOptions } from 'node:https';
import { isIP, type LookupFunction } from 'node:net';
import type { DeliveryTrouble } from '../../contract/index.ts';
import type { SendOutcome } from '../../application/ports/notifier.ts';
import type { AddressRule } from './publicAddress.ts';

export interface Post {
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: Buffer;
  /** Every address that the name leads to is asked about. */
  readonly isAllowed: AddressRule;
  /** Ends it, whatever it waits for. */
  readonly signal: AbortSignal;
  /** Of a test: which certificates count. */
  readonly tls?: Pick<RequestOptions, 'ca'>;
}

/** Posts and waits for the answer's status; never throws. */
export function postOnce({ url, headers, body, isAllowed, signal, tls = {} }: Post): Promise<SendOutcome> {
  return new Promise((resolve) => {
    const fail = (trouble: DeliveryTrouble, waitMs: number | null = null): void =>
      resolve({ kind: 'failed', trouble, waitMs });
    const target = new URL(url);
    const literal = target.hostname.replace(/^\[|\]$/g, '');
    if (isIP(literal) !== 0 && !isAllowed(literal)) return fail(troubleOf('forbiddenAddress'));
    const request = target.protocol === 'https:' ? requestTls : requestPlain;
    const asked = request(
      target,
      {
        method: 'POST',
        headers: { ...headers, 'content-length': String(body.length), 'user-agent': 'sandby' },
        signal,
        // Each message has a connection of its own: few are sent, and nothing is kept open.
        agent: false,
        lookup: lookupAllowed(isAllowed),
        ...tls,
      },
      (response) => {
        const status = response.statusCode ?? 0;
        const waitMs = waitOf(response.headers['retry-after']);
        let sizeBytes = 0;
        // The answer's text is of no use; a long one is not waited for.
        response.on('data', (chunk: Buffer) => {
          sizeBytes += chunk.length;
          if (sizeBytes > ANSWER_MAX_BYTES) response.destroy();
        });
        response.on('error', () => undefined);
        response.once('close', () => resolve(outcomeOf(status, waitMs)));
      },
    );
    // One that was destroyed half way may fail more than once; the first word counts.
    asked.on('error', (error) => fail(troubleFrom(error, signal)));
    asked.end(body);
  });
}

/** A lookup that lets only allowed addresses through, so that a name cannot be bent after it was looked at. */
function lookupAllowed(isAllowed: AddressRule): LookupFunction {
  return (hostname, options, callback) => {
    lookup(hostname, { ...options, all: true }, (error, addresses: LookupAddress[]) => {
      if (error !== null) return callback(error, '', 0);
      const allowed = addresses.filter(({ address }) => isAllowed(address));
      const [first] = allowed;
      if (first === undefined) return callback(new ForbiddenAddress(), '', 0);
      // Node asks for one address or for all of them.
      if (options.all === true) return callback(null, allowed);
      callback(null, first.address, first.family);
    });
  };
}

class ForbiddenAddress extends Error {
  readonly code = 'FORBIDDEN_ADDRESS';
}

function outcomeOf(status: number, waitMs: number | null): SendOutcome {
  if (status >= 200 && status < 300) return { kind: 'delivered' };
  if (status >= 300 && status < 400)
    return { kind: 'failed', trouble: troubleOf('redirect', status), waitMs: null };
  if (status === GONE_STATUS) return { kind: 'gone', trouble: troubleOf('gone', status) };
  return { kind: 'failed', trouble: troubleOf('status', status), waitMs };
}

function troubleFrom(error: Error, limit: AbortSignal): DeliveryTrouble {
  if (limit.aborted) return troubleOf('timeout');
  const code = 'code' in error && typeof error.code === 'string' ? error.code : '';
  if (code === 'FORBIDDEN_ADDRESS') return troubleOf('forbiddenAddress');
  if (code === 'ENOTFOUND' || code === 'EAI_AGAIN') return troubleOf('unknownHost');
  const isTls = /^(ERR_TLS|ERR_SSL|CERT_|DEPTH_ZERO|SELF_SIGNED|UNABLE_TO_|EPROTO)/.test(code);
  return troubleOf(isTls ? 'tls' : 'unreachable');
}

function troubleOf(code: DeliveryTrouble['code'], status: number | null = null): DeliveryTrouble {
  return { code, status };
}

/** Retry-After in seconds or as a date (RFC 9110, section 10.2.3); null where it says nothing that can be read. */
function waitOf(header: string | undefined): number | null {
  if (header === undefined) return null;
  if (/^\d{1,9}$/.test(header)) return Number(header) * 1000;
  const untilMs = Date.parse(header);
  return Number.isFinite(untilMs) ? Math.max(0, untilMs - Date.now()) : null;
}

const ANSWER_MAX_BYTES = 16_384;
const GONE_STATUS = 410;
