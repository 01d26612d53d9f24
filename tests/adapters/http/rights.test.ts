// The table of rights against the application's own routes: none is missing, none is left over, none is reached around it.
import type { Express } from 'express';
import { beforeAll, describe, expect, it } from 'vitest';
import { makeApp } from '../../../server/adapters/http/makeApp.ts';
import { API_RIGHTS, findNeeded, OTHER_RIGHTS, type Route } from '../../../server/adapters/http/rights.ts';
import type { AccessDoors } from '../../../server/application/ports/accessDoors.ts';
import type { NotifyDoors } from '../../../server/application/ports/notifyDoors.ts';
import { makeDoors } from '../../../server/makeDoors.ts';
import { makePagesFolder } from '../../support/serveShop.ts';
import { openTestShop } from '../../support/testShop.ts';

interface Layer {
  readonly route?: { readonly path: string | string[]; readonly methods: Readonly<Record<string, boolean>> };
  readonly handle: { readonly stack?: readonly Layer[] };
  readonly slash: boolean;
  match(path: string): boolean;
}

/** Pages and their files: they hold nothing of the shop. */
const PAGES = ['/', '/bench', '/floor', '/air', '/records', '/records/:repairOrder', '/setup', '/pair'];

let app: Express;

beforeAll(async () => {
  const { shop } = await openTestShop();
  app = makeApp({
    doors: makeDoors(shop, { version: '0', refused: () => [] }),
    log: shop.log,
    version: '0',
    pagesFolder: makePagesFolder(),
    readMetrics: async () => '',
    notify: {} as NotifyDoors,
    access: {
      access: {} as AccessDoors,
      origins: { isOurs: () => true, addressFor: (host) => host },
      tls: { http: false, mqtt: false },
      drawCode: () => [],
    },
  });
});

/** Every route of a stack with the mount before it. */
function routesIn(stack: readonly Layer[], mount: string): string[] {
  return stack.flatMap((layer) => {
    if (layer.route !== undefined) {
      const methods = Object.keys(layer.route.methods).map((method) => method.toUpperCase());
      return [layer.route.path]
        .flat()
        .flatMap((path) => methods.map((method) => `${method} ${mount}${path}`));
    }
    if (layer.handle.stack === undefined) return [];
    const isApi = !layer.slash && layer.match('/api/v1/x');
    return routesIn(layer.handle.stack, isApi ? `${mount}/api/v1` : mount);
  });
}

function named(table: readonly Route[], mount: string): string[] {
  return table.map(({ method, path }) => `${method} ${mount}${path}`);
}

describe('the table of rights', () => {
  it('names every route of the application, and no other', () => {
    const routes = routesIn((app.router as unknown as { stack: Layer[] }).stack, '');
    const pages = PAGES.map((path) => `GET ${path}`);
    const known = [...named(API_RIGHTS, '/api/v1'), ...named(OTHER_RIGHTS, ''), ...pages];
    expect(routes.length).toBeGreaterThan(40);
    expect(routes.filter((route) => !known.includes(route))).toEqual([]);
    expect(known.filter((route) => !routes.includes(route))).toEqual([]);
  });

  it('leaves open only what comes before pairing, and never a write of the shop', () => {
    const open = API_RIGHTS.filter(({ needs }) => needs === 'open').map(
      ({ method, path }) => `${method} ${path}`,
    );
    expect(open).toEqual(['GET /access', 'POST /access/pair', 'POST /access/sign-in']);
    const writes = API_RIGHTS.filter(({ method, needs }) => method !== 'GET' && needs === 'view');
    // Where a device itself is to be told of alerts.
    expect(writes.map(({ path }) => path)).toEqual(['/subscriptions', '/subscriptions/end']);
  });

  it.each([
    ['GET', '/settings', 'manage'],
    ['HEAD', '/settings', 'manage'],
    ['GET', '/batches/b1', 'view'],
    ['GET', '/batches/', null],
    ['GET', '/batches/b1/', null],
    ['GET', '//settings', null],
    ['GET', '/Settings', null],
    ['DELETE', '/settings', null],
    ['OPTIONS', '/settings', null],
    ['POST', '/settings', null],
  ])('gives %s %s: %s', (method, path, needs) => {
    expect(findNeeded(API_RIGHTS, { method, path })).toBe(needs);
  });
});
