// A technician's stretch of the day with three overlapping batches, once with gloves on a phone and once by keys alone.
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { batchesOf, button, slipOf, startOn } from '../support/benchDesk.ts';
import { expectFit } from '../support/browserChecks.ts';
import { PICTURES, SIZES, useBrowserShop } from '../support/browserShop.ts';
import { ago, sayTwoBays } from '../support/fillFloor.ts';

const shop = useBrowserShop({ fillShop: sayTwoBays });
const TABS_MAX_COUNT = 120;
const KNUCKLE_PX = 44;

/** How a control is worked: with a finger on a screen, or from the keyboard. */
interface Way {
  readonly name: string;
  readonly isTouch: boolean;
  /** The panels of this round. */
  readonly wet: string;
  readonly kicked: string;
  readonly due: string;
}

const WAYS: readonly Way[] = [
  { name: 'with gloves on a phone', isTouch: true, wet: 'Roof A', kicked: 'Door A', due: 'Wing A' },
  { name: 'by keys alone at a desk', isTouch: false, wet: 'Roof B', kicked: 'Door B', due: 'Wing B' },
];

async function work(page: Page, control: Locator, isTouch: boolean): Promise<void> {
  await control.waitFor();
  if (!isTouch) {
    await tabOnTo(page, control);
    await page.keyboard.press('Enter');
    return;
  }
  const box = await control.boundingBox();
  expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThanOrEqual(KNUCKLE_PX);
  await control.tap();
}

async function tabOnTo(page: Page, control: Locator): Promise<void> {
  for (let press = 0; press < TABS_MAX_COUNT; press += 1) {
    if (await control.evaluate((element) => element === document.activeElement)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`no way to ${String(control)} by keyboard`);
}

function order(page: Page, names: readonly string[]): Promise<string[]> {
  return page
    .locator('.slip .slip-panel')
    .allTextContents()
    .then((all) => all.filter((name) => names.includes(name)));
}

describe.each(WAYS)('three batches at once, $name', ({ isTouch, wet, kicked, due }) => {
  it('are mixed, spread, tested, sanded and covered, whatever comes next on top', async () => {
    const { address } = shop.server;
    await startOn(address, { panel: kicked, mixedAt: ago(8) });
    await startOn(address, { panel: due, mixedAt: ago(35), repairOrder: '4711' });
    const page = await shop.open(
      '/bench',
      isTouch ? { viewport: SIZES.phone, hasTouch: true } : { viewport: SIZES.desk },
    );
    const press = (control: Locator): Promise<void> => work(page, control, isTouch);
    const actOf = (panel: string, name: string | RegExp): Locator =>
      slipOf(page, panel).getByRole('button', typeof name === 'string' ? { name, exact: true } : { name });

    // The third: its mix kicks before the others need anything, but a test that is due comes first.
    await press(button(page, 'Mix'));
    await tabOnTo(page, page.getByLabel('Other panel'));
    await page.keyboard.type(wet);
    await press(button(page, 'Start'));
    await slipOf(page, wet).waitFor();
    await expect.poll(() => order(page, [wet, kicked, due])).toEqual([due, wet, kicked]);
    await page.screenshot({ path: `${PICTURES}/day-${isTouch ? 'phone' : 'desk'}-light.png` });
    await expectFit(page);

    await press(actOf(wet, 'Spread'));
    await slipOf(page, wet)
      .getByRole('timer')
      .filter({ hasText: /test in/ })
      .waitFor();

    // An early test of the second gums: it waits again, by a new window.
    await press(actOf(kicked, 'Test it'));
    await press(actOf(kicked, /^Gums/));
    await slipOf(page, kicked)
      .getByText(/It gummed at/)
      .waitFor();

    await press(actOf(due, /^Powders/));
    await press(actOf(due, 'Yes'));
    await press(actOf(due, 'Sanded'));
    await press(button(page, `Next layer on ${due}`));
    await press(button(page, 'Start'));
    await expect
      .poll(async () => (await batchesOf(address, due)).map(({ stage }) => stage).toSorted())
      .toEqual(['sanded', 'wet']);
    const layer = (await batchesOf(address, due)).find(({ stage }) => stage === 'wet');
    expect(layer).toMatchObject({ repairOrder: '4711', underlayMm: 2, thicknessMm: 0.5 });
    await expect.poll(() => order(page, [wet, kicked, due])).toHaveLength(3);
  });
});
