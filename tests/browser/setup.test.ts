// Setup in a real browser, from the keyboard: a sensor is hung, a mistake is told, others were first, a card is tried, a copy is taken.
import { randomUUID } from 'node:crypto';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { openSqliteStore } from '../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import { focusedName, tabTo } from '../support/browserChecks.ts';
import { type PageSetup, useBrowserShop } from '../support/browserShop.ts';
import { askJson, getJson, postJson } from '../support/http.ts';
import { openSetupOf } from '../support/openSetup.ts';
import { makeTempFolder } from '../support/runServer.ts';

const shop = useBrowserShop({
  fillShop: async (address) => {
    for (const [sensorId, airTemperatureC] of [
      ['bay-1-air', 18],
      ['spare-7', 21.5],
    ] as const) {
      await postJson({ address, path: '/readings' }, { sensorId, airTemperatureC, relativeHumidityPct: 50 });
    }
  },
});

const openSetup = (setup: PageSetup = {}): Promise<Page> => openSetupOf(shop, setup);

/** What another device puts. */
async function putElsewhere(body: Readonly<Record<string, unknown>>): Promise<void> {
  const { status } = await askJson({ address: shop.server.address, path: '/settings', method: 'PUT' }, body);
  expect(status).toBe(200);
}

async function readAlerts(): Promise<Record<string, unknown>> {
  const { body } = await getJson(shop.server.address, '/settings');
  return body['alerts'] as Record<string, unknown>;
}

/** Goes to a field by keys and types over what stands in it. */
async function typeOver(page: Page, label: RegExp, text: string): Promise<void> {
  await tabTo(page, label);
  await page.keyboard.press('ControlOrMeta+a');
  await page.keyboard.type(text);
}

/** A look at the strip of bays in the header. */
const stripOf = (page: Page, bay: string) => page.locator('.bay-air').filter({ hasText: bay });

describe('a sensor that nobody has placed', () => {
  it('is hung in a bay by one key, whose strip shows it at once, and is put back', async () => {
    const page = await openSetup();
    await page.getByRole('heading', { name: /spare-7 speaks/ }).waitFor();
    expect(await stripOf(page, 'Bay 2').textContent()).not.toContain('21.5');
    await tabTo(page, /^spare-7 hangs in Bay 2$/);
    await page.keyboard.press('Enter');
    await stripOf(page, 'Bay 2').getByText('21.5 °C').waitFor();
    const entry = page.locator('#setup-sensors .entry').filter({ hasText: 'spare-7' });
    await entry.getByText('Saved.').waitFor();
    // The focus has gone along to the entry.
    await expect.poll(() => entry.locator(':focus').count()).toBe(1);
    await page.getByText(/sensor spare-7, where it hangs/).waitFor();
    await tabTo(page, /^Put it back$/);
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: /spare-7 speaks/ }).waitFor();
  });

  it('appears by itself when it speaks for the first time', async () => {
    const page = await openSetup();
    await postJson(
      { address: shop.server.address, path: '/readings' },
      { sensorId: 'new-9', airTemperatureC: 5 },
    );
    await page.getByRole('heading', { name: /new-9 speaks/ }).waitFor();
  });
});

describe('a wrong value', () => {
  it.each([
    ['en-GB', /^A test waits/, 'Save', /This is too large \(1 … 240\smin\)/, 'This is not a number'],
    ['es-MX', /^Una prueba espera/, 'Guardar', /Es demasiado \(de 1 a 240\smin\)/, 'No es un número'],
  ] as const)(
    'is told beside its field in %s, stays typed, and nothing is saved',
    async (locale, label, save, tooLarge, notNumber) => {
      const before = await readAlerts();
      const page = await openSetup({ locale });
      const field = page.getByLabel(label);
      const form = page.locator('#setup-alerts form');
      await typeOver(page, label, '500');
      await page.keyboard.press('Enter');
      await form.getByText(tooLarge).waitFor();
      expect(await field.inputValue()).toBe('500');
      await expect.poll(() => field.evaluate((element) => element === document.activeElement)).toBe(true);
      const described = (await field.getAttribute('aria-describedby'))?.split(' ')[0] ?? '';
      expect(await page.locator(`[id="${described}"]`).textContent()).toMatch(tooLarge);
      await field.fill('soon');
      await form.getByRole('button', { name: save, exact: true }).click();
      await form.getByText(notNumber).waitFor();
      expect(await readAlerts()).toEqual(before);
    },
  );

  it('of a zone that is none is told, and the clock beside it shows that a right one is', async () => {
    const page = await openSetup();
    const zone = page.getByLabel('Time zone');
    await zone.fill('Mars/Base');
    await page.keyboard.press('Enter');
    await page.getByText(/This is not a time zone/).waitFor();
    await zone.fill('Europe/Madrid');
    await page.getByText(/It is \d\d:\d\d there now/).waitFor();
    await page
      .getByRole('form', { name: 'Shop' })
      .getByRole('button', { name: 'Leave it as it was' })
      .click();
    expect(await zone.inputValue()).toBe('UTC');
  });
});

