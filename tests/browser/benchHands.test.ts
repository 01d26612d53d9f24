// What hands on Bench need beside the first path: repeated mixes, next layers, plain timers, dating back and undo; in a real
// Chromium against the built program.
import type { Page } from 'playwright-core';
import { beforeEach, describe, expect, it } from 'vitest';
import { actElsewhere, batchesOf, button, slipOf, startOn } from '../support/benchDesk.ts';
import { expectFit, tabTo } from '../support/browserChecks.ts';
import { LOOKS, type PageSetup, PICTURES, SIZES, useBrowserShop } from '../support/browserShop.ts';
import { ago, sayTwoBays } from '../support/fillFloor.ts';
import { askJson, getJson } from '../support/http.ts';

const shop = useBrowserShop({ fillShop: sayTwoBays });
/** Each test has a panel of its own, so that none leans on another. */
let panel = '';
let count = 0;

beforeEach(() => {
  count += 1;
  panel = `Panel ${count}`;
});

function openBench(setup: PageSetup = {}): Promise<Page> {
  return shop.open('/bench', { viewport: SIZES.phone, hasTouch: true, ...setup });
}

describe('Mix', () => {
  it('says that no bead was weighed, leads to Setup, and tells the bead once there is one', async () => {
    const page = await openBench();
    await button(page, 'Mix').click();
    await page.getByText('9.0 g').or(page.getByText('36 g')).first().waitFor();
    await page.getByRole('link', { name: 'weigh 10 cm in Setup' }).click();
    await expect.poll(() => new URL(page.url()).pathname).toBe('/setup');
    expect(await page.getByRole('dialog').count()).toBe(0);
    const { body: settings } = await getJson(shop.server.address, '/settings');
    const change = { beadGramsPer10Cm: 1.4, expectedVersion: settings['version'] };
    await askJson({ address: shop.server.address, path: '/settings', method: 'PUT' }, change);
    await page.goto(`${shop.server.address}/bench`);
    await button(page, 'Mix').click();
    // 10 cm × 10 cm × 2 mm of 1.8 g/cm³ are 36 g; 2 % of it are 0.72 g, in a bead of 1.4 g a 10 cm that is 5.1 cm.
    const amounts = page.locator('.amounts');
    await expect.poll(() => amounts.textContent()).toMatch(/36 g filler.*0\.7 g hardener.*5 cm of bead/);
    await page.getByLabel('Length, cm').fill('ten');
    await page.getByText('This is not a number (a number such as 2.5).').waitFor();
    expect(await page.getByLabel('Length, cm').inputValue()).toBe('ten');
    await expectFit(page);
  });

  it('is repeated in two taps', async () => {
    const page = await openBench();
    await button(page, 'Mix').click();
    await page.getByLabel('Other panel').fill(panel);
    await button(page, 'Start').click();
    await slipOf(page, panel).waitFor();
    const before = (await batchesOf(shop.server.address, panel)).length;
    await button(page, 'Same again').click();
    await button(page, 'Start').click();
    await expect.poll(async () => (await batchesOf(shop.server.address, panel)).length).toBe(before + 1);
  });

  it('is taken back by the toast', async () => {
    const page = await openBench();
    await button(page, 'Mix').click();
    await page.getByLabel('Other panel').fill(panel);
    await button(page, 'Start').click();
    await slipOf(page, panel).waitFor();
    await page.getByText(`${panel}: mixed`).waitFor();
    await button(page, 'Undo').click();
    await slipOf(page, panel).waitFor({ state: 'detached' });
    await expect.poll(async () => (await batchesOf(shop.server.address, panel))[0]?.stage).toBe('scrapped');
  });
});

describe('an act', () => {
  it('is dated back, and undone later from the slip', async () => {
    await startOn(shop.server.address, { panel, mixedAt: ago(3) });
    const page = await openBench();
    await slipOf(page, panel).getByRole('button', { name: 'More' }).click();
    await page.getByRole('radio', { name: '2 min ago' }).click({ force: true });
    const tappedAt = Date.now();
    await page.getByRole('dialog').getByRole('button', { name: 'Spread', exact: true }).click();
    await expect.poll(async () => (await batchesOf(shop.server.address, panel))[0]?.spreadAt).not.toBeNull();
    const spreadAt = Date.parse((await batchesOf(shop.server.address, panel))[0]?.spreadAt ?? '');
    expect(Math.abs(tappedAt - spreadAt - 2 * 60_000)).toBeLessThan(30_000);
    // The sheet has done its work; the toast is let go.
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    await button(page, 'Close').click();
    await slipOf(page, panel).getByRole('button', { name: 'More' }).click();
    await page.getByRole('button', { name: /^Undo "Spread" of/ }).click();
    await expect.poll(async () => (await batchesOf(shop.server.address, panel))[0]?.spreadAt).toBeNull();
  });
});

