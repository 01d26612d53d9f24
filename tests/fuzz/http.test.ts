// The HTTP door against malformed input: every answer is a well-formed problem, none is the program's own fault, and nothing
// of it stays in memory. The size at night is 10,000 inputs; what was found once is asked again each time (corpus/http.json).
import { readFileSync } from 'node:fs';
import * as fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parseCsv } from '../support/parseCsv.ts';
import { serveShop, type ServedShop } from '../support/serveShop.ts';
import { sayAir, start } from '../support/testShop.ts';
import { countFor } from '../support/testSize.ts';
import { GROWTH_MAX_BYTES, heapBytes } from './heap.ts';
import { broken, malformedBytes } from './malformed.ts';
import { BODIES, QUERIES, SENML_PACK } from './samples.ts';

const RUNS_COUNT = countFor({ usual: 400, nightly: 10_000 });
const FUZZ_MS = countFor({ usual: 120_000, nightly: 1_800_000 });
const SEED = 20_260_112;
const HEAD_MAX = 8000;

let shop: ServedShop;

beforeAll(async () => {
  shop = await serveShop();
  await sayAir(shop, 20, { relativeHumidityPct: 50 });
  await start(shop, { thicknessMm: 0.5 });
});
afterAll(() => shop.close());

interface Asked {
  readonly method: string;
  readonly path: string;
  readonly type: string | null;
  readonly body: Buffer | string | null;
}

/** Sends it and looks at the answer; says what is wrong about it. */
async function ask({ method, path, type, body }: Asked): Promise<string[]> {
  const response = await fetch(`${shop.address}/api/v1${path}`, {
    method,
    headers: { 'idempotency-key': `k${(keyCount += 1)}`, ...(type === null ? {} : { 'content-type': type }) },
    ...(body === null ? {} : { body: typeof body === 'string' ? body : new Uint8Array(body) }),
  });
  return wrongOf(response.status, {
    type: response.headers.get('content-type') ?? '',
    text: await response.text(),
  });
}

let keyCount = 0;

function wrongOf(status: number, { type, text }: { type: string; text: string }): string[] {
  if (status < 400) return [];
  const wrong = status >= 500 ? [`is answered ${status}`] : [];
  if (!type.startsWith('application/problem+json')) return [...wrong, `${status} comes as ${type}`];
  const problem = JSON.parse(text) as Record<string, unknown>;
  if (problem['status'] !== status || typeof problem['title'] !== 'string')
    wrong.push(`is no problem: ${text}`);
  if (/node_modules|\bat .*\.[jt]s:\d+/.test(text)) wrong.push('shows the inside of the program');
  const errors = problem['errors'] as { path?: unknown; reason?: unknown; allowed?: unknown }[] | undefined;
  const isNamed = errors?.every(
    (one) => typeof one.path === 'string' && isText(one.reason) && isText(one.allowed),
  );
  if (problem['code'] === 'rejected' && isNamed !== true && !isText(problem['detail']))
    wrong.push(`names no path: ${text}`);
  return wrong;
}

function isText(value: unknown): boolean {
  return typeof value === 'string' && value !== '';
}

const anyBody = fc
  .constantFrom(...BODIES)
  .chain(({ method, path, body }) =>
    malformedBytes(body).map((bytes): Asked => ({ method, path, type: 'application/json', body: bytes })),
  );
const anyPack = malformedBytes(SENML_PACK).map((bytes): Asked => ({
  method: 'POST',
  path: '/readings',
  type: 'application/senml+json',
  body: bytes,
}));
const anyQuery = fc.constantFrom(...QUERIES).chain(({ path, query }) =>
  broken(query).map((value): Asked => {
    const pairs = Object.entries(Object(value) as object).map(
      ([key, one]) => `${encode(key)}=${encode(one)}`,
    );
    // A head of more than 16 KiB never comes as far as the program: Node answers it with a bare 431.
    return { method: 'GET', path: `${path}?${pairs.join('&').slice(0, HEAD_MAX)}`, type: null, body: null };
  }),
);
const anyPath = fc
  .tuple(
    fc.constantFrom('/batches/', '/bays/', '/cards/', '/sensors/', '/records/', '/'),
    fc.string({ maxLength: 30 }),
  )
  .map(([path, name]): Asked => ({ method: 'GET', path: `${path}${encode(name)}`, type: null, body: null }));

function encode(value: unknown): string {
  const text = typeof value === 'string' ? value : JSON.stringify(value);
  return encodeURIComponent(Buffer.from(text ?? '').toString());
}

describe('malformed requests', () => {
  const corpus = JSON.parse(readFileSync('tests/fuzz/corpus/http.json', 'utf8')) as (Asked & {
    why: string;
  })[];

  it.each(corpus)('find no fault: $why', async (asked) => {
    expect(await ask(asked)).toEqual([]);
  });

  it(
    'are each answered with a problem that names what is wrong, and leave nothing behind',
    { timeout: FUZZ_MS },
    async () => {
      const asked = fc.oneof(
        { weight: 12, arbitrary: anyBody },
        { weight: 3, arbitrary: anyPack },
        { weight: 3, arbitrary: anyQuery },
        { weight: 1, arbitrary: anyPath },
      );
      const round = (seed: number): Promise<void> =>
        fc.assert(
          fc.asyncProperty(asked, async (one) => {
            expect(await ask(one)).toEqual([]);
          }),
          { seed, numRuns: RUNS_COUNT / 2, endOnFailure: true },
        );
      // The first half warms up what is compiled and cached; the second half must leave nothing.
      await round(SEED);
      const before = await heapBytes();
      await round(SEED + 1);
      expect((await heapBytes()) - before).toBeLessThan(GROWTH_MAX_BYTES);
      expect(shop.logged).not.toContain('http.fault');
      expect((await fetch(`${shop.address}/api/v1/health`)).status).toBe(200);
    },
  );

  it('cannot make a spreadsheet run what people typed', async () => {
    const nasty = ['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '"=1"', ' =1', '1;=1'];
    for (const panel of nasty)
      await start(shop, { panel, repairOrder: panel.trim(), thicknessMm: 0.5 }).catch(() => null);
    const text = await (await fetch(`${shop.address}/api/v1/records.csv`)).text();
    const cells = parseCsv(text.replace(/^\ufeff/, '')).flat();
    expect(cells.filter((cell) => /^[=+@\t\r]|^-(?!\d+(\.\d+)?$)/.test(cell))).toEqual([]);
    expect(cells.length).toBeGreaterThan(100);
  });
});
