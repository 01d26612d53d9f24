// A technician's morning in a real Chromium: three overlapping batches of two products on three panels, once with a finger on
// a phone and once from the keyboard alone. The shop's minutes pass when the story says so.
import type { Locator, Page } from 'playwright-core';
import { afterEach, describe, expect, it } from 'vitest';
import { batchesOf, button, slipOf } from '../support/benchDesk.ts';
import { expectFit } from '../support/browserChecks.ts';
import { PICTURES, SIZES, useBrowserShop } from '../support/browserShop.ts';
import { expectTargets, type Hands, keys, touch } from '../support/hands.ts';
import { getJson } from '../support/http.ts';
import { openSkippingShop, type SkippingShop } from '../support/skippingShop.ts';

interface Day {
  readonly page: Page;
  readonly hands: Hands;
  readonly shop: SkippingShop;
  /** Holds the size of every target, where fingers are the hands. */
  readonly lookAtTargets: () => Promise<void>;
  readonly takePicture: (name: string) => Promise<void>;
}

interface OpenBatch {
  readonly panel: string;
  readonly stage: string;
  readonly by: string;
  readonly estimate: { readonly test: { readonly p10At: string; readonly p50At: string } };
}

const browser = useBrowserShop();
let shop: SkippingShop | null = null;

afterEach(async () => {
  await shop?.close();
  shop = null;
});

const DOOR = 'Left front door';
const LIMIT_MS = 120_000;
const WAIT_MAX_MIN = 60;

describe('a technician with three batches', () => {
  it(
    'mixes, spreads, tests, sands and goes on to the next layer with a finger on a phone',
    { timeout: LIMIT_MS },
    () => playMorning(touch, 'phone'),
  );

  it('does the same from the keyboard alone', { timeout: LIMIT_MS }, () => playMorning(keys, 'desk'));
});

async function playMorning(hands: Hands, size: 'phone' | 'desk'): Promise<void> {
  shop = await openSkippingShop();
  const page = await browser.open('/bench', {
    address: shop.address,
    viewport: SIZES[size],
    hasTouch: size === 'phone',
  });
  const day: Day = {
    page,
    hands,
    shop,
    lookAtTargets: async () => (size === 'phone' ? expectTargets(page) : undefined),
    takePicture: async (name) => {
      await page.evaluate(() => scrollTo(0, 0));
      await page.screenshot({ path: `${PICTURES}/technician-${name}-${size}-light.png` });
    },
  };
  await sayWhoseHands(day);
  await mixThree(day);
  await spreadThree(day);
  await readOrder(day);
  const panel = (await panelsOf(page))[0] ?? '';
  await sayGums(day, panel);
  await sayPowders(day, panel);
  await goOn(day, panel);
}

async function sayWhoseHands({ page, hands, lookAtTargets }: Day): Promise<void> {
  await hands.use(page.getByRole('button', { name: /^Settings/ }));
  await lookAtTargets();
  await hands.choose(
    page.getByRole('radiogroup', { name: 'Who uses it' }).getByRole('radio', { name: 'MK' }),
  );
  await hands.leave(page);
}

/** The first mix went wrong and is taken back: the same again is two taps. */
async function mixThree(day: Day): Promise<void> {
  const { page, hands, lookAtTargets } = day;
  await mix(day, { product: 'Body filler', panel: DOOR, thickness: '2 mm' });
  await lookAtTargets();
  await hands.use(undoOnToast(page));
  await slipOf(page, DOOR).waitFor({ state: 'detached' });
  await hands.use(button(page, 'Same again'));
  await lookAtTargets();
  await hands.use(startButton(page));
  await slipOf(page, DOOR).waitFor();
  await day.shop.passMinutes(1);
  await mix(day, { product: 'Finishing putty', panel: 'Bonnet', thickness: '0.5 mm' });
  await day.shop.passMinutes(1);
  await mix(day, { product: 'Body filler', panel: 'Roof', thickness: '4 mm' });
  expect(await panelsOf(page)).toHaveLength(3);
  await lookAtTargets();
}

async function mix(
  { page, hands, lookAtTargets }: Day,
  chosen: { readonly product: string; readonly panel: string; readonly thickness: string },
): Promise<void> {
  await hands.use(button(page, 'Mix'));
  await lookAtTargets();
  for (const [group, name] of [
    ['Product', chosen.product],
    ['Panel', chosen.panel],
    ['Thickness', chosen.thickness],
  ] as const) {
    await hands.choose(
      page.getByRole('radiogroup', { name: group }).getByRole('radio', { name, exact: true }),
    );
  }
  await hands.use(startButton(page));
  await slipOf(page, chosen.panel).waitFor();
}

/** One of them is noted two minutes late. */
async function spreadThree({
  page,
  hands,
  shop: { address, passMinutes },
  lookAtTargets,
}: Day): Promise<void> {
  await passMinutes(1);
  await hands.use(onSlip(page, DOOR, 'More'));
  await lookAtTargets();
  const sheet = page.getByRole('dialog');
  await hands.choose(sheet.getByRole('radio', { name: '2 min ago' }));
  await hands.use(sheet.getByRole('button', { name: 'Spread', exact: true }));
  await sheet.waitFor({ state: 'detached' });
  for (const panel of ['Bonnet', 'Roof']) {
    await hands.use(onSlip(page, panel, 'Spread'));
    await onSlip(page, panel, 'Spread').waitFor({ state: 'detached' });
  }
  const door = (await batchesOf(address, DOOR)).find(({ stage }) => stage !== 'scrapped');
  const [bonnet] = await batchesOf(address, 'Bonnet');
  const laterMs = Date.parse(String(bonnet?.spreadAt)) - Date.parse(String(door?.spreadAt));
  expect(laterMs / 60_000).toBeGreaterThan(1.9);
  expect(laterMs / 60_000).toBeLessThan(3);
}

