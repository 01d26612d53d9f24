// The foreman's and the owner's look back, in a real Chromium against the built program: find, read, print, take along.
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { expectFit, tabTo } from '../support/browserChecks.ts';
import { type Look, LOOKS, PICTURES, SIZE_NAMES, SIZES, useBrowserShop } from '../support/browserShop.ts';
import { ago } from '../support/fillFloor.ts';
import { getJson, postJson } from '../support/http.ts';
import { parseCsv } from '../support/parseCsv.ts';

const shop = useBrowserShop();

async function open(
  path: string,
  viewport: { width: number; height: number } = SIZES.desk,
  colorScheme: Look = 'light',
): Promise<Page> {
  const page = await shop.open(path, { viewport, colorScheme, reducedMotion: 'reduce' });
  await page.getByRole('heading', { level: 1 }).waitFor();
  return page;
}

async function post(path: string, body: unknown): Promise<Record<string, unknown>> {
  const { status, body: answer } = await postJson({ address: shop.server.address, path }, body);
  if (status >= 300) throw new Error(`${path}: ${JSON.stringify(answer)}`);
  return answer;
}

/** Two coats on a door for one order, of which the first gummed, and a roof without an order that is still open. */
async function playMorning(): Promise<void> {
  for (let before = 180; before >= 0; before -= 10) {
    await post('/readings', {
      sensorId: 'bay-1-air',
      at: ago(before),
      airTemperatureC: 13,
      relativeHumidityPct: 55,
    });
  }
  const first = await mix({ repairOrder: '47/11', panel: 'Left front door', mixedAt: ago(150), by: 'MK' });
  await act(first, { type: 'markSpread', at: ago(146), by: 'MK' });
  await act(first, { type: 'recordCheck', outcome: 'gums', at: ago(122), by: 'MK' });
  await act(first, { type: 'recordCheck', outcome: 'powders', firstTry: false, at: ago(110), by: 'TO' });
  await act(first, { type: 'finishSanding', at: ago(95), by: 'TO' });
  const second = {
    repairOrder: '47/11',
    panel: 'Left front door',
    cardId: 'finishing-putty',
    thicknessMm: 0.5,
  };
  await mix({ ...second, mixedAt: ago(60), by: 'TO' });
  await mix({ panel: '=Roof', mixedAt: ago(5), by: 'RA' });
}

async function mix(body: Record<string, unknown>): Promise<string> {
  const plain = { cardId: 'body-filler', bayId: 'bay-1', thicknessMm: 2, substrate: 'steel' };
  return String((await post('/batches', { ...plain, ...body }))['id']);
}

async function act(batchId: string, body: Record<string, unknown>): Promise<void> {
  await post(`/batches/${batchId}/commands`, body);
}

describe('records of a shop that has not begun', () => {
  it('say what to do and lead there', async () => {
    const page = await open('/records');
    await page.getByText('Nothing is kept yet.').waitFor();
    await page.getByText(/No closed batch has been tested yet/).waitFor();
    await expectFit(page);
    await page.getByRole('link', { name: 'Go to Bench' }).click();
    await page.getByRole('button', { name: 'Mix', exact: true }).waitFor();
    expect(new URL(page.url()).pathname).toBe('/bench');
  });
});

