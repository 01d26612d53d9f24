// Alerts in a real Chromium against the built program: who sees which, a storm in one line, one sound for two calls, and
// notifications that come while the page is hidden and go with their alert.
import { readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { expectFit, expectNoAxeViolation, expectNoSidewaysScroll, tabTo } from '../support/browserChecks.ts';
import { LOOKS, type PageSetup, PICTURES, SIZES, useBrowserShop } from '../support/browserShop.ts';
import { ago, startPanel } from '../support/fillFloor.ts';
import { getJson, postJson } from '../support/http.ts';
import { makeTempFolder, runServer, type RunningServer } from '../support/runServer.ts';

const shop = useBrowserShop();
const WAIT_MS = 20_000;

interface Noted {
  readonly vibrations: number[][];
  readonly tones: number[];
  readonly notices: { text: string; tag: string; isClosed: boolean }[];
  askedCount: number;
}

/** In the page: notes what shakes, sounds and is notified, and lets the test hide the page. */
function noteAlarm(): void {
  const log: Noted = { vibrations: [], tones: [], notices: [], askedCount: 0 };
  let visibility: DocumentVisibilityState = 'visible';
  Object.assign(globalThis, {
    noted: log,
    hidePage: (isHidden: boolean) => {
      visibility = isHidden ? 'hidden' : 'visible';
      document.dispatchEvent(new Event('visibilitychange'));
    },
  });
  Object.defineProperty(document, 'visibilityState', { get: () => visibility });
  navigator.vibrate = (pattern) => {
    log.vibrations.push([pattern].flat(2) as number[]);
    return true;
  };
  const RealContext = globalThis.AudioContext;
  globalThis.AudioContext = class extends RealContext {
    override createOscillator(): OscillatorNode {
      log.tones.push(this.currentTime);
      return super.createOscillator();
    }
  };
  const Real = globalThis.Notification;
  globalThis.Notification = class extends Real {
    private readonly note: { isClosed: boolean };
    constructor(text: string, options: NotificationOptions = {}) {
      super(text, options);
      const note = { text, tag: options.tag ?? '', isClosed: false };
      this.note = note;
      log.notices.push(note);
    }
    static override async requestPermission(): Promise<NotificationPermission> {
      log.askedCount += 1;
      return Real.permission;
    }
    override close(): void {
      this.note.isClosed = true;
      super.close();
    }
  };
}

function open(path: string, setup: PageSetup = {}): Promise<Page> {
  return shop.open(path, { prepare: (page) => page.addInitScript(noteAlarm), ...setup });
}

function noted(page: Page): Promise<Noted> {
  return page.evaluate(() => (globalThis as unknown as { noted: Noted }).noted);
}

function strip(page: Page): ReturnType<Page['getByRole']> {
  return page.getByRole('region', { name: 'Alerts' });
}

function lines(page: Page): ReturnType<Page['getByRole']> {
  return strip(page).locator('.alert');
}

/** In both looks, from the narrowest phone to a desk. */
async function expectFitEverywhere(page: Page): Promise<void> {
  for (const colorScheme of LOOKS) {
    await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
    for (const width of [360, SIZES.desk.width]) {
      await page.setViewportSize({ width, height: 900 });
      await expectFit(page);
    }
  }
}

async function say(sensorIds: readonly string[], airTemperatureC: number, address: string): Promise<void> {
  const readings = sensorIds.map((sensorId) => ({ sensorId, airTemperatureC, relativeHumidityPct: 45 }));
  await postJson({ address, path: '/readings' }, readings);
}

const SENSORS = ['bay-1-air', 'bay-1-door', 'bay-2-air', 'bay-2-door', 'bay-2-lift'];

/** The example shop with more sensors and a clock that runs thirty times as fast, so that hold times are seconds. */
async function runQuick({ sensorQuietMin }: { sensorQuietMin: number }): Promise<RunningServer> {
  const example = JSON.parse(readFileSync('config/shop.example.json', 'utf8')) as { alerts: object };
  const folder = makeTempFolder();
  const config = join(folder, 'quick.json');
  writeFileSync(
    config,
    JSON.stringify({
      ...example,
      clock: { kind: 'simulated', rate: 30, startsAt: '08:00' },
      cardsFile: resolve('config/cards.json'),
      sensors: SENSORS.map((id) => ({ id, bayId: id.slice(0, 5) })),
      people: [{ initials: 'MK' }, { initials: 'TO' }],
      alerts: { ...example.alerts, sensorQuietMin },
    }),
  );
  return runServer({ config, dataFolder: join(folder, 'data') });
}

describe('tests that fall due together', () => {
  it('ring once on a Bench, after one tap has given leave to make sounds, and are read out', async () => {
    const { address } = shop.server;
    for (const agoMin of [60, 40, 20, 0]) {
      const body = { sensorId: 'bay-2-air', airTemperatureC: 22, relativeHumidityPct: 45, at: ago(agoMin) };
      await postJson({ address, path: '/readings' }, body);
    }
    await startPanel(address, { panel: 'Sill', bayId: 'bay-2', mixedAt: ago(1) });
    const page = await open('/bench', { viewport: SIZES.phone, hasTouch: true });
    await page.getByText('No sound before a tap.').waitFor();
    await page.screenshot({ path: `${PICTURES}/alerts-locked-phone-light.png` });
    await expectNoAxeViolation(page);
    await page.getByRole('button', { name: 'Let this device ring' }).click();
    await page.getByText('No sound before a tap.').waitFor({ state: 'detached' });
    await expect.poll(async () => (await noted(page)).tones.length).toBe(6);

    for (const panel of ['Roof', 'Bonnet'])
      await startPanel(address, { panel, bayId: 'bay-2', mixedAt: ago(40) });
    await expect.poll(() => lines(page).filter({ hasText: 'Test ' }).count(), { timeout: WAIT_MS }).toBe(2);
    await expect.poll(() => strip(page).getByRole('alert').textContent()).toMatch(/Test (Roof|Bonnet)/);
    await page.waitForTimeout(1500);
    const { tones, vibrations } = await noted(page);
    // Six tones of the try, six of one call; shaken twice as well.
    expect([tones.length, vibrations.length]).toEqual([12, 2]);
    await page.screenshot({ path: `${PICTURES}/alerts-calls-phone-light.png` });
    await expectNoAxeViolation(page);
  });

  it('are not Floor’s, whose wall rings for them all the same', async () => {
    const page = await open('/floor');
    expect(await lines(page).count()).toBe(0);
    const wall = await open('/floor?wall=1', { viewport: SIZES.wall });
    await wall.getByText('Silent until a key is pressed here').waitFor();
    await wall.keyboard.press('Shift');
    await wall.getByText('Silent until a key is pressed here').waitFor({ state: 'detached' });
    await startPanel(shop.server.address, { panel: 'Boot lid', bayId: 'bay-2', mixedAt: ago(40) });
    await expect.poll(async () => (await noted(wall)).tones.length, { timeout: WAIT_MS }).toBe(6);
    expect(await strip(wall).getByRole('button').count()).toBe(0);
  });
});

describe('a notification', () => {
  it('is asked for by a tap only, comes while the page is hidden and goes with its alert', async () => {
    const { address } = shop.server;
    const page = await open('/bench', { permissions: ['notifications'] });
    await lines(page).first().waitFor();
    expect((await noted(page)).notices).toEqual([]);
    await page.evaluate(() => (globalThis as unknown as { hidePage(is: boolean): void }).hidePage(true));
    await startPanel(address, { panel: 'Rear bumper', bayId: 'bay-2', mixedAt: ago(40) });
    await expect
      .poll(async () => (await noted(page)).notices, { timeout: WAIT_MS })
      .toEqual([
        { text: 'Test Rear bumper', tag: expect.stringContaining('test') as string, isClosed: false },
      ]);
    const { body } = await getJson(address, '/batches?open=true');
    const batches = body['batches'] as { id: string; panel: string }[];
    const id = batches.find(({ panel }) => panel === 'Rear bumper')?.id ?? '';
    const path = `/batches/${id}/commands`;
    await postJson({ address, path }, { type: 'recordCheck', outcome: 'powders', firstTry: true });
    await expect.poll(async () => (await noted(page)).notices[0]?.isClosed, { timeout: WAIT_MS }).toBe(true);
  });

  it('that nobody has allowed is asked for in the settings; one that was forbidden names the alarm instead', async () => {
    const page = await open('/bench', { permissions: [] });
    await page.getByRole('button', { name: /^Settings/ }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByText(/blocked in this browser.*the wall screen and the stack light/).waitFor();
    expect(await dialog.getByRole('button', { name: 'Allow notifications' }).count()).toBe(0);
    await expectNoAxeViolation(page);
    const other = await open('/bench');
    await other.getByRole('button', { name: /^Settings/ }).click();
    await other.getByRole('button', { name: 'Allow notifications' }).waitFor();
    expect((await noted(other)).askedCount).toBe(0);
    await other.getByRole('button', { name: 'Allow notifications' }).click();
    await expect.poll(async () => (await noted(other)).askedCount).toBe(1);
  });
});

describe('a bay that turns cold', () => {
  it('slows its panel on its person’s Bench and on Floor, by how much, and on nobody else’s Bench', async () => {
    const server = await runQuick({ sensorQuietMin: 240 });
    const { address } = server;
    await say(['bay-1-air', 'bay-2-air'], 22, address);
    const { body } = await getJson(address, '/snapshot');
    const mixedAt = new Date(Date.parse(body['nowAt'] as string) - 60_000).toISOString();
    await startPanel(address, { panel: 'Left front wing', by: 'MK', mixedAt });
    await startPanel(address, { panel: 'Roof', by: 'TO', bayId: 'bay-2', mixedAt });
    const as = (person: string) => ({
      address,
      prepare: (page: Page) =>
        page.addInitScript((who) => {
          if (localStorage.getItem('sandby.device') === null)
            localStorage.setItem('sandby.device', JSON.stringify({ person: who }));
        }, person),
    });
    const [own, other, floor] = await Promise.all([
      shop.open('/bench', as('MK')),
      shop.open('/bench', as('TO')),
      shop.open('/floor', { address }),
    ]);
    await say(['bay-1-air'], 12, address);
    const line = /Left front wing takes longer.*test about \d\d:\d\d instead of \d\d:\d\d/;
    for (const page of [own, floor])
      await lines(page).filter({ hasText: line }).waitFor({ timeout: WAIT_MS });
    expect(await lines(other).filter({ hasText: 'takes longer' }).count()).toBe(0);
    for (const page of [own, floor]) await expectFitEverywhere(page);
    await own.screenshot({ path: `${PICTURES}/alerts-slowing-desk-light.png` });

    await floor.getByRole('combobox', { name: 'Bay' }).selectOption({ label: 'Bay 2' });
    await floor.getByText(/\d more alerts? lies? outside the filters/).waitFor();
    expect(await lines(floor).filter({ hasText: line }).count()).toBe(0);
    await strip(floor).getByRole('button', { name: 'Show all panels' }).click();
    await lines(floor).filter({ hasText: line }).waitFor();

    await strip(own).getByRole('button', { name: 'Seen: Left front wing' }).first().click();
    await Promise.all(
      [own, floor].map((page) => lines(page).filter({ hasText: line }).waitFor({ state: 'detached' })),
    );
    await server.stop();
  });
});

describe('a storm of silent sensors', () => {
  it('is one line on Floor and in Setup that opens, is seen by keys alone, and ends in one line', async () => {
    const server = await runQuick({ sensorQuietMin: 2 });
    const { address } = server;
    await say(SENSORS, 20, address);
    const [floor, setup, bench] = await Promise.all(
      ['/floor', '/setup', '/bench'].map((path) => shop.open(path, { address, viewport: SIZES.desk })),
    );
    if (floor === undefined || setup === undefined || bench === undefined) throw new Error('no pages');
    for (const page of [floor, setup]) {
      await lines(page).filter({ hasText: '5 sensors say nothing' }).waitFor({ timeout: WAIT_MS });
      expect(await lines(page).count()).toBe(1);
    }
    expect(await lines(bench).count()).toBe(0);
    await expect.poll(() => strip(floor).getByRole('status').textContent()).toMatch(/5 sensors say nothing/);

    for (const colorScheme of LOOKS) {
      const wall = await shop.open('/floor?wall=1', { address, viewport: SIZES.wall, colorScheme });
      await lines(wall).filter({ hasText: '5 sensors say nothing' }).waitFor();
      expect(await strip(wall).getByRole('button').count()).toBe(0);
      await wall.screenshot({ path: `${PICTURES}/alerts-storm-wall-${colorScheme}.png` });
      await expectNoSidewaysScroll(wall);
      await expectNoAxeViolation(wall, { isWall: true });
    }

    await tabTo(floor, /5 sensors say nothing/);
    await floor.keyboard.press('Enter');
    await lines(floor).getByText('bay-2-air · Bay 2').waitFor();
    await floor.screenshot({ path: `${PICTURES}/alerts-storm-desk-light.png` });
    await expectFit(floor);
    await tabTo(floor, /Seen: 5 sensors/);
    await floor.keyboard.press('Enter');
    await Promise.all([floor, setup].map((page) => lines(page).first().waitFor({ state: 'detached' })));
    // Whoever works by keys is not thrown back to the top of the page.
    expect(await floor.evaluate(() => document.activeElement?.id)).toBe('main');

    const talking = setInterval(() => void say(SENSORS, 20, address), 700);
    try {
      for (const page of [floor, setup]) {
        await lines(page).filter({ hasText: '5 sensors are back' }).waitFor({ timeout: WAIT_MS });
        expect(await lines(page).count()).toBe(1);
        await expectNoAxeViolation(page);
      }
    } finally {
      clearInterval(talking);
    }
    await server.stop();
  });
});
