// Access in a real browser: a strange device sees how to get in, a manager pairs it, it may what it is for, and is ended.
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { PASSPHRASE, setPassphrase, writeAccessConfig } from '../support/accessShop.ts';
import { expectFit, expectNoAxeViolation, tabTo } from '../support/browserChecks.ts';
import {
  type Look,
  LOOKS,
  type PageSetup,
  PICTURES,
  type Size,
  SIZE_NAMES,
  SIZES,
  useBrowserShop,
} from '../support/browserShop.ts';
import { makeTempFolder } from '../support/runServer.ts';
import { countFor } from '../support/testSize.ts';

const config = writeAccessConfig(makeTempFolder());
const shop = useBrowserShop({
  config,
  fillFolder: async (dataFolder) => void setPassphrase(config, dataFolder),
});

/** Both looks at night; in the usual size one for each size of screen, so that each look is seen. */
function looksFor(size: Size): readonly Look[] {
  const usual: readonly Look[] = size === 'desk' ? ['dark'] : ['light'];
  return countFor({ usual: 1, nightly: 2 }) === 1 ? usual : LOOKS;
}

async function openAsManager(setup: PageSetup = {}): Promise<Page> {
  const page = await shop.open('/setup', setup);
  await page.getByLabel('Passphrase', { exact: true }).fill(PASSPHRASE);
  await page.getByRole('button', { name: 'Sign in', exact: true }).click();
  const part = page.locator('#setup-access');
  await part.getByRole('heading', { name: 'Devices' }).waitFor();
  return page;
}

