// A whole shop in memory behind its HTTP application, for tests of what crosses the wire.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect } from 'vitest';
import { makeApp } from '../../server/adapters/http/makeApp.ts';
import type { NotifyDoors } from '../../server/application/ports/notifyDoors.ts';
import type { Shop } from '../../server/application/shop.ts';
import { makeDoors } from '../../server/makeDoors.ts';
import { askJson, getJson, type Reply } from './http.ts';
import { openTestShop, type TestShop } from './testShop.ts';

export interface ServedShop extends TestShop {
  readonly address: string;
  /** Reads what must be there. */
  read<T>(path: string): Promise<T>;
  put(path: string, body: unknown, headers?: Record<string, string>): Promise<Reply>;
  close(): void;
}

/** Opens the example shop and serves it. */
export async function serveShop(
  replaced: Partial<Shop> = {},
  openNotify?: (shop: Shop) => Promise<NotifyDoors>,
): Promise<ServedShop> {
  const test = await openTestShop(replaced);
  const notify = await openNotify?.(test.shop);
  const doors = makeDoors(test.shop, { version: '0', refused: () => [] });
  const pagesFolder = makePagesFolder();
  const server = createServer(
    makeApp({
      doors,
      log: test.shop.log,
      version: '0',
      pagesFolder,
      ...(notify === undefined ? {} : { notify }),
    }),
  );
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  return {
    ...test,
    address,
    async read<T>(path: string): Promise<T> {
      const { status, body } = await getJson(address, path);
      expect(status).toBe(200);
      return body as T;
    },
    put: (path, body, headers = {}) => askJson({ address, path, method: 'PUT' }, body, headers),
    close() {
      server.close();
      rmSync(pagesFolder, { recursive: true });
    },
  };
}

/** The paths that a 400 names, each with a reason and what is allowed. */
export function pathsOf({ status, body }: Reply): string[] {
  expect(status).toBe(400);
  return (body['errors'] as { path: string; reason: string; allowed: string }[]).map(
    ({ path, reason, allowed }) => {
      expect(reason).not.toBe('');
      expect(allowed).not.toBe('');
      return path;
    },
  );
}

/** Pages as a build leaves them, empty. */
export function makePagesFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'sandby-pages-'));
  mkdirSync(join(folder, 'assets'));
  writeFileSync(join(folder, 'index.html'), '<!doctype html>');
  return folder;
}