describe('a panel that was just sanded', () => {
  it('stays within reach: undone, sanded again, after a reload, and covered by the next layer in two taps', async () => {
    const id = await startOn(shop.server.address, { panel, mixedAt: ago(40), repairOrder: '4711' });
    await actElsewhere(shop.server.address, { batchId: id, type: 'recordCheck', outcome: 'powders' });
    const page = await openBench();
    await slipOf(page, panel).getByRole('button', { name: 'Sanded', exact: true }).click();
    await slipOf(page, panel).waitFor({ state: 'detached' });
    await button(page, 'Close').click();
    await button(page, `Undo, ${panel}`).click();
    await slipOf(page, panel).getByRole('button', { name: 'Sanded', exact: true }).click();
    await button(page, `Next layer on ${panel}`).waitFor();
    await page.screenshot({ path: `${PICTURES}/finished-phone-light.png` });
    await expectFit(page);
    // In thumb's reach for ten seconds, and for half an hour below the stack.
    await button(page, 'Next layer').click();
    await page.getByText('RO 4711 · 2 mm underneath').waitFor();
    await page.keyboard.press('Escape');
    await page.reload();
    await button(page, `Next layer on ${panel}`).click();
    await page.getByText('RO 4711 · 2 mm underneath').waitFor();
    await page.screenshot({ path: `${PICTURES}/layer-phone-light.png` });
    await expectFit(page);
    await button(page, 'Start').click();
    await slipOf(page, panel).waitFor();
    const layer = (await batchesOf(shop.server.address, panel)).find(({ id: other }) => other !== id);
    expect(layer).toMatchObject({ repairOrder: '4711', underlayMm: 2, thicknessMm: 0.5, stage: 'wet' });
    expect(await button(page, `Next layer on ${panel}`).count()).toBe(0);
  });

  it('is offered in Mix as the layer below', async () => {
    const id = await startOn(shop.server.address, { panel, mixedAt: ago(40), repairOrder: '4712' });
    await actElsewhere(shop.server.address, { batchId: id, type: 'recordCheck', outcome: 'powders' });
    const page = await openBench();
    await button(page, 'Mix').click();
    await page.getByLabel('Other panel').fill(panel);
    await button(page, 'Next layer, on 2 mm, RO 4712').click();
    await page.getByText(/2 mm underneath · RO 4712/).waitFor();
    await button(page, 'Start').click();
    await expect
      .poll(async () =>
        (await batchesOf(shop.server.address, panel))
          .map(({ underlayMm }) => underlayMm)
          .toSorted((a, b) => a - b),
      )
      .toEqual([0, 2]);
  });
});

describe('a plain timer', () => {
  it('is marked as such, counts, is extended, survives a reload, and is stopped and undone', async () => {
    const page = await openBench();
    await button(page, 'Plain timer').click();
    await page.getByLabel('Other minutes').fill('1000');
    await button(page, 'Start the timer').click();
    await page.getByText('say what it is for').waitFor();
    await page.getByText('This is too large (1 … 720 min).').waitFor();
    expect(await page.getByLabel('Other minutes').inputValue()).toBe('1000');
    await expectFit(page);
    await page.getByLabel('Something else').fill(panel);
    await page.getByRole('radio', { name: '10 min' }).click({ force: true });
    await button(page, 'Start the timer').click();
    const timer = slipOf(page, panel);
    await timer.getByText('Plain timer, not computed').waitFor();
    await timer.getByText(/on this device only/).waitFor();
    const clock = timer.getByRole('timer');
    const first = await clock.textContent();
    expect(first).toMatch(/ends in (10:00|9:5\d)/);
    await expect.poll(() => clock.textContent(), { timeout: 4000 }).not.toBe(first);
    await timer.getByRole('button', { name: '+5 min' }).click();
    await expect.poll(() => clock.textContent()).toMatch(/ends in 14:\d\d/);
    await page.reload();
    await expect.poll(() => clock.textContent()).toMatch(/ends in 14:\d\d/);
    await timer.getByRole('button', { name: 'Stop' }).click();
    await timer.waitFor({ state: 'detached' });
    await button(page, 'Undo').click();
    await expect.poll(() => clock.textContent()).toMatch(/ends in 14:\d\d/);
    const other = await openBench();
    expect(await slipOf(other, panel).count()).toBe(0);
  });

  it.each(LOOKS)('comes to the top with a buzz when its time is up, in %s colours', async (colorScheme) => {
    await startOn(shop.server.address, { panel, mixedAt: ago(1) });
    const { body: snapshot } = await getJson(shop.server.address, '/snapshot');
    const seed = {
      id: 't1',
      name: 'Guide coat',
      ledgerId: snapshot['ledgerId'],
      startedAt: Date.now() - 60_000,
      endsAt: Date.now() + 4000,
      isRung: false,
    };
    const page = await openBench({
      colorScheme,
      prepare: (made) =>
        made.addInitScript(
          (text) => {
            localStorage.setItem('sandby.timers', text);
            Object.assign(globalThis, { buzzes: 0 });
            navigator.vibrate = () => {
              (globalThis as unknown as { buzzes: number }).buzzes += 1;
              return true;
            };
          },
          JSON.stringify([seed]),
        ),
    });
    await slipOf(page, 'Guide coat')
      .getByRole('timer')
      .filter({ hasText: 'Time is up' })
      .waitFor({ timeout: 20_000 });
    await expect
      .poll(() => page.evaluate(() => (globalThis as unknown as { buzzes: number }).buzzes))
      .toBeGreaterThan(0);
    await page.screenshot({ path: `${PICTURES}/timer-phone-${colorScheme}.png` });
    await expectFit(page);
    await slipOf(page, 'Guide coat').getByRole('button', { name: 'Done' }).click();
    await slipOf(page, 'Guide coat').waitFor({ state: 'detached' });
  });

  it('is started and stopped by keys alone', async () => {
    const page = await openBench({ viewport: SIZES.desk, hasTouch: false });
    await button(page, 'Plain timer').waitFor();
    await tabTo(page, /^Plain timer$/);
    await page.keyboard.press('Enter');
    await tabTo(page, /^Something else$/);
    await page.keyboard.type(panel);
    await page.keyboard.press('Enter');
    await slipOf(page, panel).waitFor();
    await slipOf(page, panel).getByRole('button', { name: 'Stop' }).focus();
    await page.keyboard.press('Enter');
    await slipOf(page, panel).waitFor({ state: 'detached' });
  });
});
