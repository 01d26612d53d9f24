// How the built pages are served: what may be cached for how long, packed for whoever takes it, and what lies outside.
import { mkdirSync, writeFileSync } from 'node:fs';
import { get, type IncomingHttpHeaders } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { gunzipSync, gzipSync } from 'node:zlib';
import express from 'express';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makePages } from '../../../server/adapters/http/pages.ts';
import { makeTempFolder } from '../../support/runServer.ts';

const SCRIPT = 'export const answer = 42;\n'.repeat(40);

let address: string;
let close: () => void;

beforeAll(async () => {
  const folder = makeTempFolder();
  mkdirSync(join(folder, 'assets'));
  const files = {
    'index.html': '<!doctype html><title>shell</title>',
    'manifest.webmanifest': '{}',
    'serviceWorker.js': '// worker',
    'assets/index-1.js': SCRIPT,
    'assets/index-1.js.gz': gzipSync(SCRIPT),
    'assets/plain-1.js': SCRIPT,
  };
  for (const [name, content] of Object.entries(files)) writeFileSync(join(folder, name), content);
  const server = express()
    .use(makePages(folder))
    .use(((_error, _request, response, _next) => {
      response.status(404).end();
    }) satisfies express.ErrorRequestHandler)
    .listen(0, '127.0.0.1');
  await new Promise((done) => server.once('listening', done));
  address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  close = () => void server.close();
});
afterAll(() => close());

interface Raw {
  readonly status: number | undefined;
  readonly headers: IncomingHttpHeaders;
  readonly body: Buffer;
}

/** Asks without unpacking anything. */
function ask(path: string, acceptEncoding = 'gzip, br'): Promise<Raw> {
  return new Promise((done, fail) => {
    get(`${address}${path}`, { headers: { 'accept-encoding': acceptEncoding } }, (response) => {
      const chunks: Buffer[] = [];
      response.on('data', (chunk: Buffer) => chunks.push(chunk));
      response.on('end', () =>
        done({ status: response.statusCode, headers: response.headers, body: Buffer.concat(chunks) }),
      );
    }).on('error', fail);
  });
}

describe('a file with a hashed name', () => {
  it('comes packed to whoever takes that, of its own kind, and is kept for ever', async () => {
    const { status, headers, body } = await ask('/assets/index-1.js');
    expect([status, headers['content-encoding'], headers['vary']]).toEqual([200, 'gzip', 'Accept-Encoding']);
    expect(headers['content-type']).toMatch(/^text\/javascript/);
    expect(headers['cache-control']).toBe('public, max-age=31536000, immutable');
    expect(gunzipSync(body).toString()).toBe(SCRIPT);
  });

  it('comes as it is to whoever does not, or where there is no packed twin', async () => {
    for (const [path, encoding] of [
      ['/assets/index-1.js', 'identity'],
      ['/assets/index-1.js', 'gzip;q=0'],
      ['/assets/plain-1.js', 'gzip'],
    ] as const) {
      const { headers, body } = await ask(path, encoding);
      expect(headers['content-encoding']).toBeUndefined();
      expect(headers['content-type']).toMatch(/^text\/javascript/);
      expect(body.toString()).toBe(SCRIPT);
    }
  });

  it('is missed plainly when it is of another build', async () => {
    const { status, headers } = await ask('/assets/index-2.js');
    expect([status, headers['content-encoding']]).toEqual([404, undefined]);
  });
});

describe('what keeps its name', () => {
  it.each([
    ['/bench', 'text/html; charset=utf-8'],
    ['/serviceWorker.js', 'text/javascript; charset=utf-8'],
    ['/manifest.webmanifest', 'application/manifest+json; charset=utf-8'],
  ])('%s is asked for again each time', async (path, type) => {
    const { status, headers } = await ask(path);
    expect([status, headers['cache-control'], headers['content-type']?.toLowerCase()]).toEqual([
      200,
      'no-cache',
      type,
    ]);
  });

  it('an unknown path is told by the shell, as unknown', async () => {
    const { status, body } = await ask('/nowhere');
    expect([status, body.toString()]).toEqual([404, '<!doctype html><title>shell</title>']);
  });
});
