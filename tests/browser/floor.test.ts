// The foreman's Floor in a real Chromium against the built program: a promise in danger and why, by mouse and by keys alone;
// the wall at four metres; and where the bare address leads.
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { expectFit, expectNoAxeViolation, focusedName } from '../support/browserChecks.ts';
import { LOOKS, PICTURES, SIZES, useBrowserShop } from '../support/browserShop.ts';
import { ago, sayTwoBays, startPanel } from '../support/fillFloor.ts';
import { getJson } from '../support/http.ts';

const shop = useBrowserShop();

function rowOf(page: Page, panel: string): ReturnType<Page['locator']> {
  return page.locator('.floor-row').filter({ hasText: panel });
}

function handOf(page: Page, panel: string): ReturnType<Page['locator']> {
  return page.locator('.hand').filter({ hasText: panel });
}

describe('an empty floor', () => {
  it('says what to do', async () => {
    const page = await shop.open('/floor');
    await page.getByText('Nothing is curing.').waitFor();
    expect(await page.getByRole('main').getByRole('button', { name: 'Mix' }).count()).toBe(1);
    await expectFit(page);
  });
});

describe('a promise in danger', () => {
  it('says by how much, why and what would help, and is out of danger once the panel stands in the warm bay', async () => {
    const { address } = shop.server;
    await sayTwoBays(address);
    const promisedAt = ago(-80);
    await startPanel(address, {
      panel: 'Bonnet',
      promisedAt,
      remainingWorkMin: 50,
      mixedAt: ago(8),
      by: 'MK',
    });
    await startPanel(address, { panel: 'Roof', bayId: 'bay-2', mixedAt: ago(14), by: 'TO' });
    const page = await shop.open('/floor');
    await rowOf(page, 'Bonnet')
      .getByText(/min late/)
      .waitFor();
    const hand = handOf(page, 'Bonnet');
    await hand.getByText(/min too late for/).waitFor();
    await hand.getByText(/Bay 1 is 11\s°C/).waitFor();
    await hand.getByText(/Bay 2 is warmer: done \d+ min sooner/).waitFor();
    await hand.getByText(/lamp .*at \d+ cm: done \d+ min sooner/i).waitFor();
    expect(await page.getByText('1 promise in danger').count()).toBe(1);
    await page.screenshot({ path: `${PICTURES}/floor-danger-desk-light.png` });

    // By keys alone: to the panel, into its sheet, to the warm bay and there.
    await page.getByRole('button', { name: 'More about Bonnet' }).focus();
    await page.keyboard.press('Enter');
    const move = page.getByRole('button', { name: 'Move it', exact: true });
    await move.waitFor();
    await move.focus();
    await page.keyboard.press('Enter');
    await rowOf(page, 'Bonnet').getByText(/Bay 2/).waitFor();
    await rowOf(page, 'Bonnet')
      .getByText(/min spare/)
      .waitFor({ timeout: 10_000 });
    await page.getByText('No promise in danger').waitFor();
  });

  it('is found with keys alone: filters, order and the wall are reached by Tab', async () => {
    const page = await shop.open('/floor');
    await rowOf(page, 'Roof').waitFor();
    const reached: string[] = [];
    for (let press = 0; press < 30; press += 1) {
      await page.keyboard.press('Tab');
      reached.push(await focusedName(page));
    }
    for (const name of ['By promise', 'Bay', 'Person', 'Wall', 'More about Roof', 'Roof']) {
      expect(reached).toContain(name);
    }
    await page.getByLabel('Person').focus();
    await page.keyboard.press('T');
    await rowOf(page, 'Bonnet').waitFor({ state: 'detached' });
    await page.reload();
    await rowOf(page, 'Roof').waitFor();
    expect(await rowOf(page, 'Bonnet').count()).toBe(0);
    await page.getByRole('radio', { name: 'By promise' }).focus();
    await page.keyboard.press('ArrowRight');
    await page.getByRole('heading', { level: 3, name: 'Bay 2' }).waitFor();
  });
});

