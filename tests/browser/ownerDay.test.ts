// An owner's look back in a real Chromium against the built program: the cold Tuesday morning, what it cost and why, what a
// warmer one would take away, and that day's records to read and to take along; with a mouse and from the keyboard alone.
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { instantFromMs } from '../../server/contract/index.ts';
import { expectFit } from '../support/browserChecks.ts';
import { PICTURES, SIZES, useBrowserShop } from '../support/browserShop.ts';
import { type FilledWeeks, fillWeeks } from '../support/fillWeeks.ts';
import { type Hands, keys, mouse } from '../support/hands.ts';
import { getJson } from '../support/http.ts';
import { parseCsv } from '../support/parseCsv.ts';

interface Day {
  readonly page: Page;
  readonly hands: Hands;
}

const DAY_MS = 86_400_000;
const LIMIT_MS = 90_000;
/** Batches of each working day that fillWeeks mixes. */
const MIXES_COUNT = 5;
let filled: FilledWeeks;
const shop = useBrowserShop({
  fillFolder: async (dataFolder) => {
    filled = await fillWeeks(join(dataFolder, 'sandby.sqlite'), instantFromMs(Date.now()));
  },
  limitMs: 120_000,
});

describe('an owner who asks where last week went', () => {
  it(
    'finds the cold Tuesday morning, what it cost and its records, with a mouse',
    { timeout: LIMIT_MS },
    () => playLookBack(mouse),
  );

  it('does the same from the keyboard alone', { timeout: LIMIT_MS }, () => playLookBack(keys));
});

async function playLookBack(hands: Hands): Promise<void> {
  const page = await shop.open('/air', { viewport: SIZES.desk, acceptDownloads: true });
  const day: Day = { page, hands };
  await findTuesday(day);
  await readWhy(day);
  await tryWarmer(day);
  await openRecords(day);
  const told = await readOrder(day);
  await compareTable(day, told);
}

/** Last week, and in it the day with the longest bar. */
async function findTuesday({ page, hands }: Day): Promise<void> {
  await hands.use(page.getByRole('button', { name: 'Week before' }));
  await page.getByText(/^Last week the cold in Bay 1 cost \d+ minutes of curing/).waitFor();
  const bars = page
    .getByRole('region', { name: 'Added minutes a day' })
    .or(page.locator('.air-bars[data-kind="day"]'));
  const costs = await Promise.all(
    (await bars.getByRole('button').all()).map(async (bar) => ({
      minutes: numberIn(await bar.textContent(), /(\d+) minutes?/),
      name: (await bar.textContent()) ?? '',
    })),
  );
  const [worst] = costs.toSorted((a, b) => b.minutes - a.minutes);
  expect(worst?.name).toMatch(new RegExp(`^Tue ${new Date(filled.tuesdayAt).getUTCDate()}`));
  await hands.use(bars.getByRole('button', { name: /^Tue/ }));
}

/** The minutes of that day, its causes with shares that make a whole, and the hours in the map of the weeks. */
async function readWhy({ page }: Day): Promise<void> {
  const { body } = await getJson(shop.server.address, `/bays/bay-1/cost?${spanOf(filled.tuesdayAt)}`);
  const addedMin = Math.round(Number(body['addedMin']));
  expect(addedMin).toBeGreaterThan(60);
  await page
    .getByText(new RegExp(`^(On Tue|Yesterday|Today).* the cold in Bay 1 cost ${addedMin} minutes of curing`))
    .waitFor();
  const causes = page.locator('.air-causes').getByRole('listitem');
  const texts = await causes.allTextContents();
  expect(texts[0]).toMatch(/^Heating off/);
  const shares = texts.map((text) => numberIn(text, /(\d+)\s*%/));
  expect(shares[0]).toBeGreaterThan(50);
  expect(Math.abs(shares.reduce((sum, share) => sum + share, 0) - 100)).toBeLessThanOrEqual(shares.length);
  const cold = await mapCellOf(page, 'Tue', 8);
  const usual = await mapCellOf(page, 'Thu', 8);
  expect(cold).toMatch(/^[\d.]+×, \d+ min lost$/);
  expect(numberIn(cold, /^([\d.]+)×/)).toBeGreaterThan(numberIn(usual, /^([\d.]+)×/));
}

