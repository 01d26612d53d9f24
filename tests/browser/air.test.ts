// The owner's path in a real Chromium against the built program: the cold Tuesday morning, what it cost, what would help.
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { type Instant, instantFromMs } from '../../server/contract/index.ts';
import { expectNoAxeViolation, expectNoSidewaysScroll, tabTo } from '../support/browserChecks.ts';
import {
  type Look,
  LOOKS,
  PICTURES,
  type Size,
  SIZE_NAMES,
  SIZES,
  useBrowserShop,
} from '../support/browserShop.ts';
import { fillWeeks } from '../support/fillWeeks.ts';
import { getJson } from '../support/http.ts';

let tuesdayAt: Instant;
const shop = useBrowserShop({
  fillFolder: async (dataFolder) => {
    const filled = await fillWeeks(join(dataFolder, 'sandby.sqlite'), instantFromMs(Date.now()));
    tuesdayAt = filled.tuesdayAt;
  },
  limitMs: 120_000,
});

async function openAir(size: Size = 'desk', colorScheme: Look = 'light'): Promise<Page> {
  const page = await shop.open('/air', { viewport: SIZES[size], colorScheme });
  await page.getByRole('table', { name: 'When this bay is slow' }).waitFor();
  return page;
}

const tuesday = (): string => `Tue ${new Date(tuesdayAt).getUTCDate()}`;

describe('the cold Tuesday morning', () => {
  it('is found from the keyboard alone, with what it cost and why', async () => {
    const page = await openAir();
    await tabTo(page, /Week before/);
    await page.keyboard.press('Enter');
    const told = page.getByText(
      /^Last week the cold in Bay 1 cost \d+ minutes of curing; \d+ of them between/,
    );
    await told.waitFor();
    await tabTo(page, new RegExp(`^${tuesday()}`));
    await page.keyboard.press('Enter');
    await page
      .getByText(/the cold in Bay 1 cost \d+ minutes of curing/)
      .filter({ hasText: /^(On Tue|Yesterday|Today)/ })
      .waitFor();
    await page
      .getByRole('listitem')
      .filter({ hasText: /^Heating off/ })
      .getByText(/^\d{2,} minutes$/)
      .waitFor();
    const { body } = await getJson(
      shop.server.address,
      `/bays/bay-1/cost?from=${new Date(tuesdayAt).toISOString()}&to=${new Date(tuesdayAt + 86_400_000).toISOString()}`,
    );
    const minutes = Math.round(Number(body['addedMin']));
    expect(minutes).toBeGreaterThan(60);
    expect(await page.getByText(new RegExp(`cost ${minutes} minutes of curing`)).count()).toBe(1);
  });

  it('would have lost less with the heating on earlier, and less still when warmer', async () => {
    const page = await openAir();
    await page.getByRole('button', { name: 'Week before' }).click();
    await page.getByText(/^Last week/).waitFor();
    const sentence = page.getByText(/^That takes away about/);
    const taken = async (): Promise<number> =>
      Number(/about (\d+) of these/.exec((await sentence.textContent()) ?? '')?.[1]);
    await sentence.waitFor();
    const before = await taken();
    expect(before).toBeGreaterThan(10);
    await page.getByRole('combobox', { name: 'At' }).selectOption('22');
    await expect.poll(taken).toBeGreaterThan(before);
  });
});

describe('a bay without a sensor that speaks', () => {
  it('says so and where to look', async () => {
    const page = await openAir();
    await page.getByRole('radio', { name: 'Bay 2' }).click({ force: true });
    await page.getByText(/This week: no readings in Bay 2\./).waitFor();
    await page.getByText(/Setup shows which sensors have spoken/).waitFor();
  });
});

describe('the page', () => {
  it('has tables for all that is drawn, one main region and headings in order', async () => {
    const page = await openAir();
    await page.getByText('The same as a table').click();
    await page.getByRole('columnheader', { name: /dew point/ }).waitFor();
    await page.getByText('Batches that cured here').click();
    await page.getByRole('columnheader', { name: 'Added, min' }).waitFor();
    expect(await page.getByRole('main').count()).toBe(1);
    expect(await page.getByRole('heading', { level: 1 }).allTextContents()).toEqual(['Air']);
    expect(await page.locator('.slow-map td').count()).toBe(168);
  });

  for (const size of SIZE_NAMES) {
    for (const colorScheme of LOOKS) {
      it(`has no fault that axe can see and nothing to scroll sideways, ${size} ${colorScheme}`, async () => {
        const page = await openAir(size, colorScheme);
        await page.getByRole('button', { name: 'Week before' }).click();
        await page.getByText(/^Last week/).waitFor();
        await page.locator('canvas').waitFor();
        await expectNoAxeViolation(page);
        await page.screenshot({ path: `${PICTURES}/air-${size}-${colorScheme}.png`, fullPage: true });
        for (const width of size === 'wall' ? [1920, 1280, 768, 360] : [SIZES[size].width]) {
          await page.setViewportSize({ width, height: 900 });
          await expectNoSidewaysScroll(page);
        }
      });
    }
  }
});
