// Pictures of every screen from the real demo, for the README and for whoever wants to look: written, and looked at for slips.
import { mkdirSync } from 'node:fs';
import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '../support/chromium.ts';
import { getJson } from '../support/http.ts';
import { runServer, type RunningServer } from '../support/runServer.ts';

const FOLDER = process.env['SANDBY_PICTURES'] === '1' ? 'tests/browser/pictures' : 'coverage/pictures';
const SIZES = {
  phone: { width: 390, height: 844 },
  desk: { width: 1280, height: 800 },
  wall: { width: 1920, height: 1080 },
};

let browser: Browser;
let server: RunningServer;

beforeAll(async () => {
  mkdirSync(FOLDER, { recursive: true });
  browser = await launchChromium();
  server = await runServer({ config: 'config/demo.json' });
  // The invented shop needs some of its own minutes to open batches in several stages.
  for (let tick = 0; tick < 120; tick += 1) {
    const { body } = await getJson(server.address, '/batches?open=true');
    const stages = new Set((body['batches'] as { stage: string }[]).map((batch) => batch.stage));
    if (stages.has('test') && stages.size >= 3) return;
    await new Promise((done) => setTimeout(done, 500));
  }
}, 90_000);
afterAll(async () => {
  await browser.close();
  const code = await server.stop();
  if (code !== 0) throw new Error(`the server ended with ${code}`);
});

async function open(path: string, size: keyof typeof SIZES, colorScheme: 'light' | 'dark'): Promise<Page> {
  const context = await browser.newContext({ viewport: SIZES[size], colorScheme, reducedMotion: 'reduce' });
  const page = await context.newPage();
  await page.goto(`${server.address}${path}`);
  await page.getByRole('main').waitFor();
  await page
    .getByText(/Simulated shop/)
    .first()
    .waitFor();
  return page;
}

async function expectFit(page: Page): Promise<void> {
  const overflowPx = await page.evaluate(
    () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
  );
  expect(overflowPx).toBe(0);
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`)).toEqual([]);
}

describe.each(Object.keys(SIZES) as (keyof typeof SIZES)[])('on a %s', (size) => {
  it.each(['light', 'dark'] as const)(
    'Bench in %s colours shows the simulated shop, fits and has no fault that axe can see',
    async (scheme) => {
      const page = await open('/bench', size, scheme);
      await page.getByRole('timer').first().waitFor();
      await page.screenshot({ path: `${FOLDER}/bench-${size}-${scheme}.png` });
      await expectFit(page);
      await page.context().close();
    },
  );

  it.each(['light', 'dark'] as const)(
    'Mix in %s colours fits and has no fault that axe can see',
    async (scheme) => {
      const page = await open('/bench', size, scheme);
      await page.getByRole('button', { name: 'Mix', exact: true }).click();
      await page.getByRole('button', { name: 'Start', exact: true }).waitFor();
      await page.screenshot({ path: `${FOLDER}/mix-${size}-${scheme}.png` });
      await expectFit(page);
      await page.context().close();
    },
  );

  it.each(['light', 'dark'] as const)(
    'Setup in %s colours lists sensors, fits and has no fault that axe can see',
    async (scheme) => {
      const page = await open('/setup', size, scheme);
      await page.getByText('bay-1-air').first().waitFor();
      await page.screenshot({ path: `${FOLDER}/setup-${size}-${scheme}.png` });
      await expectFit(page);
      await page.context().close();
    },
  );
});

it('the API describes itself as OpenAPI 3.1 and on a page', async () => {
  const { body } = await getJson(server.address, '/openapi.json');
  expect(body).toMatchObject({
    openapi: '3.1.0',
    paths: { '/batches': { post: { summary: 'Starts a batch' } } },
  });
  const page = await browser.newPage();
  await page.goto(`${server.address}/api/docs`);
  expect(await page.getByRole('heading', { level: 1 }).textContent()).toMatch(/Sandby API/);
  await page.close();
});
