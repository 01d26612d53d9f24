// English, Spanish and units on a device: switched at once, remembered, in no way part of what is sent or counted.
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { expectFit, expectNoAxeViolation } from '../support/browserChecks.ts';
import { PICTURES, SIZES, useBrowserShop } from '../support/browserShop.ts';
import { getJson, postJson } from '../support/http.ts';

const shop = useBrowserShop({
  fillShop: async (address) => {
    const reading = { sensorId: 'bay-1-air', airTemperatureC: 18, relativeHumidityPct: 50 };
    await postJson({ address, path: '/readings' }, reading);
    const body = { cardId: 'body-filler', panel: 'Roof', bayId: 'bay-1', thicknessMm: 2, substrate: 'steel' };
    await postJson({ address, path: '/batches' }, body);
  },
});

/** Chooses by keys alone: the settings button, then the radio with a name in a group. */
async function chooseByKeys(page: Page, steps: readonly { group: string; name: string }[]): Promise<void> {
  await page.locator('button.person').focus();
  await page.keyboard.press('Enter');
  for (const { group, name } of steps) {
    // Its group's name changes with the language; its own does not.
    const radio = page.getByRole('radio', { name, exact: true });
    const chosen = page
      .getByRole('radiogroup', { name: group, exact: true })
      .getByRole('radio', { checked: true });
    // A sheet that has just opened may still take the focus: an arrow that moved nothing is pressed again.
    for (let press = 0; press < 12 && !(await radio.isChecked()); press += 1) {
      await chosen.focus();
      await page.keyboard.press('ArrowRight');
      await page.waitForTimeout(100);
    }
    expect(await radio.isChecked()).toBe(true);
  }
  await page.keyboard.press('Escape');
}

const openPhone = (locale: string): Promise<Page> => shop.open('/bench', { viewport: SIZES.phone, locale });

describe('the language', () => {
  it('follows the browser, and everything is Spanish then, its page too', async () => {
    const page = await openPhone('es-MX');
    await page.getByRole('button', { name: 'Mezclar', exact: true }).waitFor();
    expect(await page.evaluate(() => document.documentElement.lang)).toBe('es');
    await page.getByRole('timer').first().waitFor();
    expect(await page.getByRole('timer').first().textContent()).toContain('aplicar en');
  });

  it('is English where the browser speaks another one, and loads nothing of the rest', async () => {
    const loaded: string[] = [];
    const page = await shop.open('/bench', {
      viewport: SIZES.phone,
      locale: 'de-DE',
      prepare: async (fresh) => fresh.on('request', (request) => loaded.push(request.url())),
    });
    await page.getByRole('button', { name: 'Mix', exact: true }).waitFor();
    expect(loaded.filter((url) => url.includes('words'))).toEqual([]);
  });

  it('is switched by keys without a new page, is remembered, and leaves the countdown alone', async () => {
    const page = await openPhone('en-GB');
    await page.getByRole('timer').first().waitFor();
    await page.evaluate(() => Object.assign(globalThis, { isSamePage: true }));
    const endOf = async (): Promise<number> => {
      const [minutes = 0, seconds = 0] = (
        (await page.locator('.countdown-figure').first().textContent()) ?? ''
      )
        .split(':')
        .map(Number);
      return Date.now() / 1000 + 60 * minutes + seconds;
    };
    const before = await endOf();
    await chooseByKeys(page, [{ group: 'Language', name: 'Español' }]);
    await page.getByText('aplicar en').first().waitFor();
    expect(Math.abs((await endOf()) - before)).toBeLessThan(3);
    await chooseByKeys(page, [{ group: 'Temperatura', name: '°F' }]);
    await page.getByText('64.4 °F').first().waitFor();
    expect(Math.abs((await endOf()) - before)).toBeLessThan(3);
    expect(await page.evaluate(() => 'isSamePage' in globalThis)).toBe(true);
    await page.reload();
    await page.getByText('aplicar en').first().waitFor();
    await page.getByText('64.4 °F').first().waitFor();
  });

  it('stays what it was where the other cannot be loaded, says so, and comes once it can', async () => {
    const page = await openPhone('en-GB');
    let isCut = true;
    await page.route('**/*words.es*', async (route) => (isCut ? route.abort() : route.continue()));
    await page.getByRole('button', { name: 'Mix', exact: true }).waitFor();
    await page.locator('button.person').click();
    await page.getByRole('radio', { name: 'Español', exact: true }).click({ force: true });
    await page.getByRole('dialog').getByText('Español could not be loaded').waitFor();
    expect(await page.evaluate(() => document.documentElement.lang)).toBe('en');
    isCut = false;
    await page.getByRole('radio', { name: 'English', exact: true }).click({ force: true });
    await page.getByRole('radio', { name: 'Español', exact: true }).click({ force: true });
    await page.getByRole('heading', { name: 'Este equipo' }).waitFor();
  });
});

