// What leaves the pages, in a real Chromium: a program is added, tried and mended in Setup, a phone is called and called no more,
// and the worker shows and closes what push messages say.
import { createECDH } from 'node:crypto';
import type { CDPSession, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PushMessage } from '../../server/contract/index.ts';
import { expectFit, tabTo } from '../support/browserChecks.ts';
import { type PageSetup, PICTURES, SIZES, useBrowserShop } from '../support/browserShop.ts';
import { ago, startPanel } from '../support/fillFloor.ts';
import { getJson, postJson } from '../support/http.ts';
import { openReceiver, type Receiver } from '../support/receiver.ts';

const WAIT_MS = 20_000;
let receiver: Receiver;
beforeAll(async () => {
  receiver = await openReceiver();
});
afterAll(() => receiver.close());

const shop = useBrowserShop({
  fillShop: async (address) => {
    await postJson({ address, path: '/readings' }, { sensorId: 'bay-1-air', airTemperatureC: 22 });
  },
});

async function openPart(setup: PageSetup = {}): Promise<Page> {
  const page = await shop.open('/setup', setup);
  await page.locator('#setup-notify').getByText('sandby/v1/bays/+/light').waitFor();
  return page;
}

const partOf = (page: Page) => page.locator('#setup-notify');
const button = (page: Page, name: string) => partOf(page).getByRole('button', { name, exact: true });

describe('a program that is told of alerts', () => {
  it('is added from the keyboard, shows its secret once, is tried, and what it lost can be sent again', async () => {
    const page = await openPart();
    await partOf(page).getByText('No program is told yet').waitFor();
    await partOf(page).getByText('Nothing: all that was to be told was told.').waitFor();
    await button(page, 'Add a program').click();
    await page.keyboard.press('Tab');
    await page.keyboard.type('Desk');
    await page.keyboard.press('Tab');
    await page.keyboard.type('nowhere');
    await page.keyboard.press('Enter');
    await partOf(page).locator('.field-error').waitFor();
    await page.keyboard.press('ControlOrMeta+a');
    await page.keyboard.type(`${receiver.address}/in`);
    await page.keyboard.press('Enter');
    const entry = partOf(page).locator('.entry').filter({ hasText: 'Desk' });
    await entry.getByText('Everything').waitFor();

    await tabTo(page, /^New secret for Desk$/);
    await page.keyboard.press('Enter');
    await entry.getByText(/^whsec_/).waitFor();
    await button(page, 'I have copied it').click();
    await expect.poll(() => entry.getByText(/^whsec_/).count()).toBe(0);
    await page.reload();
    await entry.getByText(/secret of/).waitFor();
    expect(await entry.getByText(/^whsec_/).count()).toBe(0);

    await button(page, 'Try Desk').click();
    await entry.getByText('It got through.').waitFor();
    receiver.answer = (response) => void response.writeHead(410).end();
    // By a key: two quick taps on one spot are one.
    await button(page, 'Try Desk').press('Enter');
    await entry.getByText('It did not get through: it says that nobody is there any more.').waitFor();

    await startPanel(shop.server.address, { panel: 'Roof', bayId: 'bay-1', mixedAt: ago(60) });
    const lost = partOf(page).locator('.entry').filter({ hasText: '“Test Roof” to Desk' });
    await lost.getByText('1 try: it says that nobody is there any more').waitFor({ timeout: WAIT_MS });
    receiver.answer = (response) => void response.writeHead(204).end();
    const before = receiver.received.length;
    await lost.getByRole('button', { name: /^Send again/ }).click();
    await expect.poll(() => lost.count(), { timeout: WAIT_MS }).toBe(0);
    await expect.poll(() => receiver.received.length).toBeGreaterThan(before);

    await button(page, 'Take Desk out').click();
    await partOf(page).getByText('No program is told yet').waitFor();
    await button(page, 'Put it back').click();
    await entry.waitFor();
  });
});

// Every size in both looks is held for all of Setup (setupFit.test.ts); here what that does not show: a secret, an open form.
it.each([
  ['phone', 'light'],
  ['desk', 'dark'],
] as const)(
  'the part with a secret shown fits on a %s in %s colours, and axe finds nothing',
  async (size, look) => {
    const page = await openPart({ viewport: SIZES[size], colorScheme: look, reducedMotion: 'reduce' });
    await partOf(page).locator('.entry-change').first().click();
    await button(page, 'New secret for Desk').click();
    await partOf(page).locator('.setup-secret').waitFor();
    await expectFit(page);
    await partOf(page).screenshot({ path: `${PICTURES}/setup-notify-${size}-${look}.png` });
  },
);

