// Trouble on Bench: a torn connection, somebody else who was quicker, a screen that goes dark; in a real Chromium against the
// built program.
import type { Page, Route } from 'playwright-core';
import { beforeEach, describe, expect, it } from 'vitest';
import { actElsewhere, batchesOf, button, slipOf, startOn } from '../support/benchDesk.ts';
import { expectFit } from '../support/browserChecks.ts';
import { type PageSetup, SIZES, useBrowserShop } from '../support/browserShop.ts';
import { ago, sayTwoBays } from '../support/fillFloor.ts';
import { getJson } from '../support/http.ts';

const shop = useBrowserShop({ fillShop: sayTwoBays });
/** Each test has a panel of its own, so that none leans on another. */
let panel = '';
let count = 0;

beforeEach(() => {
  count += 1;
  panel = `Panel ${count}`;
});

async function openBatches(): Promise<{ readonly id: string }[]> {
  const { body } = await getJson(shop.server.address, '/batches?open=true');
  return body['batches'] as { id: string }[];
}

function openBench(setup: PageSetup = {}): Promise<Page> {
  return shop.open('/bench', { viewport: SIZES.phone, hasTouch: true, ...setup });
}

describe('a connection that is torn between a tap and its answer', () => {
  /** Lets the first request reach the shop, and loses its answer. */
  async function loseFirstAnswer(page: Page, path: string): Promise<string[]> {
    const keys: string[] = [];
    await page.route(path, async (route: Route) => {
      const request = route.request();
      if (request.method() !== 'POST') return route.fallback();
      keys.push(request.headers()['idempotency-key'] ?? '');
      if (keys.length > 1) return route.continue();
      await route.fetch();
      return route.abort('connectionreset');
    });
    return keys;
  }

  it('does not double a batch: the tap is sent again under the same key', async () => {
    const page = await openBench();
    const keys = await loseFirstAnswer(page, '**/api/v1/batches');
    await button(page, 'Mix').click();
    await page.getByLabel('Other panel').fill(panel);
    await button(page, 'Start').click();
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    await slipOf(page, panel).waitFor();
    expect(keys).toHaveLength(2);
    expect(new Set(keys).size).toBe(1);
    expect(await batchesOf(shop.server.address, panel)).toHaveLength(1);
    expect(await slipOf(page, panel).count()).toBe(1);
  });

  it('does not refuse an act that had reached the shop', async () => {
    await startOn(shop.server.address, { panel, mixedAt: ago(1) });
    const page = await openBench();
    const keys = await loseFirstAnswer(page, '**/commands');
    await slipOf(page, panel).getByRole('button', { name: 'Spread', exact: true }).click();
    await page.getByText(`${panel}: spread`).waitFor();
    expect(keys).toHaveLength(2);
    expect(new Set(keys).size).toBe(1);
    expect(await slipOf(page, panel).locator('.slip-trouble').count()).toBe(0);
  });

  it('shows a tap made without one on its slip, and stores it once when it is back', async () => {
    await startOn(shop.server.address, { panel, mixedAt: ago(1) });
    const page = await openBench();
    await slipOf(page, panel).waitFor();
    await page.context().setOffline(true);
    await page.getByText(/No connection/).waitFor({ timeout: 40_000 });
    await slipOf(page, panel).getByRole('button', { name: 'Spread', exact: true }).click();
    await slipOf(page, panel)
      .getByText(/^Kept: Spread \d\d:\d\d/)
      .waitFor();
    await page.getByText('1 tap is kept and sent later.').waitFor();
    await expectFit(page);
    await page.context().setOffline(false);
    await expect
      .poll(async () => (await batchesOf(shop.server.address, panel))[0]?.spreadAt, { timeout: 20_000 })
      .not.toBeNull();
    await slipOf(page, panel)
      .getByText(/^Kept:/)
      .waitFor({ state: 'detached' });
  });

  it('gives a tap up after thirty minutes, and says so', async () => {
    const id = await startOn(shop.server.address, { panel, mixedAt: ago(1) });
    const entry = {
      key: 'old',
      body: { kind: 'command', batchId: id, command: { type: 'markSpread' } },
      panel,
      tappedAt: Date.now() - 31 * 60_000,
      keptAt: Date.now() - 31 * 60_000,
    };
    const page = await openBench({
      prepare: (made) =>
        made.addInitScript((text) => localStorage.setItem('sandby.kept', text), JSON.stringify([entry])),
    });
    await page.getByText(`Too old to send after 30 minutes: Spread, ${panel}.`).waitFor();
    expect((await batchesOf(shop.server.address, panel))[0]?.spreadAt).toBeNull();
  });
});