/** What 18 °C from six to ten would take away, with its range; and warmer takes away more. */
async function tryWarmer({ page, hands }: Day): Promise<void> {
  const sentence = page.getByText(/^That takes away about/);
  const read = async (): Promise<{ taken: number; whole: number; low: number; high: number }> => {
    const text = await sentence.textContent();
    return {
      taken: numberIn(text, /about (\d+) of/),
      whole: numberIn(text, /of these (\d+) minutes/),
      low: numberIn(text, /likely (\d+) to/),
      high: numberIn(text, /to (\d+)\.$/),
    };
  };
  const { taken, whole, low, high } = await read();
  expect(taken).toBeGreaterThan(10);
  expect(taken).toBeLessThan(whole);
  expect(low).toBeLessThan(taken);
  expect(high).toBeGreaterThan(taken);
  await hands.pick(page.getByRole('combobox', { name: 'At' }), '22\u00a0°C');
  await expect.poll(async () => (await read()).taken).toBeGreaterThan(taken);
  await page.screenshot({ path: `${PICTURES}/owner-tuesday-desk-light.png`, fullPage: true });
  await expectFit(page);
}

/** The records of that day: one car with all its batches. */
async function openRecords({ page, hands }: Day): Promise<void> {
  await hands.use(page.getByRole('navigation', { name: 'Screens' }).getByRole('link', { name: 'Records' }));
  const date = new Date(filled.tuesdayAt).toISOString().slice(0, 10);
  for (const field of ['From day', 'To day']) await hands.writeDay(page.getByLabel(field), date);
  await page.getByText(`${MIXES_COUNT} batches found`).waitFor();
}

/** Each batch tells its window beside what happened. */
async function readOrder({ page, hands }: Day): Promise<string[]> {
  const { tuesdayOrder } = filled;
  await hands.use(page.getByRole('link', { name: `All of RO ${tuesdayOrder} on one page` }));
  await page.getByRole('heading', { level: 1, name: `RO ${tuesdayOrder}` }).waitFor();
  const articles = page.getByRole('article');
  await expect.poll(() => articles.count()).toBe(MIXES_COUNT);
  const told: string[] = [];
  for (const article of await articles.all()) {
    const text = (await article.textContent()) ?? '';
    expect(text).toMatch(/First test \d\d:\d\d: the window said .*%, it powdered, .* the window\./);
    told.push(`${String(await article.getByRole('img').getAttribute('aria-label'))} ${text}`);
  }
  await page.screenshot({ path: `${PICTURES}/owner-order-desk-light.png` });
  await expectFit(page);
  return told;
}

/** The table of the same day says the same: panel, window and first test of each batch, to the minute. */
async function compareTable({ page, hands }: Day, told: readonly string[]): Promise<void> {
  await hands.use(page.getByRole('link', { name: 'All records' }));
  await page.getByText(`${MIXES_COUNT} batches found`).waitFor();
  const started = page.waitForEvent('download');
  await hands.use(page.getByRole('link', { name: 'Table (CSV)' }));
  const text = await readFile(await (await started).path(), 'utf8');
  const [headings = [], ...rows] = parseCsv(text.replace(/^\uFEFF/, ''));
  expect(rows).toHaveLength(MIXES_COUNT);
  const cell = (row: readonly string[], heading: string): string => row[headings.indexOf(heading)] ?? '';
  const clock = (row: readonly string[], heading: string): string => cell(row, heading).slice(11, 16);
  for (const row of rows) {
    expect(cell(row, 'repair order')).toBe(filled.tuesdayOrder);
    const p10 = clock(row, 'test P10 at (UTC)');
    const p90 = clock(row, 'test P90 at (UTC)');
    const words = [
      `Mixed ${clock(row, 'mixed at (UTC)')}.`,
      `ran from ${p10} to ${p90}, half by ${clock(row, 'test P50 at (UTC)')}.`,
      `First test ${clock(row, 'first check at (UTC)')}:`,
      cell(row, 'panel'),
    ];
    expect(told.filter((one) => words.every((word) => one.includes(word)))).toHaveLength(1);
  }
}

function spanOf(dayAt: number): string {
  return `from=${new Date(dayAt).toISOString()}&to=${new Date(dayAt + DAY_MS).toISOString()}`;
}

async function mapCellOf(page: Page, weekday: string, hourIndex: number): Promise<string> {
  const row: Locator = page
    .getByRole('table', { name: 'When this bay is slow' })
    .getByRole('row')
    .filter({ has: page.getByRole('rowheader', { name: weekday }) });
  return (await row.getByRole('cell').nth(hourIndex).textContent()) ?? '';
}

function numberIn(text: string | null, pattern: RegExp): number {
  return Number(pattern.exec(text ?? '')?.[1]);
}
