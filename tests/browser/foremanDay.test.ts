// A foreman's quarter of an hour in a real Chromium against the built program: which promise is in danger and why, what would
// help, the panel moved with the effect told before, and the wall; once with a mouse and once from the keyboard alone.
import type { Locator, Page } from 'playwright-core';
import { afterEach, describe, expect, it } from 'vitest';
import { actElsewhere } from '../support/benchDesk.ts';
import { expectFit } from '../support/browserChecks.ts';
import { PICTURES, SIZES, useBrowserShop } from '../support/browserShop.ts';
import { ago, sayTwoBays, startPanel } from '../support/fillFloor.ts';
import { type Hands, keys, mouse } from '../support/hands.ts';
import { getJson } from '../support/http.ts';

interface Day {
  readonly page: Page;
  readonly hands: Hands;
}

interface PlanEntry {
  readonly batchId: string;
  readonly panel: string;
  readonly slackMin: number | null;
  readonly danger: { readonly kind: string; readonly byMin: number } | null;
}

const shop = useBrowserShop({ fillShop: sayTwoBays });
const LIMIT_MS = 90_000;
/** Minutes are told whole, and some seconds pass between telling and doing. */
const NEAR_MIN = 2;

afterEach(async () => {
  for (const { batchId } of await readPlan()) {
    await actElsewhere(shop.server.address, { batchId, type: 'scrap' });
  }
});

describe('a foreman with a promise in danger', () => {
  it('sees why, moves the panel to the warm bay and has it safe, with a mouse', { timeout: LIMIT_MS }, () =>
    playQuarter(mouse),
  );

  it('does the same from the keyboard alone', { timeout: LIMIT_MS }, () => playQuarter(keys));
});

async function playQuarter(hands: Hands): Promise<void> {
  const { address } = shop.server;
  const promise = { promisedAt: ago(-85), remainingWorkMin: 50 };
  await startPanel(address, { panel: 'Bonnet', ...promise, mixedAt: ago(1), by: 'MK' });
  await actElsewhere(address, { batchId: (await entryOf('Bonnet')).batchId, type: 'markSpread' });
  const easy = { promisedAt: ago(-240), remainingWorkMin: 30 };
  await startPanel(address, { panel: 'Boot lid', bayId: 'bay-2', ...easy, mixedAt: ago(5), by: 'TO' });
  await startPanel(address, { panel: 'Roof', bayId: 'bay-2', mixedAt: ago(14), by: 'TO' });
  await startPanel(address, { panel: 'Sill', mixedAt: ago(3) });
  const page = await shop.open('/floor', { viewport: SIZES.wall });
  const day: Day = { page, hands };
  await readDanger(day);
  await moveToWarmBay(day);
  await filter(day);
  await goToWall(day);
}

/** All panels are there; the one in danger comes first and says by how much, why, and what would help. */
async function readDanger({ page }: Day): Promise<void> {
  await expect.poll(() => panelsOf(page)).toHaveLength(4);
  await page.getByText('1 promise in danger').waitFor();
  const { danger } = await entryOf('Bonnet');
  expect(danger?.kind).toBe('late');
  const hand = handOf(page, 'Bonnet');
  const told = Number(/(\d+) min too late for \d\d:\d\d/.exec((await hand.textContent()) ?? '')?.[1]);
  expect(Math.abs(told - (danger?.byMin ?? 0))).toBeLessThanOrEqual(2);
  await hand.getByText(/Bay 1 is 11\s°C: \d+ minutes slower/).waitFor();
  const help = hand.getByRole('list', { name: 'What would help' });
  await help.getByText(/Bay 2 is warmer: done \d+ min sooner/).waitFor();
  await help.getByText(/lamp at \d+ cm: done \d+ min sooner/i).waitFor();
  await page.screenshot({ path: `${PICTURES}/foreman-danger-wall-light.png` });
}

