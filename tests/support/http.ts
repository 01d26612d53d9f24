// A small HTTP client for tests: JSON in and out, a key for each writing call.
import { randomUUID } from 'node:crypto';

export interface Reply {
  readonly status: number;
  readonly type: string;
  // Replies of any call are looked into by path; their shape is what the test asserts.
  readonly body: Record<string, unknown>;
}

/** Reads a path of the API. */
export async function getJson(address: string, path: string): Promise<Reply> {
  return replyOf(await fetch(`${address}/api/v1${path}`));
}

/** Posts a body to a path of the API under a key, a new one unless told. */
export async function postJson(
  { address, path }: { address: string; path: string },
  body: unknown,
  headers: Record<string, string> = {},
): Promise<Reply> {
  return askJson({ address, path, method: 'POST' }, body, headers);
}

/** Sends a body to a path of the API under a key, a new one unless told. */
export async function askJson(
  { address, path, method }: { address: string; path: string; method: 'POST' | 'PUT' },
  body: unknown,
  headers: Record<string, string> = {},
): Promise<Reply> {
  const response = await fetch(`${address}/api/v1${path}`, {
    method,
    headers: { 'content-type': 'application/json', 'idempotency-key': randomUUID(), ...headers },
    body: typeof body === 'string' ? body : JSON.stringify(body),
  });
  return replyOf(response);
}

async function replyOf(response: Response): Promise<Reply> {
  const text = await response.text();
  const type = response.headers.get('content-type') ?? '';
  return {
    status: response.status,
    type,
    body: type.includes('json') ? (JSON.parse(text) as Reply['body']) : { text },
  };
}
