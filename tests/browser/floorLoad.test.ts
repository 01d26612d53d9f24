// Floor under load in a real Chromium: two hundred rows that scroll, and a wall that has been up for a week.
// What depends on the machine and on what else it does is printed beside its budget; what would only grow is asserted.
import type { CDPSession, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { formatFrames, formatLoad, watchFrames } from '../support/browserFrames.ts';
import { SIZES, useBrowserShop } from '../support/browserShop.ts';
import { ago, sayTwoBays, startPanel } from '../support/fillFloor.ts';
import { postJson } from '../support/http.ts';
import { countFor } from '../support/testSize.ts';

const ROWS_COUNT = 200;
const SCROLL_PX = 6000;
const SCROLL_PX_PER_S = 2400;
const SETTLE_MS = 2500;
/** Until the browser has made its own work of the page: compiled it, filled its caches. */
const WARM_S = 1800;
const TICKED_S = countFor({ usual: 3600, nightly: 10_800 });

interface Held {
  readonly nodeCount: number;
  readonly listenerCount: number;
  readonly heapKib: number;
}

const shop = useBrowserShop({ fillShop: startPanels, limitMs: 120_000 });

async function startPanels(address: string): Promise<void> {
  await sayTwoBays(address);
  for (let index = 0; index < ROWS_COUNT; index += 1) {
    const promise = index % 2 === 0 ? {} : { promisedAt: ago(-60 - index), remainingWorkMin: 30 };
    const bayId = index % 3 === 0 ? 'bay-1' : 'bay-2';
    await startPanel(address, { panel: `Panel ${index + 1}`, bayId, mixedAt: ago(index % 40), ...promise });
  }
}

/** A wall whose clock the test turns. */
async function openWall(): Promise<{ page: Page; devtools: CDPSession }> {
  const page = await shop.open('/floor?wall=1', {
    viewport: SIZES.wall,
    prepare: (made) => made.clock.install(),
  });
  await page.locator('.floor-row').first().waitFor();
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('Performance.enable');
  return { page, devtools };
}

/** What the page holds once its questions are answered and everything that nobody needs any more is gone. */
async function weigh(page: Page, devtools: CDPSession): Promise<Held> {
  await page.waitForTimeout(SETTLE_MS);
  await devtools.send('HeapProfiler.collectGarbage');
  const { metrics } = await devtools.send('Performance.getMetrics');
  const of = (name: string): number => metrics.find((metric) => metric.name === name)?.value ?? Number.NaN;
  return {
    nodeCount: of('Nodes'),
    listenerCount: of('JSEventListeners'),
    heapKib: of('JSHeapUsedSize') / 1024,
  };
}

function formatHeld(before: Held, after: Held): string {
  return (
    `${before.nodeCount} → ${after.nodeCount} nodes, ${before.listenerCount} → ${after.listenerCount} listeners, ` +
    `${(before.heapKib / 1024).toFixed(1)} → ${(after.heapKib / 1024).toFixed(1)} MiB`
  );
}

/** Pages of the wall hold a few rows more or less; half a KiB kept of each tick, or ten of each change, would be seen. */
function expectNoGrowth(before: Held, after: Held): void {
  expect(after.nodeCount).toBeLessThan(1.3 * before.nodeCount + 1000);
  expect(after.listenerCount).toBeLessThan(1.3 * before.listenerCount + 20);
  expect(after.heapKib).toBeLessThan(1.2 * before.heapKib + 1024);
}

describe('two hundred rows', () => {
  it('scroll without dropped frames', async () => {
    const page = await shop.open('/floor');
    await page.getByText(`Panel ${ROWS_COUNT}`, { exact: true }).first().waitFor({ state: 'attached' });
    await page.waitForTimeout(1500);
    const devtools = await page.context().newCDPSession(page);
    const scroll = async (distancePx: number): Promise<void> => {
      await devtools.send('Input.synthesizeScrollGesture', {
        x: SIZES.desk.width / 3,
        y: SIZES.desk.height / 2,
        yDistance: distancePx,
        speed: SCROLL_PX_PER_S,
        gestureSourceType: 'mouse',
      });
    };
    const frames = await watchFrames(page, async () => {
      await scroll(-SCROLL_PX);
      expect(await page.evaluate(() => scrollY)).toBeGreaterThan(SCROLL_PX / 2);
      await scroll(SCROLL_PX);
    });
    process.stdout.write(
      `floor of ${ROWS_COUNT} rows scrolled down and up: ${formatFrames(frames)}; budget none frozen, ` +
        `within budget: ${frames.frozenCount === 0 ? 'yes' : 'no'} (${formatLoad()})\n`,
    );
    expect(frames.frameCount).toBeGreaterThan(50);
  }, 60_000);
});

describe('a wall that stays up', () => {
  it('turns its pages by itself, and after a week of changes it holds no more than before', async () => {
    const { page, devtools } = await openWall();
    const firstPage = await page.locator('.floor-row').allTextContents();
    /** Hours of the page's own clock, with a change of the shop in between. */
    const live = async (hours: number): Promise<void> => {
      for (let hour = 0; hour < hours; hour += 1) {
        const airTemperatureC = 15 + (hour % 5);
        await postJson(
          { address: shop.server.address, path: '/readings' },
          { sensorId: 'bay-1-air', airTemperatureC },
        );
        await page.clock.fastForward(60 * 60_000);
      }
    };
    await live(24);
    expect(await page.locator('.floor-row').count()).toBeLessThan(14);
    expect(await page.locator('.floor-row').allTextContents()).not.toEqual(firstPage);
    const before = await weigh(page, devtools);
    await live(7 * 24);
    const after = await weigh(page, devtools);
    process.stdout.write(`wall after a week of hourly changes: ${formatHeld(before, after)}\n`);
    expectNoGrowth(before, after);
  }, 120_000);

  // What grows grows each time; what the browser has not yet collected it collects the next time.
  it(
    'counts every second of some hours without keeping anything of them',
    { timeout: 180_000, retry: 1 },
    async () => {
      const { page, devtools } = await openWall();
      const count = async (seconds: number): Promise<void> => {
        for (let done = 0; done < seconds; done += 600) await page.clock.runFor(600_000);
      };
      await count(WARM_S);
      const before = await weigh(page, devtools);
      await count(TICKED_S);
      const after = await weigh(page, devtools);
      process.stdout.write(`wall after ${TICKED_S} seconds, each counted: ${formatHeld(before, after)}\n`);
      expectNoGrowth(before, after);
    },
  );
});
