// What is asked of every page: no fault that axe can see, nothing to scroll sideways, and a way by keyboard.
import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';

const TABS_MAX_COUNT = 80;

/** No violation of any severity, once the page's own heading stands; on a wall contrast of 7:1 is asked too. */
export async function expectNoAxeViolation(page: Page, options: { isWall?: boolean } = {}): Promise<void> {
  await page.locator('h1').first().waitFor({ state: 'attached' });
  await whenStill(page);
  // Our pages hold no frames: without the ways around foreign ones the same rules take a third of the time.
  const builder = new AxeBuilder({ page }).setLegacyMode(true);
  if (options.isWall === true) builder.options({ rules: { 'color-contrast-enhanced': { enabled: true } } });
  const { violations } = await builder.analyze();
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`)).toEqual([]);
}

/** What moves comes to its end: half a fade has no contrast of its own. Asked again and again: a promise of the end may be lost. */
async function whenStill(page: Page): Promise<void> {
  await page.waitForFunction(
    () =>
      document
        .getAnimations()
        .every((animation) => animation.effect?.getComputedTiming().endTime === Infinity),
    null,
    { polling: 50 },
  );
}

/** Nothing to scroll sideways, once the layout has settled. */
export async function expectNoSidewaysScroll(page: Page): Promise<void> {
  const overflowPx = (): Promise<number> =>
    page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  await expect.poll(overflowPx).toBeLessThanOrEqual(0);
}

/** Both of the above. */
export async function expectFit(page: Page): Promise<void> {
  await expectNoSidewaysScroll(page);
  await expectNoAxeViolation(page);
}

/** Tabs on until what has the focus carries a name: its label, or its text. */
export async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let press = 0; press < TABS_MAX_COUNT; press += 1) {
    await page.keyboard.press('Tab');
    if (name.test(await focusedName(page))) return;
  }
  throw new Error(`no way to ${String(name)} by keyboard`);
}

/** What a reader would hear of the element that has the focus. */
export function focusedName(page: Page): Promise<string> {
  return page.evaluate(() => {
    const active = document.activeElement;
    if (active === null) return '';
    const label = active.id === '' ? null : document.querySelector(`label[for="${active.id}"]`);
    return active.getAttribute('aria-label') ?? label?.textContent ?? active.textContent;
  });
}
