// Two ways to play the same story: by a finger or a mouse, or by keys alone with the focus watched at every stop.
import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';

export interface Hands {
  /** Taps a button or follows a link. */
  use(target: Locator): Promise<void>;
  /** Chooses a chip by its radio. */
  choose(radio: Locator): Promise<void>;
  /** Chooses an option of a list by its name. */
  pick(list: Locator, option: string): Promise<void>;
  /** Writes a day, such as 2026-01-13, into a date field. */
  writeDay(field: Locator, date: string): Promise<void>;
  /** Leaves a dialog or the wall. */
  leave(page: Page): Promise<void>;
}

/** A second tap on the same spot sooner than this is taken for a slip of the finger. */
export const FINGER_MS = 400;
const TABS_MAX_COUNT = 150;
const OPTIONS_MAX_COUNT = 30;

/** A finger: every target is large enough and nothing lies over it. */
export const touch: Hands = {
  async use(target) {
    await target.waitFor();
    await expectTarget(target);
    await target.page().waitForTimeout(FINGER_MS);
    await target.tap();
  },
  async choose(radio) {
    const chip = radio.locator('xpath=ancestor::label');
    await expectTarget(chip);
    await chip.tap();
  },
  async pick(list, option) {
    await expectTarget(list);
    await list.selectOption({ label: option });
  },
  writeDay: (field, date) => field.fill(date),
  async leave(page) {
    await touch.use(page.getByRole('dialog').getByRole('button', { name: 'Close' }));
  },
};

export const mouse: Hands = {
  use: (target) => target.click(),
  choose: (radio) => radio.locator('xpath=ancestor::label').click(),
  pick: async (list, option) => void (await list.selectOption({ label: option })),
  writeDay: (field, date) => field.fill(date),
  leave: (page) => page.keyboard.press('Escape'),
};

/** Keys alone: no pointer and no script ever moves the focus. */
export const keys: Hands = {
  async use(target) {
    await tabUpTo(target);
    await press(target.page(), 'Enter');
  },
  async choose(radio) {
    await tabUpTo(radio);
    const page = radio.page();
    await press(page, 'Space');
    for (let count = 0; count < OPTIONS_MAX_COUNT && !(await radio.isChecked()); count += 1) {
      await press(page, 'ArrowRight');
    }
    expect(await radio.isChecked()).toBe(true);
  },
  async pick(list, option) {
    await tabUpTo(list);
    const page = list.page();
    await press(page, 'Home');
    for (let count = 0; count < OPTIONS_MAX_COUNT; count += 1) {
      if ((await list.evaluate(chosenOption)) === option) return;
      await press(page, 'ArrowDown');
    }
    throw new Error(`no option ${option} by keyboard`);
  },
  async writeDay(field, date) {
    const [year = '', month = '', day = ''] = date.split('-');
    await tabUpTo(field);
    // The browser's own language orders day and month: who sees the field knows which, this has to try.
    for (const first of [`${day}${month}`, `${month}${day}`]) {
      await field.page().keyboard.type(`${first}${year}`);
      if ((await field.inputValue()) === date) return;
      for (let part = 0; part < 2; part += 1) await press(field.page(), 'ArrowLeft');
    }
    throw new Error(`${date} cannot be typed`);
  },
  leave: (page) => press(page, 'Escape'),
};

/** Every control in sight has a knuckle's size, and its middle is its own; new ones are deaf for a moment, against double taps. */
export async function expectTargets(page: Page): Promise<void> {
  await nextFrames(page);
  await expect.poll(() => page.evaluate(findPoorTargets), { timeout: 3000 }).toEqual([]);
}

async function expectTarget(target: Locator): Promise<void> {
  const box = await target.boundingBox();
  const about = await target.textContent();
  expect(box?.width, `width of ${String(about)}`).toBeGreaterThanOrEqual(44);
  expect(box?.height, `height of ${String(about)}`).toBeGreaterThanOrEqual(44);
}

