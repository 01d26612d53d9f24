// What every browser test needs: a Chromium, the built server, pages that are closed again, and no error that nobody caught.
import { mkdirSync } from 'node:fs';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect } from 'vitest';
import { launchChromium } from './chromium.ts';
import { makeTempFolder, runServer, type RunningServer } from './runServer.ts';

/** Where pictures go: beside the tests when they are taken anew for the README, else among the reports. */
export const PICTURES =
  process.env['SANDBY_PICTURES'] === '1' ? 'tests/browser/pictures' : 'coverage/pictures';

export const SIZES = {
  phone: { width: 390, height: 844 },
  desk: { width: 1280, height: 900 },
  wall: { width: 1920, height: 1080 },
} as const;
export type Size = keyof typeof SIZES;
export const SIZE_NAMES = Object.keys(SIZES) as Size[];
export const LOOKS = ['light', 'dark'] as const;
export type Look = (typeof LOOKS)[number];

export interface ShopSetup {
  /** The shop's config; the example shop when left out. */
  readonly config?: string;
  /** Fills the data folder before the server opens it. */
  readonly fillFolder?: (dataFolder: string) => Promise<void>;
  /** Fills the running shop before the first test. */
  readonly fillShop?: (address: string) => Promise<void>;
  /** How long all of that may take [ms]. */
  readonly limitMs?: number;
}

export interface PageSetup extends BrowserContextOptions {
  /** Another server's address than the shop's own. */
  readonly address?: string;
  /** What is done to the page before it goes anywhere. */
  readonly prepare?: (page: Page) => Promise<unknown>;
}

export interface BrowserShop {
  readonly browser: Browser;
  readonly server: RunningServer;
  /** Opens a path in a context of its own, which is closed after the test, and waits for its main region. */
  open(path: string, setup?: PageSetup): Promise<Page>;
}

/** Starts browser and server before the tests of a file and ends them after; a test fails by an error its pages did not catch. */
export function useBrowserShop(setup: ShopSetup = {}): BrowserShop {
  let started: { readonly browser: Browser; readonly server: RunningServer } | null = null;
  let uncaught: string[] = [];
  const get = (): { readonly browser: Browser; readonly server: RunningServer } => {
    if (started === null) throw new Error('the shop is open only while a test runs');
    return started;
  };
  beforeAll(async () => {
    started = await openShop(setup);
  }, setup.limitMs ?? 60_000);
  afterEach(async () => {
    await Promise.all(
      get()
        .browser.contexts()
        .map((context) => context.close()),
    );
    const errors = uncaught;
    uncaught = [];
    expect(errors).toEqual([]);
  });
  afterAll(async () => {
    if (started === null) return;
    await started.browser.close();
    expect(await started.server.stop()).toBe(0);
  });
  return {
    get browser() {
      return get().browser;
    },
    get server() {
      return get().server;
    },
    async open(path, { address = get().server.address, prepare, ...options } = {}) {
      const context = await get().browser.newContext({ ...plainContext, ...options });
      const page = await context.newPage();
      page.on('pageerror', (error) => uncaught.push(error.stack ?? error.message));
      await prepare?.(page);
      await page.goto(`${address}${path}`);
      await page.getByRole('main').waitFor();
      return page;
    },
  };
}

async function openShop({
  config = 'config/shop.example.json',
  fillFolder,
  fillShop,
}: ShopSetup): Promise<{ browser: Browser; server: RunningServer }> {
  mkdirSync(PICTURES, { recursive: true });
  const dataFolder = makeTempFolder();
  await fillFolder?.(dataFolder);
  const [browser, server] = await Promise.all([launchChromium(), runServer({ config, dataFolder })]);
  await fillShop?.(server.address);
  return { browser, server };
}

/** Service workers are kept out where they are not the question: a test's own answers must reach the page. */
const plainContext: BrowserContextOptions = {
  viewport: SIZES.desk,
  colorScheme: 'light',
  locale: 'en-GB',
  serviceWorkers: 'block',
};