describe('this phone', () => {
  /** A push service that takes every subscription: a headless browser has none. */
  const fakeService = (of: { endpoint: string; p256dh: string; auth: string }): void => {
    let held: PushSubscription | null = null;
    const bytes = (text: string): ArrayBuffer =>
      Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0)).buffer;
    PushManager.prototype.getSubscription = async () => held;
    PushManager.prototype.subscribe = async (options) => {
      const given = options?.applicationServerKey;
      const key = typeof given === 'string' ? given.replaceAll('-', '+').replaceAll('_', '/') : '';
      held = {
        endpoint: of.endpoint,
        options: { applicationServerKey: bytes(key), userVisibleOnly: true },
        getKey: (name: PushEncryptionKeyName) => bytes(name === 'auth' ? of.auth : of.p256dh),
        unsubscribe: async () => {
          held = null;
          return true;
        },
      } as unknown as PushSubscription;
      return held;
    };
  };

  async function openSheet(prepare?: (page: Page) => Promise<unknown>): Promise<Page> {
    const page = await shop.open('/bench', {
      viewport: SIZES.phone,
      serviceWorkers: 'allow',
      permissions: ['notifications'],
      ...(prepare === undefined ? {} : { prepare }),
    });
    await page.waitForFunction(() => navigator.serviceWorker.controller?.state === 'activated');
    await page.getByRole('button', { name: /settings/i }).click();
    return page;
  }

  const phones = async (): Promise<unknown[]> =>
    (await getJson(shop.server.address, '/notifications')).body['phones'] as unknown[];

  it('is called after one tap, is known in Setup, and is called no more after another', async () => {
    const pair = createECDH('prime256v1');
    pair.generateKeys();
    const of = {
      endpoint: 'https://push.example/one',
      p256dh: pair.getPublicKey('base64'),
      auth: Buffer.alloc(16, 1).toString('base64'),
    };
    const page = await openSheet((fresh) => fresh.addInitScript(fakeService, of));
    await page.getByRole('radio', { name: 'Bench and Floor' }).check({ force: true });
    await page.getByRole('button', { name: 'Call this device' }).click();
    await page.getByText('This device is called, also while the page is closed.').waitFor();
    expect(await phones()).toMatchObject([
      { service: 'push.example', person: null, screens: ['bench', 'floor'], language: 'en' },
    ]);
    await page.screenshot({ path: `${PICTURES}/device-push-phone-light.png` });
    await expectFit(page);
    await page.getByRole('button', { name: 'Do not call this device any more' }).click();
    await page.getByRole('button', { name: 'Call this device' }).waitFor();
    expect(await phones()).toEqual([]);
  });

  it('says so where the browser has no push service', async () => {
    const page = await openSheet((fresh) =>
      fresh.addInitScript(() => {
        PushManager.prototype.subscribe = async () => {
          throw new DOMException('no push service', 'AbortError');
        };
      }),
    );
    await page.getByRole('button', { name: 'Call this device' }).click();
    await page.getByText('The browser’s push service could not be reached.').waitFor();
    expect(await phones()).toEqual([]);
  });
});

describe('the worker', () => {
  /** Hands a message to the worker as a push service would. */
  async function deliver(
    session: CDPSession,
    { registrationId, message }: { registrationId: string; message: Partial<PushMessage> },
  ): Promise<void> {
    await session.send('ServiceWorker.deliverPushMessage', {
      origin: new URL(shop.server.address).origin,
      registrationId,
      data: JSON.stringify(message),
    });
  }

  it('shows what a push message says in its language, one an alert, and closes it with the alert', async () => {
    const page = await shop.open('/bench', { serviceWorkers: 'allow', permissions: ['notifications'] });
    await page.waitForFunction(() => navigator.serviceWorker.controller?.state === 'activated');
    const session = await page.context().newCDPSession(page);
    const registered = new Promise<string>((done) => {
      session.on('ServiceWorker.workerRegistrationUpdated', ({ registrations }) => {
        const [first] = registrations;
        if (first !== undefined) done(first.registrationId);
      });
    });
    await session.send('ServiceWorker.enable');
    const registrationId = await registered;
    const shown = (): Promise<string[]> =>
      page.evaluate(async () => {
        const registration = await navigator.serviceWorker.getRegistration();
        return ((await registration?.getNotifications()) ?? []).map(({ tag, title }) => `${tag}: ${title}`);
      });
    const raised: PushMessage = {
      id: 'b1.test.1',
      message: 'raised',
      kind: 'test',
      name: 'Puerta',
      subjectCount: 1,
      language: 'es',
    };
    await deliver(session, { registrationId, message: raised });
    await expect.poll(shown).toEqual(['b1.test.1: Probar Puerta']);
    await deliver(session, { registrationId, message: raised });
    await deliver(session, {
      registrationId,
      message: { ...raised, id: 'shop.tooCold.1', kind: 'tooCold', subjectCount: 3 },
    });
    await expect
      .poll(async () => (await shown()).toSorted())
      .toEqual(['b1.test.1: Probar Puerta', 'shop.tooCold.1: 3 piezas demasiado frías']);
    await deliver(session, { registrationId, message: { ...raised, message: 'withdrawn' } });
    await expect.poll(shown).toEqual(['shop.tooCold.1: 3 piezas demasiado frías']);
  });
});