/** Makes a code, as a manager does, and reads it off the screen. */
async function readCode(manager: Page, right: 'For Bench' | 'To look only'): Promise<string> {
  const part = manager.locator('#setup-access');
  await part.getByLabel(right, { exact: true }).check();
  await part.getByRole('button', { name: 'Make a code', exact: true }).click();
  const code = (await part.locator('.pairing-code').textContent()) ?? '';
  expect(await part.getByRole('img', { name: /QR code that opens http.*pair#/ }).count()).toBe(1);
  await part.getByRole('button', { name: 'Done', exact: true }).first().click();
  return code;
}

/** Opens the address behind the picture on another device, and gives it a name. */
async function pairBy(code: string, name: string): Promise<Page> {
  const page = await shop.open(`/pair#${code}`, { viewport: SIZES.phone });
  await page.getByLabel('What is this device called?').fill(name);
  await page.getByRole('button', { name: 'Pair this device' }).click();
  await page.getByRole('navigation').waitFor();
  return page;
}

const namesIn = (page: Page): Promise<string[]> =>
  page.getByRole('navigation').getByRole('link').allTextContents();

describe('a device that is not paired', () => {
  it.each(SIZE_NAMES)('is told how to get in on a %s, without a fault that axe can see', async (size) => {
    for (const colorScheme of looksFor(size)) {
      const page = await shop.open('/bench', { viewport: SIZES[size], colorScheme });
      await page.getByRole('heading', { name: 'This device is not paired' }).waitFor();
      await page.screenshot({ path: join(PICTURES, `gate-${size}-${colorScheme}.png`) });
      await expectFit(page);
    }
  });

  it('is told so in Spanish where its browser speaks that', async () => {
    const page = await shop.open('/floor', { locale: 'es-MX' });
    await page.getByRole('heading', { name: 'Este dispositivo no está vinculado' }).waitFor();
  });

  it('is told beside the button that a code or a passphrase is wrong, by keys alone', async () => {
    const page = await shop.open('/');
    await tabTo(page, /^Code$/);
    await page.keyboard.type('22223333');
    await tabTo(page, /called/);
    await page.keyboard.type('Phone');
    await page.keyboard.press('Enter');
    await page.getByText(/No such code waits/).waitFor();
    await tabTo(page, /^Passphrase$/);
    await page.keyboard.type('wrong');
    await page.keyboard.press('Enter');
    await page.getByText('That is not the passphrase.').waitFor();
    await expectNoAxeViolation(page);
  });
});

describe('a manager', () => {
  it('pairs a phone for Bench, which works there, has no Setup, and is ended at once', async () => {
    const manager = await openAsManager();
    const phone = await pairBy(await readCode(manager, 'For Bench'), 'Phone, bay 2');
    expect(new URL(phone.url()).hash).toBe('');
    expect(await namesIn(phone)).toEqual(['Bench', 'Floor', 'Air', 'Records']);
    await phone.getByRole('button', { name: 'Mix', exact: true }).waitFor();
    const part = manager.locator('#setup-access');
    const entry = part.locator('.entry').filter({ hasText: 'Phone, bay 2' });
    await entry.waitFor({ timeout: 20_000 });
    await entry.getByRole('button', { name: 'End Phone, bay 2' }).click();
    await entry.getByRole('button', { name: 'Yes, end it' }).click();
    await phone.getByRole('heading', { name: 'This device is not paired' }).waitFor();
    await manager
      .locator('#setup-changes')
      .getByText(/device ended, “Phone, bay 2”/)
      .waitFor();
  });

  it('pairs a wall that shows the floor and offers nothing to do', async () => {
    const manager = await openAsManager();
    const wall = await pairBy(await readCode(manager, 'To look only'), 'Wall');
    expect(await namesIn(wall)).toEqual(['Floor', 'Air']);
    await wall.getByText('No panel is open').or(wall.locator('.floor')).first().waitFor();
    expect(await wall.getByRole('button', { name: 'Mix', exact: true }).count()).toBe(0);
    await wall.goto(`${shop.server.address}/records`);
    await wall.getByRole('heading', { name: /may look, not act/ }).waitFor();
    await expectNoAxeViolation(wall);
  });

  it('makes a user for a sensor, whose password is shown once, and signs out', async () => {
    const page = await openAsManager();
    const part = page.locator('#setup-access');
    await part.getByRole('button', { name: 'Add a user' }).click();
    await part.getByLabel('Name', { exact: true }).fill('north');
    await part.getByLabel('Sensors, with commas between them').fill('bay-1-air, spare-7');
    await part.getByRole('button', { name: 'Add a user' }).click();
    await part.getByText('Password of north').waitFor();
    expect((await part.locator('.password code').textContent())?.length).toBe(24);
    await part.locator('.entry').filter({ hasText: 'sends bay-1-air, spare-7' }).waitFor();
    await page.reload();
    await part.locator('.entry').filter({ hasText: 'north' }).waitFor();
    expect(await part.locator('.password code').count()).toBe(0);
    await part.getByRole('button', { name: 'Sign out' }).click();
    await page.getByRole('heading', { name: 'This device is not paired' }).waitFor();
  });

  it.each(SIZE_NAMES)('sees who has access on a %s, without a fault that axe can see', async (size) => {
    for (const colorScheme of looksFor(size)) {
      const page = await openAsManager({ viewport: SIZES[size], colorScheme });
      const part = page.locator('#setup-access');
      await part.getByRole('button', { name: 'Make a code', exact: true }).click();
      await part.locator('.pairing-code').waitFor();
      await part.scrollIntoViewIfNeeded();
      await part.screenshot({ path: join(PICTURES, `access-${size}-${colorScheme}.png`) });
      await expectFit(page);
    }
  });
});

describe('what was tapped on a device that is ended meanwhile', () => {
  it('is kept, told, and sent once the device is paired anew', async () => {
    const manager = await openAsManager();
    const phone = await pairBy(await readCode(manager, 'For Bench'), 'Second phone');
    await phone.context().setOffline(true);
    await phone.getByRole('button', { name: 'Mix', exact: true }).click();
    const panels = phone.getByRole('radiogroup', { name: 'Panel' });
    await panels.getByRole('radio', { name: 'Roof', exact: true }).check();
    await phone.getByRole('button', { name: 'Start', exact: true }).click();
    await phone.getByText(/It starts counting when the connection is back/).waitFor();
    const entry = manager.locator('#setup-access .entry').filter({ hasText: 'Second phone' });
    await entry.waitFor({ timeout: 20_000 });
    await entry.getByRole('button', { name: 'End Second phone' }).click();
    await entry.getByRole('button', { name: 'Yes, end it' }).click();
    await entry.waitFor({ state: 'detached' });
    await phone.context().setOffline(false);
    await phone.getByText(/One tap is kept on this device/).waitFor({ timeout: 30_000 });
    await phone.getByLabel('Code', { exact: true }).fill(await readCode(manager, 'For Bench'));
    await phone.getByLabel('What is this device called?').fill('Second phone again');
    await phone.getByRole('button', { name: 'Pair this device' }).click();
    await phone.getByRole('timer').or(phone.locator('article')).first().waitFor();
    await phone
      .getByText(/No reading from|working it out/i)
      .first()
      .waitFor();
    expect(await phone.evaluate(() => localStorage.getItem('sandby.kept'))).toBe('[]');
  });
});