describe('the units', () => {
  it('are metric on a browser that calls itself American, until somebody chooses', async () => {
    const page = await openPhone('en-US');
    await page.getByRole('button', { name: 'Mix', exact: true }).click();
    await page.getByRole('radio', { name: '2 mm', exact: true }).waitFor();
  });

  it('turn what is typed into metric, once, and what is wrong is told in them', async () => {
    const page = await openPhone('es-419');
    await page.getByRole('timer').first().waitFor();
    await chooseByKeys(page, [
      { group: 'Temperatura', name: '°F' },
      { group: 'Espesor y longitud', name: 'in' },
      { group: 'Peso', name: 'oz' },
    ]);
    await page.getByRole('button', { name: 'Mezclar', exact: true }).click();
    await page
      .getByRole('radiogroup', { name: 'Pieza' })
      .getByRole('radio', { name: 'Sill', exact: true })
      .click({ force: true });
    await page.getByRole('radio', { name: '0.16 in', exact: true }).click({ force: true });
    await page.getByText('Detalles').click();
    await page.getByLabel('Masilla vieja debajo, in').fill('9');
    await page.getByLabel('El auto entró de afuera').check();
    await page.getByLabel('Afuera, °F').fill('14');
    await page.getByRole('button', { name: 'Empezar', exact: true }).click();
    await page.getByText(/Es demasiado \(de 0 a 0\.47\sin\)/).waitFor();
    expect(await page.getByLabel('Masilla vieja debajo, in').inputValue()).toBe('9');
    await page.getByLabel('Masilla vieja debajo, in').fill('0.25');
    await page.screenshot({ path: `${PICTURES}/mix-spanish-phone-light.png` });
    await expectNoAxeViolation(page);
    await page.getByRole('button', { name: 'Empezar', exact: true }).click();
    await page.getByRole('heading', { name: 'Sill' }).waitFor();
    const { body } = await getJson(shop.server.address, '/batches?open=true');
    const sill = (body['batches'] as Record<string, unknown>[]).find((batch) => batch['panel'] === 'Sill');
    expect(sill).toMatchObject({ thicknessMm: 4, underlayMm: 6.35, outdoorTemperatureC: -10 });
  });
});

describe.each(['phone', 'desk'] as const)('Spanish with American units on a %s', (size) => {
  it.each(['/bench', '/floor', '/air', '/records', '/setup'])(
    'fits on %s and has no fault that axe can see',
    async (path) => {
      const page = await shop.open(path, {
        viewport: SIZES[size],
        locale: 'es-MX',
        prepare: async (fresh) =>
          fresh.addInitScript(() =>
            localStorage.setItem(
              'sandby.device',
              JSON.stringify({ temperatureUnit: 'F', lengthUnit: 'in', massUnit: 'oz' }),
            ),
          ),
      });
      await page.getByText('64.4 °F').first().waitFor();
      await expectFit(page);
    },
  );
});