describe('the time axis', () => {
  it('moves by itself and leaves rows where they are', async () => {
    const page = await shop.open('/floor', { prepare: (made) => made.clock.install() });
    await rowOf(page, 'Roof').waitFor();
    const look = (): Promise<{ kicked: number; top: number; height: number }> =>
      page.evaluate(() => {
        const boxOf = (selector: string): DOMRect =>
          (document.querySelector(selector) as HTMLElement).getBoundingClientRect();
        const row = boxOf('.floor-row');
        return {
          kicked: boxOf('.span[data-kind="kicked"]').left,
          top: row.top - boxOf('.board').top,
          height: row.height,
        };
      });
    // Else the next snapshot would set the page's clock back to the shop's.
    await page.route('**/snapshot', (route) => route.abort());
    const before = await look();
    await page.clock.fastForward(10 * 60_000);
    await expect.poll(async () => (await look()).kicked).toBeLessThan(before.kicked - 10);
    const after = await look();
    expect([after.top, after.height]).toEqual([before.top, before.height]);
  });
});

describe('Floor', () => {
  it.each([
    ['phone', SIZES.phone],
    ['desk', SIZES.desk],
    ['wide', SIZES.wall],
    ['narrow', { width: 360, height: 700 }],
    ['tablet', { width: 900, height: 1100 }],
  ] as const)('fits on a %s and has no fault that axe can see, light and dark', async (name, viewport) => {
    for (const colorScheme of LOOKS) {
      const page = await shop.open('/floor', { viewport, colorScheme });
      await handOf(page, 'Roof').waitFor();
      await page.screenshot({ path: `${PICTURES}/floor-${name}-${colorScheme}.png` });
      await expectFit(page);
    }
  });
});

describe('the wall', () => {
  it.each(LOOKS)(
    'has no controls, text of 28 px or more and 7:1 on every surface, in %s colours',
    async (colorScheme) => {
      const page = await shop.open('/floor?wall=1', { viewport: SIZES.wall, colorScheme });
      await handOf(page, 'Roof').waitFor();
      expect(await page.locator('button, a, input, select, [tabindex]').count()).toBe(0);
      const small = await page.evaluate(() => {
        const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
        const found: string[] = [];
        for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
          const element = node.parentElement as HTMLElement;
          const isSeen =
            element.checkVisibility({ visibilityProperty: true }) &&
            element.closest('.hidden, script, noscript') === null;
          const sizePx = Number.parseFloat(getComputedStyle(element).fontSize);
          if (isSeen && node.textContent?.trim() !== '' && sizePx < 28)
            found.push(`${sizePx} ${node.textContent}`);
        }
        return found;
      });
      expect(small).toEqual([]);
      await expectNoAxeViolation(page, { isWall: true });
      await page.screenshot({ path: `${PICTURES}/floor-mural-${colorScheme}.png` });
    },
  );

  it('is entered by its button and left by Esc', async () => {
    const page = await shop.open('/floor', { viewport: SIZES.wall });
    await page.getByRole('button', { name: 'Wall', exact: true }).click();
    await page.locator('.wall').waitFor();
    expect(new URL(page.url()).search).toBe('?wall=1');
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'Wall', exact: true }).waitFor();
  });
});

describe('the bare address', () => {
  it('leads to Floor at a desk, to Bench on a phone, and to the page used last', async () => {
    const pathOf = (page: Page): string => new URL(page.url()).pathname;
    const desk = await shop.open('/');
    await desk.getByRole('heading', { level: 1, name: 'Floor' }).waitFor({ state: 'attached' });
    expect(pathOf(desk)).toBe('/floor');
    const phone = await shop.open('/', { viewport: SIZES.phone, hasTouch: true });
    await phone.getByRole('heading', { level: 1, name: 'Bench' }).waitFor({ state: 'attached' });
    expect(pathOf(phone)).toBe('/bench');
    await desk.getByRole('link', { name: 'Setup' }).click();
    await desk.goto(shop.server.address);
    await desk.getByRole('heading', { level: 1, name: 'Setup' }).waitFor();
    expect(pathOf(desk)).toBe('/setup');
  });
});

it('the plan is served for other programs too', async () => {
  const { status, body } = await getJson(shop.server.address, '/plan');
  expect(status).toBe(200);
  expect((body['entries'] as { panel: string }[]).map(({ panel }) => panel).toSorted()).toEqual([
    'Bonnet',
    'Roof',
  ]);
});
