// A shop computer in trouble, on every screen: said in one line with what to do, over work that goes on being seen, and
// gone by itself. One trouble is real (another program holds the store); the others are told by a snapshot that says so,
// since no test may fill a disk.
import { DatabaseSync } from '@photostructure/sqlite';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { SnapshotWire, TroubleWire } from '../../server/contract/index.ts';
import { expectFit, expectNoAxeViolation, expectNoSidewaysScroll } from '../support/browserChecks.ts';
import { type Look, PICTURES, type Size, SIZES, useBrowserShop } from '../support/browserShop.ts';
import { ago, sayTwoBays, startPanel } from '../support/fillFloor.ts';
import { postJson } from '../support/http.ts';

const shop = useBrowserShop({
  fillShop: async (address) => {
    await sayTwoBays(address);
    await startPanel(address, { panel: 'Left front door', bayId: 'bay-1', mixedAt: ago(12) });
    await startPanel(address, { panel: 'Bonnet', bayId: 'bay-2', mixedAt: ago(3) });
  },
});

const FULL: readonly TroubleWire[] = [{ part: 'ledger', code: 'full' }];
const DAMAGED: readonly TroubleWire[] = [{ part: 'integrity', code: 'damaged' }];
const MANY: readonly TroubleWire[] = [
  { part: 'ledger', code: 'read-only' },
  { part: 'broker', code: 'gone' },
  { part: 'outbox', code: 'late' },
];

interface Scene {
  readonly name: string;
  readonly path: string;
  readonly size: Size;
  readonly look: Look;
  readonly locale: 'en-GB' | 'es-MX';
  readonly troubles: readonly TroubleWire[];
  /** What must be said. */
  readonly says: RegExp;
  /** What must still be seen without scrolling. */
  readonly work: string;
}

const SCENES: readonly Scene[] = [
  scene('bench', ['/bench', 'phone', 'light', 'en-GB'], {
    troubles: FULL,
    says: /disk full/i,
    work: '.slip',
  }),
  scene('setup', ['/setup', 'phone', 'dark', 'es-MX'], {
    troubles: DAMAGED,
    says: /dañado/,
    work: 'main h1',
  }),
  scene('floor', ['/floor', 'desk', 'dark', 'en-GB'], {
    troubles: MANY,
    says: /cannot be written/,
    work: '.floor-row',
  }),
  scene('air', ['/air', 'desk', 'light', 'es-MX'], {
    troubles: FULL,
    says: /disco lleno/i,
    work: 'main h1',
  }),
  scene('records', ['/records', 'desk', 'light', 'en-GB'], {
    troubles: DAMAGED,
    says: /damaged/,
    work: 'main h1',
  }),
  scene('wall', ['/floor?wall=1', 'wall', 'dark', 'es-MX'], {
    troubles: DAMAGED,
    says: /dañado/,
    work: '.floor-row',
  }),
  scene('wall', ['/floor?wall=1', 'wall', 'light', 'en-GB'], {
    troubles: FULL,
    says: /disk full/i,
    work: '.floor-row',
  }),
];

function scene(
  name: string,
  [path, size, look, locale]: readonly [string, Size, Look, Scene['locale']],
  rest: Pick<Scene, 'troubles' | 'says' | 'work'>,
): Scene {
  return { name, path, size, look, locale, ...rest };
}

/** The shop's own snapshot, in trouble for as long as the test says. */
async function tellTroubles(page: Page, troublesNow: () => readonly TroubleWire[]): Promise<void> {
  await page.route('**/api/v1/snapshot', async (route) => {
    const response = await route.fetch();
    const snapshot = (await response.json()) as SnapshotWire;
    const troubles = [...troublesNow()];
    const outbox = troubles.some(({ part }) => part === 'outbox') ? 'late' : 'ok';
    await route.fulfill({ response, json: { ...snapshot, troubles, outbox } });
  });
}

describe('a shop computer in trouble', () => {
  it.each(SCENES)(
    'is told on $name ($size, $look, $locale), over work that is still seen, and gone by itself',
    async ({ name, path, size, look, locale, troubles, says, work }) => {
      let now = troubles;
      const viewport = SIZES[size];
      const page = await shop.open(path, {
        viewport,
        colorScheme: look,
        locale,
        reducedMotion: 'reduce',
        prepare: (made) => tellTroubles(made, () => now),
      });
      const line = page.getByText(says).first();
      await line.waitFor();
      await page.locator(work).first().waitFor();
      await page.screenshot({ path: `${PICTURES}/trouble-${name}-${size}-${look}.png` });
      const box = await page.locator(work).first().boundingBox();
      expect(box?.y ?? viewport.height).toBeLessThan(0.8 * viewport.height);
      if (name === 'wall') await expectNoAxeViolation(page, { isWall: true });
      else await expectFit(page);
      await expectNoSidewaysScroll(page);
      now = [];
      // The word that all is well comes as a resync; a page also asks by itself.
      await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
      await line.waitFor({ state: 'detached' });
    },
  );

  it('is told on every screen at once while another program holds the store, and forgotten when it lets go', async () => {
    const pages = await Promise.all(
      ['/bench', '/floor', '/setup'].map(async (path) => shop.open(path, { viewport: SIZES.desk })),
    );
    const { address, dataFolder } = shop.server;
    const say = async (airTemperatureC = 17): Promise<number> =>
      (await postJson({ address, path: '/readings' }, { sensorId: 'bay-1-air', airTemperatureC })).status;
    // The word of trouble goes to screens that follow live; until one does it would have to read the snapshot.
    expect(await say(17.7)).toBe(200);
    for (const page of pages) await page.getByText(/17\.7/).first().waitFor();
    await pages[0]?.waitForTimeout(2000);
    const other = new DatabaseSync(join(dataFolder, 'sandby.sqlite'));
    other.exec('BEGIN IMMEDIATE');
    try {
      expect(await say()).toBe(503);
      for (const page of pages)
        await page
          .getByText(/another program holds/i)
          .first()
          .waitFor();
    } finally {
      other.exec('ROLLBACK');
      other.close();
    }
    expect(await say()).toBe(200);
    for (const page of pages)
      await page
        .getByText(/another program holds/i)
        .first()
        .waitFor({ state: 'detached' });
  }, 60_000);
});
