// HTTP as the page uses it: an answer is a value, whatever happened on the way.
import type { ProblemWire } from '../../server/contract/index.ts';
import { $accessDoubts } from '../state/access.ts';

/** No answer within this time counts as none [ms]. */
const TIMEOUT_MS = 8000;
const PREFIX = '/api/v1';
const TOO_MANY_STATUS = 429;
const FIRST_SERVER_STATUS = 500;
const UNKNOWN_STATUS = 401;
const FORBIDDEN_STATUS = 403;

export type Answer =
  | { readonly kind: 'answered'; readonly body: unknown }
  | { readonly kind: 'refused'; readonly status: number; readonly problem: Partial<ProblemWire> }
  | { readonly kind: 'unanswered'; readonly why: 'network' | 'server' };

/** Reads from the server. */
export async function getJson(path: string): Promise<Answer> {
  return ask(path, { headers: { accept: 'application/json' } });
}

/** Sends a body to the server; a key makes it safe to send again. */
export async function postJson(path: string, body: unknown, key?: string): Promise<Answer> {
  return sendJson('POST', { path, body, key });
}

/** Puts a body in its place on the server, under its key. */
export async function putJson(path: string, body: unknown, key: string): Promise<Answer> {
  return sendJson('PUT', { path, body, key });
}

async function sendJson(
  method: 'POST' | 'PUT',
  { path, body, key }: { path: string; body: unknown; key: string | undefined },
): Promise<Answer> {
  return ask(path, {
    method,
    headers: {
      accept: 'application/json',
      'content-type': 'application/json',
      ...(key === undefined ? {} : { 'idempotency-key': key }),
    },
    body: JSON.stringify(body),
  });
}

async function ask(path: string, init: RequestInit): Promise<Answer> {
  try {
    const response = await fetch(`${PREFIX}${path}`, {
      ...init,
      cache: 'no-store',
      signal: AbortSignal.timeout(TIMEOUT_MS),
    });
    const body = await readBody(response);
    if (response.ok) return { kind: 'answered', body };
    const refused = { kind: 'refused', status: response.status, problem: body ?? {} } as const;
    // Another right than this page believes: whoever reads access looks again.
    if (isOfRight(response.status) && path !== '/access') $accessDoubts.value += 1;
    // Who guesses too often is told so; all else that came too often is simply sent again.
    if (response.status === TOO_MANY_STATUS && path.startsWith('/access/')) return refused;
    return response.status >= FIRST_SERVER_STATUS || response.status === TOO_MANY_STATUS
      ? { kind: 'unanswered', why: 'server' }
      : refused;
  } catch {
    return { kind: 'unanswered', why: 'network' };
  }
}

function isOfRight(status: number): boolean {
  return status === UNKNOWN_STATUS || status === FORBIDDEN_STATUS;
}

/** Whether an answer says no for want of a right, which may come back: what was sent is worth keeping. */
export function isForWantOfRight(answer: Answer): boolean {
  if (answer.kind !== 'refused') return false;
  return answer.status === UNKNOWN_STATUS || answer.problem.code === 'no-right';
}

async function readBody(response: Response): Promise<unknown> {
  const text = await response.text();
  if (text === '') return null;
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return null;
  }
}