/** Tabs on until the focus stands on an element, or in a group of radios on one of its fellows. */
async function tabUpTo(target: Locator): Promise<void> {
  await target.waitFor();
  const page = target.page();
  for (let count = 0; count < TABS_MAX_COUNT; count += 1) {
    if (await target.evaluate(isReached)) return;
    await page.keyboard.press('Tab');
    const stop = await page.evaluate(lookAtFocus);
    // After the last control the focus leaves the page once, as for everyone who goes round.
    if (stop.name !== 'body') expect(stop.isSeen, `${stop.why}: ${stop.name}`).toBe(true);
  }
  throw new Error(`no way by keyboard to ${String(target)}`);
}

/** A key, after which the focus stands somewhere that can be seen. */
async function press(page: Page, key: string): Promise<void> {
  await page.keyboard.press(key);
  await expectFocus(page);
}

/** The focus is on something of the page; asked again until the page has done what the key asked for. */
async function expectFocus(page: Page): Promise<void> {
  await nextFrames(page);
  await expect.poll(() => page.evaluate(lookAtFocus).then(({ name }) => name)).not.toBe('body');
}

/** Dialogs open and slips move with the frame after next. */
async function nextFrames(page: Page): Promise<void> {
  await page.evaluate(
    () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done)))),
  );
}

function isReached(target: Element): boolean {
  const active = document.activeElement;
  if (active === target) return true;
  const isRadio = active instanceof HTMLInputElement && target instanceof HTMLInputElement;
  return isRadio && active.type === 'radio' && active.name === target.name;
}

function chosenOption(list: Element): string {
  return (list as HTMLSelectElement).selectedOptions[0]?.textContent ?? '';
}

/** What has the focus, whether it is named, lies in the window and shows by a line around it that it is meant. */
function lookAtFocus(): { name: string; isSeen: boolean; why: string } {
  const active = document.activeElement;
  if (active === null || active === document.body) {
    const hasControl = document.querySelector('button, a[href], input, select, [tabindex]') !== null;
    // A wall has nothing that could have the focus.
    return { name: hasControl ? 'body' : 'wall', isSeen: false, why: '' };
  }
  const shown = active.closest('.chip') ?? active;
  const { outlineStyle, outlineWidth } = getComputedStyle(shown);
  const box = shown.getBoundingClientRect();
  const hasLine = outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2;
  const isInside = box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
  const top = document.elementFromPoint(
    Math.min(innerWidth - 1, Math.max(0, box.left + box.width / 2)),
    Math.min(innerHeight - 1, Math.max(0, box.top + box.height / 2)),
  );
  const isFree = top !== null && (shown.contains(top) || top.contains(shown));
  const why = [hasLine ? '' : 'no line', isInside ? '' : 'outside', isFree ? '' : 'covered'].join('');
  return { name: active.outerHTML.slice(0, 120), isSeen: why === '', why };
}

function findPoorTargets(): string[] {
  const root = document.querySelector('dialog:modal') ?? document.body;
  const poor: string[] = [];
  for (const control of root.querySelectorAll('button, a[href], input, select, summary')) {
    const shown = control.closest('.chip, label') ?? control;
    if (!shown.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
    const about = `${control.getAttribute('aria-label') ?? shown.textContent} <${control.tagName}.${control.className}>`;
    // A link for those who skip by keyboard stands outside until it has the focus.
    if (shown.getBoundingClientRect().bottom <= 0 && control.matches('.skip')) continue;
    const { width, height } = shown.getBoundingClientRect();
    if (width < 44 || height < 44) poor.push(`${width.toFixed(0)}×${height.toFixed(0)} ${about}`);
    shown.scrollIntoView({ block: 'center', inline: 'center', behavior: 'instant' });
    const box = shown.getBoundingClientRect();
    const top = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
    if (top === null || !shown.contains(top))
      poor.push(`covered by ${String(top?.outerHTML.slice(0, 80))}: ${about}`);
  }
  scrollTo(0, 0);
  return poor;
}