describe('records', () => {
  it('lie by repair order with what the window had said and what happened', async () => {
    await playMorning();
    const page = await open('/records');
    await page.getByRole('heading', { name: 'All of RO 47/11 on one page' }).waitFor();
    await page.getByText('3 batches').waitFor();
    const door = page.getByRole('article', { name: /Left front door Body filler/ });
    await door.getByText(/First test .*the window said .* it gummed\. It powdered at/).waitFor();
    const band = door.getByRole('img');
    expect(await band.getAttribute('aria-label')).toMatch(
      /Mixed .* Tested: .*gums, MK, .*powders, not the first try, TO/,
    );
    await door.getByText('The whole record').click();
    await door.getByText('13.0 °C, 55 % humidity at mixing').waitFor();
    await door.getByText(/Acknowledged with Start at .* by MK/).waitFor();
  });

  it('are found by person, by text and by day, and say so when none is', async () => {
    const page = await open('/records');
    await page.getByText('3 batches').waitFor();
    await page.getByLabel('Person (initials)').fill('RA');
    await page.getByRole('button', { name: 'Find' }).click();
    await page.getByText('1 batch found').waitFor();
    await page.getByLabel('Product').selectOption({ label: 'Winter filler' });
    await page.getByText('No batch matches.').waitFor();
    await page.getByRole('button', { name: 'Show everything' }).click();
    await page.getByText('3 batches').waitFor();
    await page.getByLabel('From day').fill('2026-01-13');
    await page.getByLabel('To day').fill('2026-01-12');
    await page.getByText('This day lies after the last one.').waitFor();
    await page.getByLabel('To day').fill('');
    await page.getByLabel('From day').fill('');
    await page.getByLabel('Person (initials)').fill('MUCHTOOLONG');
    await page.getByRole('button', { name: 'Find' }).click();
    await page.getByText('Not searched: at most 8 characters.').waitFor();
  });

  it('open one repair order on a page, in the order of its coats, by keyboard alone, and come back', async () => {
    const page = await open('/records');
    await page.getByRole('link', { name: 'All of RO 47/11 on one page' }).waitFor();
    await tabTo(page, /^All of RO 47\/11 on one page$/);
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: 'RO 47/11' }).waitFor();
    expect(new URL(page.url()).pathname).toBe('/records/47%2F11');
    await page.getByText('Sanding began').first().waitFor();
    expect(await page.getByRole('article').count()).toBe(2);
    expect(await page.getByRole('article').first().textContent()).toContain('Body filler');
    await page.keyboard.press('Shift+Tab');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: 'Records' }).waitFor();
    await page.goBack();
    await page.getByRole('heading', { level: 1, name: 'RO 47/11' }).waitFor();
    await page.reload();
    await page.getByRole('heading', { level: 1, name: 'RO 47/11' }).waitFor();
  });

  it('tell of an order that nobody knows', async () => {
    const page = await open('/records/nobody');
    await page.getByText('No batch was mixed for repair order nobody.').waitFor();
    await expectFit(page);
  });

  it('go along as a table with the same filter, panels that look like formulas made harmless', async () => {
    const page = await open('/records');
    await page.getByLabel('Panel, repair order, anything').fill('roof');
    await page.keyboard.press('Enter');
    await page.getByText('1 batch found').waitFor();
    const started = page.waitForEvent('download');
    await page.getByRole('link', { name: 'Table (CSV)' }).click();
    const download = await started;
    expect(download.suggestedFilename()).toMatch(/^sandby-records-\d{4}-\d\d-\d\d\.csv$/);
    const chunks: Buffer[] = [];
    for await (const chunk of await download.createReadStream()) chunks.push(chunk as Buffer);
    const text = Buffer.concat(chunks).toString('utf8');
    expect(text.codePointAt(0)).toBe(0xfe_ff);
    const [headings = [], ...rows] = parseCsv(text.slice(1));
    expect(rows.map((row) => row[headings.indexOf('panel')])).toEqual(["'=Roof"]);
  });

  it('are printed black on white without anything to tap, one order after another on its own page', async () => {
    const page = await open('/records', SIZES.desk, 'dark');
    await page.getByRole('heading', { name: 'All of RO 47/11 on one page' }).waitFor();
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    for (const name of ['Print', 'Find']) {
      expect(await page.getByRole('button', { name, exact: true }).isVisible()).toBe(false);
    }
    expect(await page.getByRole('navigation').first().isVisible()).toBe(false);
    // What is folded up on the screen is on paper.
    expect(await page.getByText('Sanding began').first().isVisible()).toBe(true);
    const paint = await page.evaluate(() => {
      const { backgroundColor, color } = getComputedStyle(document.documentElement);
      return [backgroundColor, color];
    });
    expect(paint).toEqual(['rgb(255, 255, 255)', 'rgb(0, 0, 0)']);
    await page.emulateMedia({ media: null });
    expect(pagesOf(await page.pdf({ format: 'A4' }))).toBeGreaterThanOrEqual(2);
  });

  it('show how good the estimates were as a picture that readers have as text and as a table', async () => {
    const { body } = await getJson(shop.server.address, '/reliability');
    expect(body['batchCount']).toBe(1);
    const page = await open('/setup');
    await page.getByRole('link', { name: 'How good the estimates were stands in Records' }).click();
    const part = page.getByRole('region', { name: 'How good the estimates were' });
    const picture = part.getByRole('img');
    expect(await picture.getAttribute('aria-label')).toMatch(
      /Said \d+\s%.*: 0 of 1 powdered, bounds 0\s% to 79\s%/,
    );
    await part.getByText('The same as a table').click();
    expect(await part.getByRole('row').count()).toBe(6);
    await part.getByText('0/1').last().waitFor();
  });

  it.each(SIZE_NAMES)('fit a %s in light and dark, with no fault that axe can see', async (size) => {
    for (const colorScheme of LOOKS) {
      const page = await open('/records', SIZES[size], colorScheme);
      await page.getByText('3 batches').waitFor();
      await page.getByRole('region', { name: 'How good the estimates were' }).getByRole('img').waitFor();
      await page.screenshot({ path: `${PICTURES}/records-${size}-${colorScheme}.png` });
      await expectFit(page);
      await page.goto(`${shop.server.address}/records/47%2F11`);
      await page.getByText('Sanding began').first().waitFor();
      await page.screenshot({ path: `${PICTURES}/order-${size}-${colorScheme}.png` });
      await expectFit(page);
    }
  });

  it('fit the narrowest phone, everything unfolded', async () => {
    const page = await open('/records', { width: 360, height: 740 });
    await page.getByText('3 batches').waitFor();
    for (const summary of await page.locator('summary').all()) await summary.click();
    await expectFit(page);
  });

  it('say so when they cannot be read, and are read again on demand', async () => {
    const page = await open('/records');
    await page.getByText('3 batches').waitFor();
    await page.route('**/api/v1/records?**', (route) => route.abort());
    await page.getByLabel('Bay', { exact: true }).selectOption({ label: 'Bay 2' });
    await page.getByText(/could not be read/).waitFor();
    await page.unroute('**/api/v1/records?**');
    await page.getByRole('button', { name: 'Read them again' }).click();
    await page.getByText('No batch matches.').waitFor();
  });
});

/** How many pages a PDF says it has: its page tree's largest count. */
function pagesOf(pdf: Buffer): number {
  return Math.max(
    ...[...pdf.toString('latin1').matchAll(/\/Count (\d+)/g)].map(([, count]) => Number(count)),
  );
}
