// Pictures of every screen from the real demo, for the README and for whoever wants to look: written, and looked at for slips.
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { expectFit } from '../support/browserChecks.ts';
import {
  type Look,
  LOOKS,
  PICTURES,
  type Size,
  SIZE_NAMES,
  SIZES,
  useBrowserShop,
} from '../support/browserShop.ts';
import { getJson } from '../support/http.ts';

const shop = useBrowserShop({ config: 'config/demo.json', fillShop: waitForStages, limitMs: 90_000 });

/** The invented shop needs some of its own minutes to open batches in several stages. */
async function waitForStages(address: string): Promise<void> {
  for (let tick = 0; tick < 120; tick += 1) {
    const { body } = await getJson(address, '/batches?open=true');
    const stages = new Set((body['batches'] as { stage: string }[]).map((batch) => batch.stage));
    if (stages.has('test') && stages.size >= 3) return;
    await new Promise((done) => setTimeout(done, 500));
  }
}

async function open(path: string, size: Size, colorScheme: Look): Promise<Page> {
  const page = await shop.open(path, { viewport: SIZES[size], colorScheme, reducedMotion: 'reduce' });
  await page
    .getByText(/Simulated shop/)
    .first()
    .waitFor();
  return page;
}

describe.each(SIZE_NAMES)('on a %s', (size) => {
  it.each(LOOKS)(
    'Bench in %s colours shows the simulated shop, fits and has no fault that axe can see',
    async (scheme) => {
      const page = await open('/bench', size, scheme);
      await page.getByRole('timer').first().waitFor();
      await page.screenshot({ path: `${PICTURES}/bench-${size}-${scheme}.png` });
      await expectFit(page);
    },
  );

  it.each(LOOKS)('Mix in %s colours fits and has no fault that axe can see', async (scheme) => {
    const page = await open('/bench', size, scheme);
    await page.getByRole('button', { name: 'Mix', exact: true }).click();
    await page.getByRole('button', { name: 'Start', exact: true }).waitFor();
    await page.screenshot({ path: `${PICTURES}/mix-${size}-${scheme}.png` });
    await expectFit(page);
  });

  it.each(LOOKS)(
    'Setup in %s colours lists sensors, fits and has no fault that axe can see',
    async (scheme) => {
      const page = await open('/setup', size, scheme);
      await page.getByText('bay-1-air').first().waitFor();
      await page.screenshot({ path: `${PICTURES}/setup-${size}-${scheme}.png` });
      await expectFit(page);
    },
  );
});

it('the API describes itself as OpenAPI 3.1 and on a page', async () => {
  const { body } = await getJson(shop.server.address, '/openapi.json');
  expect(body).toMatchObject({
    openapi: '3.1.0',
    paths: { '/batches': { post: { summary: 'Starts a batch' } } },
  });
  const page = await shop.open('/api/docs');
  expect(await page.getByRole('heading', { level: 1 }).textContent()).toMatch(/Sandby API/);
});
