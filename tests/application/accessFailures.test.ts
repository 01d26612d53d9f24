// A file of keys that fails at its n-th call: what stands in it is before or after the act, never between, and what is
// remembered says the same.
import { describe, expect, it } from 'vitest';
import type { Access } from '../../server/application/accessParts.ts';
import { findStanding } from '../../server/application/accessStanding.ts';
import { endDevice, makePairing, pairDevice, renameDevice } from '../../server/application/pairDevice.ts';
import type { AccessStore } from '../../server/application/ports/accessStore.ts';
import { PortFailure } from '../../server/application/ports/portFailure.ts';
import {
  endSensorUser,
  makeSensorUser,
  putSensorUser,
  renewPassword,
} from '../../server/application/sensorUsers.ts';
import { changePassphrase, endSession, signIn } from '../../server/application/signIn.ts';
import { keepPassphrase, NOBODY, openTestAccess, SOURCE, type TestAccess } from '../support/testAccess.ts';

const CALLS_MAX = 20;

interface Scene {
  readonly test: TestAccess;
  readonly deviceId: string;
  readonly sessionToken: string;
  readonly code: string;
}

/** A shop with a device, a manager, a user of sensors and a code that waits. */
async function openScene(): Promise<Scene> {
  const test = await openTestAccess();
  const { access } = test;
  await keepPassphrase(test, 'right');
  const pairing = makePairing(access, 'work')?.code ?? '';
  await pairDevice(access, { code: pairing, name: 'Phone', source: SOURCE, tokens: NOBODY });
  await makeSensorUser(access, { name: 'north', kind: 'sensor', sensorIds: ['bay-1-air'] });
  const signed = await signIn(access, { passphrase: 'right', source: SOURCE, tokens: NOBODY });
  const [device] = access.devices.values();
  return {
    test,
    deviceId: device?.id ?? '',
    sessionToken: signed.kind === 'signedIn' ? signed.token : '',
    code: makePairing(access, 'view')?.code ?? '',
  };
}

/** What stands in the file, without what differs from run to run. */
async function standsIn(store: AccessStore): Promise<string> {
  const devices = (await store.readDevices()).map(({ name, right }) => ({ name, right }));
  const users = (await store.readSensorUsers()).map(({ name, kind, sensorIds }) => ({
    name,
    kind,
    sensorIds,
  }));
  const passphrase = (await store.readPassphrase())?.hash;
  return JSON.stringify({
    devices: devices.toSorted((a, b) => a.name.localeCompare(b.name)),
    users,
    passphrase,
  });
}

function remembered({ devices, users }: Access): string[][] {
  return [
    [...devices.values()].map(({ name }) => name).toSorted(),
    [...users.values()].map(({ name, sensorIds }) => `${name} ${sensorIds.join()}`),
  ];
}

async function kept(store: AccessStore): Promise<string[][]> {
  const devices = await store.readDevices();
  const users = await store.readSensorUsers();
  return [
    devices.map(({ name }) => name).toSorted(),
    users.map(({ name, sensorIds }) => `${name} ${sensorIds.join()}`),
  ];
}

/** Lets one call of a store fail. */
function failing(store: AccessStore, nth: number): { store: AccessStore; isReached: () => boolean } {
  let count = 0;
  const proxy = new Proxy(store, {
    get(target, name: keyof AccessStore) {
      return async (...given: never[]): Promise<unknown> => {
        count += 1;
        if (count === nth) throw new PortFailure('keys', name, { isRetriable: true });
        return (target[name] as (...all: never[]) => Promise<unknown>)(...given);
      };
    },
  });
  return { store: proxy, isReached: () => count >= nth };
}

const ACTS: [string, (scene: Scene, access: Access) => Promise<unknown>][] = [
  [
    'pairing',
    ({ code }, access) => pairDevice(access, { code, name: 'Wall', source: SOURCE, tokens: NOBODY }),
  ],
  ['renaming a device', ({ deviceId }, access) => renameDevice(access, { deviceId, name: 'Other' })],
  ['ending a device', ({ deviceId }, access) => endDevice(access, deviceId)],
  ['signing in', (_, access) => signIn(access, { passphrase: 'right', source: SOURCE, tokens: NOBODY })],
  [
    'a new passphrase',
    ({ sessionToken }, access) => {
      const standing = findStanding(access, { device: null, session: sessionToken }, true);
      return changePassphrase(access, { current: 'right', next: 'another', source: SOURCE, standing });
    },
  ],
  [
    'ending a session',
    ({ sessionToken }, access) =>
      endSession(
        access,
        findStanding(access, { device: null, session: sessionToken }, false).sessionId ?? '',
      ),
  ],
  [
    'a new user of sensors',
    (_, access) => makeSensorUser(access, { name: 'south', kind: 'sensor', sensorIds: [] }),
  ],
  ['other sensors', (_, access) => putSensorUser(access, 'north', ['bay-2-air'])],
  ['a new password', (_, access) => renewPassword(access, 'north')],
  ['ending a user', (_, access) => endSensorUser(access, 'north')],
];

describe('an act whose file of keys fails at any call', () => {
  it.each(ACTS)('stands before or after it, and can be done again: %s', async (_what, act) => {
    const whole = await openScene();
    const before = await standsIn(whole.test.access.store);
    await act(whole, whole.test.access);
    const after = await standsIn(whole.test.access.store);
    for (let nth = 1; nth <= CALLS_MAX; nth += 1) {
      const scene = await openScene();
      const { access } = scene.test;
      const broken = failing(access.store, nth);
      const outcome = await act(scene, { ...access, store: broken.store }).catch((error: unknown) => error);
      if (!broken.isReached()) return;
      expect([before, after]).toContain(await standsIn(access.store));
      expect(remembered(access)).toEqual(await kept(access.store));
      if (!(outcome instanceof PortFailure)) continue;
      await act(scene, access);
      expect(await standsIn(access.store)).toBe(after);
    }
    expect.fail(`more than ${CALLS_MAX} calls`);
  });
});