describe('another device that was first', () => {
  it('is named with what it changed, what was typed survives it, and mine can be put all the same', async () => {
    const page = await openSetup();
    await typeOver(page, /^A test waits/, '20');
    await putElsewhere({ by: 'RA', shop: { name: 'Other Name' }, alerts: { waitingMin: 30 } });
    await page.locator('.home-name').getByText('Other Name').waitFor();
    expect(await page.getByLabel(/^A test waits/).inputValue()).toBe('20');
    await page.getByLabel(/^A test waits/).press('Enter');
    const told = page.locator('.setup-conflict');
    await told.getByText(/RA: the shop’s name, how long a test may wait/).waitFor();
    await page.getByText('There now: 30').waitFor();
    expect(await readAlerts()).toMatchObject({ waitingMin: 30 });
    await tabTo(page, /^Save mine all the same$/);
    await page.keyboard.press('Enter');
    await page.locator('#setup-alerts').getByText('Saved.').waitFor();
    expect(await readAlerts()).toMatchObject({ waitingMin: 20 });
    await expect.poll(() => focusedName(page)).toBe('Save');
  });

  it('can be left to have it its way', async () => {
    const page = await openSetup();
    await page.getByLabel('A sensor is quiet after, min').fill('11');
    await putElsewhere({ by: 'TO', alerts: { sensorQuietMin: 12 } });
    await page.getByLabel('A sensor is quiet after, min').press('Enter');
    await page
      .getByRole('alert')
      .getByText(/TO: when a sensor is quiet/)
      .waitFor();
    await tabTo(page, /^Take theirs$/);
    await page.keyboard.press('Enter');
    await expect.poll(() => page.getByLabel('A sensor is quiet after, min').inputValue()).toBe('12');
    expect(await page.locator('.setup-conflict').count()).toBe(0);
  });

  it('is not this device, when it saves one form after another', async () => {
    const page = await openSetup();
    await page.getByLabel('Slowing: later by, min').fill('4');
    await page.getByLabel(/of bead weighs/).fill('3.5');
    await page.getByLabel(/of bead weighs/).press('Enter');
    await page.locator('#setup-bead').getByText('Saved.').waitFor();
    await page.getByLabel('Slowing: later by, min').press('Enter');
    await page.locator('#setup-alerts').getByText('Saved.').waitFor();
    expect(await page.locator('.setup-conflict').count()).toBe(0);
    expect(await readAlerts()).toMatchObject({ slowingMin: 4 });
  });
});

describe('saving', () => {
  it('can be taken back for a while', async () => {
    const before = await readAlerts();
    const page = await openSetup();
    await page.getByLabel('Before the mix kicks, s').fill('120');
    await page.getByLabel('Before the mix kicks, s').press('Enter');
    const part = page.locator('#setup-alerts');
    await part.getByText('Saved.').waitFor();
    await part.getByRole('button', { name: 'Put it back' }).click();
    await part.getByText('Put back as it was.').waitFor();
    expect(await readAlerts()).toEqual(before);
  });

  it('tries a lost connection once more under the same key, and later again under it', async () => {
    const keys: string[] = [];
    const page = await openSetup();
    await page.route('**/api/v1/settings', async (route) => {
      if (route.request().method() !== 'PUT') return route.continue();
      keys.push(route.request().headers()['idempotency-key'] ?? '');
      return keys.length <= 2 ? route.abort() : route.continue();
    });
    await page.getByLabel('Before the mix kicks, s').fill('75');
    await page.getByLabel('Before the mix kicks, s').press('Enter');
    await page.locator('#setup-alerts').getByText('Not saved: no connection').waitFor();
    expect(await page.getByLabel('Before the mix kicks, s').inputValue()).toBe('75');
    await page.getByLabel('Before the mix kicks, s').press('Enter');
    await page.locator('#setup-alerts').getByText('Saved.').waitFor();
    expect(keys).toHaveLength(3);
    expect(new Set(keys).size).toBe(1);
  });
});