/** What needs a hand next stands on top: the countdowns rise from slip to slip. */
async function readOrder({ page, shop: { passMinutes }, takePicture }: Day): Promise<void> {
  await passMinutes(6);
  const timers = page.getByRole('timer');
  const minutesRead = async (): Promise<number[]> =>
    (await timers.allTextContents()).map((text) => Number(/test in\s*(\d+)\s*min/.exec(text)?.[1]));
  await expect.poll(minutesRead).not.toContain(Number.NaN);
  const minutes = await minutesRead();
  expect(minutes).toHaveLength(3);
  expect(minutes).toEqual(minutes.toSorted((a, b) => a - b));
  await takePicture('stack');
  await expectFit(page);
}

/** The first call: it gums, and gets a window that is new and later. */
async function sayGums(day: Day, panel: string): Promise<void> {
  const {
    page,
    hands,
    shop: { address },
  } = day;
  await passUntilCalled(day, panel);
  expect((await panelsOf(page))[0]).toBe(panel);
  const called = (await openBatch(address, panel)).estimate.test;
  await day.lookAtTargets();
  await day.takePicture('call');
  await hands.use(onSlip(page, panel, 'Gums'));
  await expect.poll(async () => (await openBatch(address, panel)).stage).toBe('kicked');
  const later = (await openBatch(address, panel)).estimate.test;
  expect(Date.parse(later.p10At)).toBeGreaterThan(Date.parse(called.p10At));
  expect(Date.parse(later.p50At)).toBeGreaterThan(Date.parse(called.p50At));
  await slipOf(page, panel)
    .getByRole('timer')
    .filter({ hasText: /test in.*min/ })
    .waitFor();
}

/** The second call: it powders, which was not the first try. */
async function sayPowders(day: Day, panel: string): Promise<void> {
  const {
    page,
    hands,
    shop: { address },
  } = day;
  await passUntilCalled(day, panel);
  await hands.use(onSlip(page, panel, 'Powders'));
  await slipOf(page, panel).getByText('First try?').waitFor();
  await day.lookAtTargets();
  await hands.use(onSlip(page, panel, 'No'));
  await expect.poll(async () => (await openBatch(address, panel)).stage).toBe('sanding');
}

/** Sanded, but a corner was left: undone, sanded again, and on to the next layer that Bench offers. */
async function goOn(day: Day, panel: string): Promise<void> {
  const {
    page,
    hands,
    shop: { address, passMinutes },
  } = day;
  await passMinutes(3);
  await hands.use(onSlip(page, panel, 'Sanded'));
  await slipOf(page, panel).waitFor({ state: 'detached' });
  await hands.use(undoOnToast(page));
  await hands.use(onSlip(page, panel, 'Sanded'));
  await slipOf(page, panel).waitFor({ state: 'detached' });
  await day.lookAtTargets();
  await hands.use(button(page, `Next layer on ${panel}`));
  await day.lookAtTargets();
  await hands.use(startButton(page));
  await slipOf(page, panel).waitFor();
  const layer = (await batchesOf(address, panel)).find(({ stage }) => stage === 'wet');
  expect(layer?.underlayMm).toBeGreaterThan(0);
  expect((await openBatches(address)).map((batch) => batch.panel).toSorted()).toEqual([
    'Bonnet',
    DOOR,
    'Roof',
  ]);
  expect((await openBatches(address)).map(({ by }) => by)).toEqual(['MK', 'MK', 'MK']);
  await day.takePicture('layer');
}

/** Lets minutes pass until the shop calls for a test, and Bench with it. */
async function passUntilCalled({ page, shop: { passMinutes } }: Day, panel: string): Promise<void> {
  const alert = page.locator('.alert').filter({ hasText: panel });
  for (let waitedMin = 0; waitedMin < WAIT_MAX_MIN && (await alert.count()) === 0; waitedMin += 1) {
    await passMinutes(1);
  }
  await alert.waitFor();
  await slipOf(page, panel)
    .getByRole('timer')
    .filter({ hasText: /test now|waiting/i })
    .waitFor();
}

function onSlip(page: Page, panel: string, name: string): Locator {
  return slipOf(page, panel).getByRole('button', { name, exact: true });
}

function startButton(page: Page): Locator {
  return page.getByRole('dialog').getByRole('button', { name: 'Start', exact: true });
}

function undoOnToast(page: Page): Locator {
  return page.locator('.toast').getByRole('button', { name: 'Undo' });
}

async function panelsOf(page: Page): Promise<string[]> {
  return page.locator('.stack .slip-panel').allTextContents();
}

async function openBatches(address: string): Promise<OpenBatch[]> {
  const { body } = await getJson(address, '/batches?open=true');
  return body['batches'] as OpenBatch[];
}

async function openBatch(address: string, panel: string): Promise<OpenBatch> {
  const batch = (await openBatches(address)).find((one) => one.panel === panel);
  if (batch === undefined) throw new Error(`no open batch on ${panel}`);
  return batch;
}
