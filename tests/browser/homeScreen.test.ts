// Sandby on a home screen, in a real Chromium: it can be added, it opens without a connection and goes on counting,
// a new build is there at the next load, and nothing the shop says is ever answered from what is kept.
import { cpSync, readdirSync, readFileSync, renameSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { expectNoAxeViolation } from '../support/browserChecks.ts';
import { PICTURES, SIZES, useBrowserShop } from '../support/browserShop.ts';
import { ago, sayTwoBays, startPanel } from '../support/fillFloor.ts';
import { freePort } from '../support/freePort.ts';
import { makeTempFolder, runServer, type RunningServer } from '../support/runServer.ts';

const ROOT = resolve(import.meta.dirname, '../..');

const shop = useBrowserShop();

function openWithWorker(path: string, address = shop.server.address): Promise<Page> {
  return shop.open(path, { address, viewport: SIZES.phone, hasTouch: true, serviceWorkers: 'allow' });
}

/** Until the worker rules the page, with everything it keeps. */
async function waitForWorker(page: Page): Promise<void> {
  await page.waitForFunction(() => navigator.serviceWorker.controller?.state === 'activated');
}

function keptPaths(page: Page): Promise<string[][]> {
  return page.evaluate(async () => {
    const names = await caches.keys();
    return Promise.all(
      names.map(async (name) => {
        const requests = await (await caches.open(name)).keys();
        return requests.map(({ url }) => new URL(url).pathname);
      }),
    );
  });
}

/** A second build of the program: every script has a new name, the worker a new identity. */
function makeOtherBuild(): string {
  const folder = makeTempFolder();
  cpSync(join(ROOT, 'dist'), join(folder, 'dist'), { recursive: true });
  cpSync(join(ROOT, 'config'), join(folder, 'config'), { recursive: true });
  cpSync(join(ROOT, 'package.json'), join(folder, 'package.json'));
  symlinkSync(join(ROOT, 'node_modules'), join(folder, 'node_modules'));
  const pages = join(folder, 'dist/dashboard');
  const assets = join(pages, 'assets');
  for (const name of readdirSync(assets)) {
    if (name.endsWith('.gz')) rmSync(join(assets, name));
  }
  const scripts = readdirSync(assets).filter((name) => name.endsWith('.js'));
  const renamed = (text: string): string =>
    scripts.reduce((changed, name) => changed.replaceAll(name, `second-${name}`), text);
  for (const name of readdirSync(assets)) {
    writeFileSync(join(assets, name), renamed(readFileSync(join(assets, name), 'utf8')));
    if (name.endsWith('.js')) renameSync(join(assets, name), join(assets, `second-${name}`));
  }
  for (const name of ['index.html', 'serviceWorker.js']) {
    const text = renamed(readFileSync(join(pages, name), 'utf8'));
    writeFileSync(join(pages, name), text.replace(/"build":"/, '$&second-'));
  }
  return folder;
}

const scriptOf = (page: Page): Promise<string | null> =>
  page.locator('script[type="module"]').getAttribute('src');

describe('the home screen', () => {
  it('can take Sandby: a manifest without faults, icons that are there, everything a browser asks of an installed page', async () => {
    const page = await openWithWorker('/bench');
    await waitForWorker(page);
    const devtools = await page.context().newCDPSession(page);
    const manifest = await devtools.send('Page.getAppManifest');
    expect(manifest.errors).toEqual([]);
    expect(new URL(manifest.url).pathname).toBe('/manifest.webmanifest');
    const told = JSON.parse(manifest.data ?? '{}') as {
      display: string;
      start_url: string;
      icons: { src: string; type: string; purpose: string; sizes: string }[];
    };
    expect([told.display, told.start_url]).toEqual(['standalone', '/']);
    for (const { src, type } of [...told.icons, { src: '/apple-touch-icon.png', type: 'image/png' }]) {
      const response = await fetch(`${shop.server.address}${src}`);
      expect([response.status, response.headers.get('content-type')]).toEqual([200, type]);
    }
    const pictures = told.icons
      .filter(({ type }) => type === 'image/png')
      .map(({ purpose, sizes }) => `${purpose} ${sizes}`);
    expect(pictures.toSorted()).toEqual([
      'any 192x192',
      'any 512x512',
      'maskable 192x192',
      'maskable 512x512',
    ]);
    expect(await page.locator('link[rel="apple-touch-icon"]').count()).toBe(1);
    const { installabilityErrors } = await devtools.send('Page.getInstallabilityErrors');
    // A test's window keeps no history, and Chromium installs nothing from such a one.
    expect(installabilityErrors.map(({ errorId }) => errorId).filter((id) => id !== 'in-incognito')).toEqual(
      [],
    );
  });

  it('keeps the shell of this build and nothing else', async () => {
    const page = await openWithWorker('/bench');
    await waitForWorker(page);
    const built = readdirSync(join(ROOT, 'dist/dashboard/assets')).filter((name) => !name.endsWith('.gz'));
    const expected = [
      ...built.map((name) => `/assets/${name}`),
      '/',
      '/icon-maskable.svg',
      '/icon.svg',
      '/manifest.webmanifest',
    ];
    expect((await keptPaths(page)).map((paths) => paths.toSorted())).toEqual([expected.toSorted()]);
  });
});

describe('without a connection', () => {
  it('opens, says so plainly, goes on counting, and takes up the shop again by itself', async () => {
    const environment = { SANDBY_HTTP_PORT: String(await freePort()) };
    const dataFolder = makeTempFolder();
    const before = await runServer({ environment, dataFolder });
    await sayTwoBays(before.address);
    await startPanel(before.address, { panel: 'Bonnet', mixedAt: ago(1) });
    const page = await openWithWorker('/bench', before.address);
    const timer = page.getByRole('article', { name: 'Bonnet' }).getByRole('timer');
    await timer.waitFor();
    await waitForWorker(page);
    await before.stop();

    await page.reload();
    await page.getByText('No connection').first().waitFor();
    await timer.waitFor();
    const first = await timer.textContent();
    expect(first).toMatch(/spread within.*\d:\d\d/i);
    await expect.poll(() => timer.textContent(), { timeout: 5000 }).not.toBe(first);
    await expectNoAxeViolation(page);
    await page.screenshot({ path: `${PICTURES}/reopened-phone-light.png` });
    // Every other screen is there too, from what is kept.
    await page.goto(`${before.address}/floor`);
    await page.locator('.floor-row').filter({ hasText: 'Bonnet' }).waitFor();

    const after = await runServer({ environment, dataFolder });
    await startPanel(after.address, { panel: 'Roof', mixedAt: ago(0) });
    await page.locator('.floor-row').filter({ hasText: 'Roof' }).waitFor({ timeout: 15_000 });
    await after.stop();
  });

  it('says that the shop cannot be reached where nothing of this build was kept', async () => {
    const environment = { SANDBY_HTTP_PORT: String(await freePort()) };
    const server = await runServer({ environment });
    const page = await openWithWorker('/bench', server.address);
    await page
      .getByText(/mix a batch/i)
      .first()
      .waitFor();
    await waitForWorker(page);
    await server.stop();
    await page.evaluate(() => {
      // The page that leaves must not write its own again.
      Storage.prototype.setItem = () => undefined;
      localStorage.removeItem('sandby.lastSeen');
    });
    await page.reload();
    await page
      .getByText(/cannot be reached/i)
      .first()
      .waitFor();
    expect(await page.getByRole('timer').count()).toBe(0);
    await expectNoAxeViolation(page);
  });
});

describe('a new build', () => {
  it('is there at the next load, and its shell is the one that opens without a connection', async () => {
    const environment = { SANDBY_HTTP_PORT: String(await freePort()) };
    const dataFolder = makeTempFolder();
    const before = await runServer({ environment, dataFolder });
    const page = await openWithWorker('/bench', before.address);
    await waitForWorker(page);
    const oldScript = await scriptOf(page);
    await before.stop();
    const after = await runServer({ environment, dataFolder, programFolder: makeOtherBuild() });

    await page.reload();
    await page.getByRole('button', { name: 'Mix', exact: true }).waitFor();
    const newScript = await scriptOf(page);
    expect(newScript).not.toBe(oldScript);
    expect(newScript).toContain('/second-');
    await page.waitForFunction(async () =>
      (await caches.keys()).some((name) => name.startsWith('shell-second-')),
    );
    await expectRule(page, 'second-');
    await after.stop();
    await page.reload();
    await page.getByRole('main').waitFor();
    expect(await scriptOf(page)).toBe(newScript);
  });
});

/** Until the worker that rules the page keeps a shell with this in its name, in whole. */
async function expectRule(page: Page, build: string): Promise<void> {
  await expect
    .poll(
      () =>
        page.evaluate(async (part) => {
          const registration = await navigator.serviceWorker.getRegistration();
          const name = (await caches.keys()).find((kept) => kept.includes(part));
          const shell = name === undefined ? undefined : await (await caches.open(name)).match('/');
          const isAlone = registration?.installing === null && registration.waiting === null;
          return isAlone && shell !== undefined;
        }, build),
      { timeout: 10_000 },
    )
    .toBe(true);
}

describe('what the shop says', () => {
  it('never comes from what is kept: it is not there, and asking for it without a server fails', async () => {
    const server: RunningServer = await runServer();
    const page = await openWithWorker('/bench', server.address);
    await waitForWorker(page);
    await page.reload();
    await page.getByRole('button', { name: 'Mix', exact: true }).waitFor();
    const paths = [
      '/api/v1/snapshot',
      '/api/v1/batches?open=true',
      '/api/v1/health',
      '/socket.io/?EIO=4&transport=polling',
    ];
    const ask = (): Promise<(number | null)[]> =>
      page.evaluate(
        (asked) =>
          Promise.all(
            asked.map((path) =>
              fetch(path).then(
                ({ status }) => status,
                () => null,
              ),
            ),
          ),
        paths,
      );
    expect(await ask()).toEqual([200, 200, 200, 200]);
    expect((await keptPaths(page)).flat().filter((path) => /api|live|socket/.test(path))).toEqual([]);
    const seenByWorker = await answersByWorker(page.context(), page);
    expect(seenByWorker).toEqual([]);
    await server.stop();
    expect(await ask()).toEqual([null, null, null, null]);
    // Nor does the address of an answer open the page in its stead.
    await expect(page.goto(`${server.address}/api/v1/snapshot`)).rejects.toThrow(/ERR_CONNECTION_REFUSED/);
  });
});

/** The calls of the API that a reload makes and the worker answers. */
async function answersByWorker(context: BrowserContext, page: Page): Promise<string[]> {
  const found: string[] = [];
  context.on('response', (response) => {
    const { pathname } = new URL(response.url());
    if (response.fromServiceWorker() && /^\/(api|live|socket\.io)/.test(pathname)) found.push(pathname);
  });
  await page.reload();
  await page.getByRole('button', { name: 'Mix', exact: true }).waitFor();
  return found;
}