describe('somebody else who was quicker', () => {
  it('is named beside the button with act and time', async () => {
    const id = await startOn(shop.server.address, { panel, mixedAt: ago(1) });
    const page = await openBench();
    await page.route('**/commands', async (route) => {
      await actElsewhere(shop.server.address, { batchId: id, type: 'markSpread', by: 'MB' });
      await route.continue();
    });
    await slipOf(page, panel).getByRole('button', { name: 'Spread', exact: true }).click();
    await slipOf(page, panel)
      .getByText(/^MB was quicker: “Spread” at \d\d:\d\d\. Your “Spread” was not stored\.$/)
      .waitFor();
    await expectFit(page);
  });

  it('leaves what was typed behind More as it is', async () => {
    const id = await startOn(shop.server.address, { panel, mixedAt: ago(1) });
    const page = await openBench();
    await slipOf(page, panel).getByRole('button', { name: 'More' }).click();
    await page.getByLabel('Minutes, 0 is off').fill('7');
    await page.route('**/commands', async (route) => {
      await actElsewhere(shop.server.address, { batchId: id, type: 'markSpread', by: 'MB' });
      await route.continue();
    });
    await page.getByRole('button', { name: 'Switch it on' }).click();
    await page
      .getByRole('dialog')
      .getByText(/MB was quicker: “Spread”/)
      .waitFor();
    expect(await page.getByLabel('Minutes, 0 is off').inputValue()).toBe('7');
  });

  it('is told in Spanish too, of a batch that was closed meanwhile', async () => {
    const id = await startOn(shop.server.address, { panel, mixedAt: ago(1) });
    const page = await openBench({ locale: 'es-MX' });
    await page.route('**/commands', async (route) => {
      await actElsewhere(shop.server.address, { batchId: id, type: 'scrap' });
      await route.continue();
    });
    await slipOf(page, panel).getByRole('button', { name: 'Aplicada', exact: true }).click();
    await page
      .getByText(/^Otro equipo se adelantó: «Desechada» a las \d\d:\d\d\. Su «Aplicada» no se guardó\.$/)
      .waitFor();
  });
});

describe('the screen', () => {
  const withoutWakeLock = (page: Page): Promise<unknown> =>
    page.addInitScript(() => {
      delete (Navigator.prototype as { wakeLock?: unknown }).wakeLock;
    });

  it('is kept on while something counts, and let go afterwards', async () => {
    const page = await openBench({
      prepare: (made) =>
        made.addInitScript(() => {
          const held = new Set<string>();
          Object.assign(globalThis, { held });
          Object.defineProperty(Navigator.prototype, 'wakeLock', {
            configurable: true,
            get: () => ({
              request: async (kind: string) => {
                held.add(kind);
                return { released: false, release: async () => held.delete(kind) };
              },
            }),
          });
        }),
    });
    const heldCount = () => page.evaluate(() => (globalThis as unknown as { held: Set<string> }).held.size);
    for (const { id } of await openBatches()) {
      await actElsewhere(shop.server.address, { batchId: id, type: 'scrap' });
    }
    await expect.poll(heldCount).toBe(0);
    await button(page, 'Plain timer').click();
    await page.getByLabel('Something else').fill(panel);
    await button(page, 'Start the timer').click();
    await expect.poll(heldCount).toBe(1);
    expect(await page.getByText(/may go dark/).count()).toBe(0);
    await slipOf(page, panel).getByRole('button', { name: 'Stop' }).click();
    await expect.poll(heldCount).toBe(0);
  });

  it('that may go dark says so once', async () => {
    await startOn(shop.server.address, { panel, mixedAt: ago(1) });
    const page = await openBench({ prepare: withoutWakeLock });
    await page.getByText(/may go dark while it counts/).waitFor();
    await expectFit(page);
    await button(page, 'OK').click();
    await page.getByText(/may go dark/).waitFor({ state: 'detached' });
    await page.reload();
    await slipOf(page, panel).waitFor();
    expect(await page.getByText(/may go dark/).count()).toBe(0);
  });

  it('has targets for a knuckle, and the main act where a thumb reaches it', async () => {
    await startOn(shop.server.address, { panel, mixedAt: ago(0.5) });
    const page = await openBench();
    await slipOf(page, panel).waitFor();
    const small = await page.locator('main :is(button, input, select), .dock button').evaluateAll((all) =>
      all
        .map((one) => ({ box: (one.closest('.chip') ?? one).getBoundingClientRect(), text: one.outerHTML }))
        .filter(({ box }) => box.width > 0 && (box.width < 44 || box.height < 44))
        .map(({ text }) => text),
    );
    expect(small).toEqual([]);
    const main = await page.locator('.slip .acts .first, .slip .pair button').first().boundingBox();
    const { height } = SIZES.phone;
    expect(main?.y).toBeGreaterThan(height / 3);
    expect((main?.y ?? 0) + (main?.height ?? 0)).toBeLessThanOrEqual(height);
  });
});