describe('people and bays', () => {
  it('are added, renamed and retired by keys alone, and every screen follows', async () => {
    const page = await openSetup();
    await tabTo(page, /^Add a person$/);
    await page.keyboard.press('Enter');
    await typeOver(page, /^Initials$/, 'MK');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Change MK' }).waitFor();
    await expect
      .poll(() => page.evaluate(() => document.activeElement?.textContent ?? ''))
      .toBe('Add a person');
    await page.keyboard.press('Enter');
    await typeOver(page, /^Initials$/, 'MK');
    await page.keyboard.press('Enter');
    await page.getByText(/This is taken already/).waitFor();
    await page.getByRole('button', { name: 'Change MK' }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('form', { name: 'Change MK' }).getByLabel('Name').fill('Marta');
    await page.keyboard.press('Enter');
    await page.locator('#setup-people .entry').getByText('Marta').waitFor();
    await page.getByRole('button', { name: 'Retire MK' }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Bring back MK' }).waitFor();
    const { body } = await getJson(shop.server.address, '/settings');
    expect(body['people']).toEqual([{ initials: 'MK', name: 'Marta', active: false }]);
  });

  it('a bay that is added stands in the header and can be given a sensor', async () => {
    const page = await openSetup();
    await page.getByRole('button', { name: 'Add a bay' }).click();
    const form = page.getByRole('form', { name: 'Add a bay' });
    await form.getByLabel('Name').fill('Paint booth');
    await form.getByLabel('Kind').selectOption('booth');
    await form.getByLabel(/The air moves/).check();
    await form.getByRole('button', { name: 'Save' }).click();
    await stripOf(page, 'Paint booth').waitFor();
    await page.getByRole('button', { name: 'spare-7 hangs in Paint booth' }).waitFor();
    const { body } = await getJson(shop.server.address, '/settings');
    expect(body['bays']).toContainEqual({
      id: 'paint-booth',
      name: 'Paint booth',
      kind: 'booth',
      movingAir: true,
      substrate: 'steel',
    });
  });
});

describe('a product', () => {
  it('is tried while one types, told in words, picture and table, and kept only when it is saved', async () => {
    const page = await openSetup();
    await tabTo(page, /^Add a product$/);
    await page.keyboard.press('Enter');
    const form = page.getByRole('form', { name: 'Add a product' });
    await form.getByText('Fill in the fields').waitFor();
    await typeOver(page, /^Name$/, 'Own mix');
    await typeOver(page, /^Working time/, '5');
    await typeOver(page, /^Sandable after/, '17.5');
    const sentence = form.locator('.plausible-sentence');
    await sentence.getByText(/This card would take \d+\smin at 10\s°C/).waitFor();
    const minutesAt10 = async (): Promise<number> =>
      Number(/take (\d+)\smin/.exec((await sentence.textContent()) ?? '')?.[1]);
    const quick = await minutesAt10();
    await page.keyboard.press('ControlOrMeta+a');
    await page.keyboard.type('30');
    await expect.poll(minutesAt10).toBeGreaterThan(quick);
    await form.getByText(/more than twice the card/).waitFor();
    const picture = await form.getByRole('img').getAttribute('aria-label');
    expect(picture).toContain(`10\u00a0°C: test after ${await minutesAt10()} min`);
    await form.getByText('The same as a table').click();
    expect(await form.getByRole('row').count()).toBe(7);
    await form.getByLabel('Working time, min').fill('40');
    await form.getByText(/This is not below the sanding time/).waitFor();
    await form.getByLabel('Working time, min').fill('6');
    await form.getByRole('img').waitFor();
    expect((await getJson(shop.server.address, '/cards/own-mix')).status).toBe(404);
    await form.getByLabel('Working time, min').press('Enter');
    await page.getByRole('button', { name: 'Change Own mix' }).waitFor();
    const { body } = await getJson(shop.server.address, '/cards/own-mix');
    expect(body).toMatchObject({ name: 'Own mix', workingMin: 6, sandMin: 30, lowestC: 10 });
    await page.getByText(/product Own mix, new/).waitFor();
  });
});

describe('a copy of everything', () => {
  it('is downloaded by a key and opens as the shop that it is of', async () => {
    const page = await openSetup();
    await tabTo(page, /^Make a copy/);
    const [download] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
    expect(download.suggestedFilename()).toMatch(/^sandby-\d{4}-\d\d-\d\d\.sqlite$/);
    const file = join(makeTempFolder(), 'copy.db');
    await download.saveAs(file);
    await page.getByText(/\.sqlite, [\d.]+\sMB, is with your downloads/).waitFor();
    const { ledger } = openSqliteStore({ file, ledgerIdForNew: randomUUID() });
    const { body } = await getJson(shop.server.address, '/snapshot');
    expect(ledger.ledgerId).toBe(body['ledgerId']);
    await ledger.close();
  });

  it.each([
    [501, /kept in memory only/],
    [409, /Another copy is being made/],
    [503, /the disk may be full/],
  ])('says why there is none where the shop answers %i', async (status, said) => {
    const page = await openSetup({
      prepare: async (fresh) => fresh.route('**/api/v1/backup', (route) => route.fulfill({ status })),
    });
    await page.getByRole('button', { name: /^Make a copy and/ }).click();
    await page.getByText(said).waitFor();
  });
});

describe('this device', () => {
  it('is told plainly what its browser forbids at an address that is not encrypted', async () => {
    const page = await openSetup({
      prepare: async (fresh) =>
        fresh.addInitScript(() => Object.defineProperty(globalThis, 'isSecureContext', { value: false })),
    });
    await page
      .locator('#setup-device')
      .getByText(/not encrypted/)
      .waitFor();
    await page
      .locator('#setup-device')
      .getByText(/does not let this page keep the screen on/)
      .waitFor();
    await page.getByRole('button', { name: 'Set up this device' }).click();
    await page.getByRole('dialog').waitFor();
  });
});
