// Opens Setup in a browser and waits until all that it reads is there.
import type { Page } from 'playwright-core';
import type { BrowserShop, PageSetup } from './browserShop.ts';

/** The page with its sensors, settings and products. */
export async function openSetupOf(shop: BrowserShop, setup: PageSetup = {}): Promise<Page> {
  const page = await shop.open('/setup', setup);
  await page.locator('#setup-sensors .entry').first().waitFor();
  await page.locator('#setup-alerts input').first().waitFor();
  await page.locator('#setup-products .entry-change').first().waitFor();
  return page;
}