/** By way of Next hands to its row, from there to its sheet; the effect is told before it is moved, and is true after. */
async function moveToWarmBay({ page, hands }: Day): Promise<void> {
  const before = await entryOf('Bonnet');
  const promised = await numberIn(handOf(page, 'Bonnet').getByText(/is warmer/), /(\d+) min sooner/);
  await hands.use(handOf(page, 'Bonnet').getByRole('link', { name: 'Bonnet' }));
  await hands.use(page.getByRole('button', { name: 'More about Bonnet' }));
  const sheet = page.getByRole('dialog', { name: 'Bonnet' });
  const moving = sheet
    .locator('section')
    .filter({ has: page.getByRole('heading', { name: 'Move to another bay' }) });
  const earlierMin = await numberIn(
    moving.getByText(/^Test at about .* instead of /),
    /(\d+) minutes earlier\.$/,
  );
  const testFromAt = await testFromOf(before.batchId);
  await page.screenshot({ path: `${PICTURES}/foreman-effect-wall-light.png` });
  await hands.use(moving.getByRole('button', { name: 'Move it' }));
  await sheet.waitFor({ state: 'detached' });
  await rowOf(page, 'Bonnet').getByText(/Bay 2/).waitFor();
  await page.getByText('No promise in danger').waitFor({ timeout: 15_000 });
  await rowOf(page, 'Bonnet')
    .getByText(/min spare/)
    .waitFor();
  const calledEarlierMin = (testFromAt - (await testFromOf(before.batchId))) / 60_000;
  expect(Math.abs(calledEarlierMin - earlierMin)).toBeLessThanOrEqual(NEAR_MIN);
  const slackWonMin = ((await entryOf('Bonnet')).slackMin ?? 0) - (before.slackMin ?? 0);
  expect(Math.abs(slackWonMin - promised)).toBeLessThanOrEqual(NEAR_MIN);
}

/** A person's panels are their own and nobody's. */
async function filter({ page, hands }: Day): Promise<void> {
  await hands.pick(page.getByLabel('Person'), 'TO');
  await expect.poll(() => panelsOf(page)).toEqual(['Boot lid', 'Roof', 'Sill']);
  await hands.pick(page.getByLabel('Person'), 'Everyone');
  await hands.choose(page.getByRole('radio', { name: 'By bay' }));
  await page.getByRole('heading', { level: 3, name: 'Bay 2' }).waitFor();
  await hands.pick(page.getByLabel('Bay', { exact: true }), 'Bay 1');
  await expect.poll(() => panelsOf(page)).toEqual(['Sill']);
  await hands.pick(page.getByLabel('Bay', { exact: true }), 'All bays');
  await hands.choose(page.getByRole('radio', { name: 'By promise' }));
  await expect.poll(() => panelsOf(page)).toHaveLength(4);
  await expectFit(page);
}

/** The wall has nothing to tap; Esc brings the desk back. */
async function goToWall({ page, hands }: Day): Promise<void> {
  await page.getByRole('button', { name: 'Wall', exact: true }).waitFor();
  await hands.use(page.getByRole('button', { name: 'Wall', exact: true }));
  await page.locator('.wall').waitFor();
  expect(await page.locator('button, a, input, select, [tabindex]').count()).toBe(0);
  await expect.poll(() => panelsOf(page)).toHaveLength(4);
  await hands.leave(page);
  await page.getByRole('button', { name: 'Wall', exact: true }).waitFor();
}

function rowOf(page: Page, panel: string): Locator {
  return page.locator('.floor-row').filter({ hasText: panel });
}

function handOf(page: Page, panel: string): Locator {
  return page.locator('.hand').filter({ hasText: panel });
}

async function panelsOf(page: Page): Promise<string[]> {
  return (await page.locator('.floor-row .floor-panel').allTextContents()).toSorted();
}

async function readPlan(): Promise<PlanEntry[]> {
  const { body } = await getJson(shop.server.address, '/plan');
  return body['entries'] as PlanEntry[];
}

/** When the shop will call for the test. */
async function testFromOf(batchId: string): Promise<number> {
  const { body } = await getJson(shop.server.address, `/batches/${batchId}`);
  return Date.parse((body['estimate'] as { testFromAt: string }).testFromAt);
}

async function numberIn(sentence: Locator, pattern: RegExp): Promise<number> {
  await sentence.waitFor();
  return Number(pattern.exec((await sentence.textContent()) ?? '')?.[1]);
}

async function entryOf(panel: string): Promise<PlanEntry> {
  const entry = (await readPlan()).find((one) => one.panel === panel);
  if (entry === undefined) throw new Error(`${panel} is not in the plan`);
  return entry;
}
