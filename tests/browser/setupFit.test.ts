// Setup with all its forms open, at every size and in both looks: it fits, and axe finds nothing.
import type { Page } from 'playwright-core';
import { describe, it } from 'vitest';
import { expectFit, expectNoSidewaysScroll } from '../support/browserChecks.ts';
import { LOOKS, PICTURES, SIZE_NAMES, SIZES, useBrowserShop } from '../support/browserShop.ts';
import { postJson } from '../support/http.ts';
import { openSetupOf } from '../support/openSetup.ts';

const WIDTHS_PX = [360, 390, 640, 768, 1024, 1152, 1280, 1600, 1920];

const shop = useBrowserShop({
  fillShop: async (address) => {
    for (const sensorId of ['bay-1-air', 'spare-7']) {
      await postJson({ address, path: '/readings' }, { sensorId, airTemperatureC: 18 });
    }
  },
});

/** Everything that can be open, with a mistake told and a save told. */
async function openAll(page: Page): Promise<void> {
  await page.locator('#setup-people .entry-change').last().click();
  await page.locator('#setup-bays .entry .entry-change').first().click();
  await page.locator('#setup-sensors .entry .entry-change').first().click();
  await page.locator('#setup-products .entry .entry-change').first().click();
  await page.locator('.card-picture').first().waitFor();
  for (const summary of await page.locator('.setup summary').all()) await summary.click();
  await page.locator('#setup-alerts input').nth(2).fill('500');
  await page.locator('#setup-alerts input').nth(2).press('Enter');
  await page.locator('#setup-alerts .field-error').waitFor();
}

describe.each(SIZE_NAMES)('on a %s', (size) => {
  it.each(LOOKS)(
    'with all its forms open in %s colours it fits and has no fault that axe can see',
    async (look) => {
      const page = await openSetupOf(shop, {
        viewport: SIZES[size],
        colorScheme: look,
        reducedMotion: 'reduce',
      });
      await openAll(page);
      await page.screenshot({ path: `${PICTURES}/setup-open-${size}-${look}.png`, fullPage: true });
      await expectFit(page);
    },
  );
});

it('has nothing to scroll sideways at any width, in Spanish and American units too', async () => {
  const page = await openSetupOf(shop, {
    locale: 'es-MX',
    prepare: async (fresh) =>
      fresh.addInitScript(() =>
        localStorage.setItem(
          'sandby.device',
          JSON.stringify({ temperatureUnit: 'F', lengthUnit: 'in', massUnit: 'oz' }),
        ),
      ),
  });
  await openAll(page);
  for (const width of WIDTHS_PX) {
    await page.setViewportSize({ width, height: 900 });
    await expectNoSidewaysScroll(page);
  }
});
