// Kept copies in Setup: made by a key, listed with the newest first, downloaded as a file that opens, and told when they fail.
import { randomUUID } from 'node:crypto';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openSqliteStore } from '../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import { expectFit, tabTo } from '../support/browserChecks.ts';
import { PICTURES, SIZES, useBrowserShop } from '../support/browserShop.ts';
import { getJson, postJson } from '../support/http.ts';
import { makeTempFolder } from '../support/runServer.ts';

const shop = useBrowserShop();

const FAILED = {
  folder: 'copies',
  everyMin: 1440,
  quietTime: '02:30',
  keepCount: 14,
  making: false,
  nextAt: '2030-01-12T02:30:00.000Z',
  failure: { at: '2026-01-12T02:30:00.000Z', code: 'no-room', detail: 'the disk has 1 MB free' },
  copies: [
    {
      name: 'sandby-2026-01-11T02-30-00Z.sqlite',
      madeAt: '2026-01-11T02:30:00.000Z',
      sizeBytes: 194_113_536,
    },
    {
      name: 'sandby-2026-01-10T02-30-00Z.sqlite',
      madeAt: '2026-01-10T02:30:00.000Z',
      sizeBytes: 193_900_000,
    },
  ],
};

describe('a kept copy', () => {
  it('is made by a key, shown as the last good one, and downloaded as a file that opens as the shop', async () => {
    const page = await shop.open('/setup');
    const part = page.locator('#setup-copy');
    await part.getByText('none yet').waitFor();
    await part.getByText('within a few minutes').waitFor();
    await tabTo(page, /^Make a copy now/);
    await page.keyboard.press('Enter');
    await part.getByText(/is good and kept\.$/).waitFor();
    const { body } = await getJson(shop.server.address, '/copies');
    const [newest] = body['copies'] as { name: string }[];
    await part.locator('summary').click();
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      part.getByRole('link', { name: /^Download the copy of/ }).click(),
    ]);
    expect(download.suggestedFilename()).toBe(newest?.name);
    const file = join(makeTempFolder(), 'copy.sqlite');
    await download.saveAs(file);
    const { ledger } = openSqliteStore({ file, ledgerIdForNew: randomUUID() });
    expect(ledger.ledgerId).toBe((await getJson(shop.server.address, '/snapshot')).body['ledgerId']);
    await ledger.close();
  });

  it('that another device has made appears by itself', async () => {
    const page = await shop.open('/setup');
    await page.locator('#setup-copy').getByText('Last good copy').waitFor();
    expect((await postJson({ address: shop.server.address, path: '/copies' }, {})).status).toBe(201);
    await page
      .locator('#setup-copy summary')
      .getByText(/All \d copies/)
      .waitFor();
  });

  it.each([
    ['en-GB', 'phone', 'light', /too little room on the disk/],
    ['es-MX', 'wall', 'dark', /muy poco espacio/],
  ] as const)(
    'that could not be made is told in %s on a %s with the reason',
    async (locale, size, look, said) => {
      const page = await shop.open('/setup', {
        locale,
        viewport: SIZES[size],
        colorScheme: look,
        prepare: async (fresh) => fresh.route('**/api/v1/copies', (route) => route.fulfill({ json: FAILED })),
      });
      const part = page.locator('#setup-copy');
      await part.getByText(said).waitFor();
      await part.locator('summary').click();
      await expectFit(page);
      await part.screenshot({ path: join(PICTURES, `copies-${size}-${look}.png`) });
    },
  );
});
