// Access over time: codes, devices, sessions and users end when they should, and what is ended does not come back.
import { describe, expect, it } from 'vitest';
import { findStanding } from '../../server/application/accessStanding.ts';
import { endDevice, makePairing, pairDevice, renameDevice } from '../../server/application/pairDevice.ts';
import { readAccessSetup } from '../../server/application/presentAccess.ts';
import { rebuildViews } from '../../server/application/rebuildViews.ts';
import {
  knowUser,
  makeSensorUser,
  putSensorUser,
  renewPassword,
} from '../../server/application/sensorUsers.ts';
import { changePassphrase, signIn } from '../../server/application/signIn.ts';
import { keepPassphrase, NOBODY, openTestAccess, SOURCE, type TestAccess } from '../support/testAccess.ts';

const EVERYBODY = { deviceId: null, sessionId: null, right: null } as const;

async function pairOne(test: TestAccess, name = 'Phone', tokens = NOBODY): Promise<string> {
  const pairing = makePairing(test.access, 'work');
  const paired = await pairDevice(test.access, { code: pairing?.code ?? '', name, source: SOURCE, tokens });
  if (paired.kind !== 'paired') throw new Error(paired.kind);
  return paired.token;
}

async function signInOne(test: TestAccess): Promise<string> {
  const signed = await signIn(test.access, { passphrase: 'right', source: SOURCE, tokens: NOBODY });
  if (signed.kind !== 'signedIn') throw new Error(signed.kind);
  return signed.token;
}

function makeGate() {
  let open = (): void => undefined;
  const passed = new Promise<void>((done) => (open = done));
  return { passed, open: () => open() };
}

/** A check of a passphrase takes its time: the first one waits until it is let go. */
function holdFirstCheck({ access }: TestAccess) {
  const [gate, begin] = [makeGate(), makeGate()];
  let isFirst = true;
  const { secrets } = access;
  const isPassphrase: typeof secrets.isPassphrase = async (...given) => {
    const isHeld = isFirst;
    isFirst = false;
    const isRight = await secrets.isPassphrase(...given);
    begin.open();
    if (isHeld) await gate.passed;
    return isRight;
  };
  const slow = { ...access, secrets: { ...secrets, isPassphrase } };
  return { access: slow, begun: begin.passed, release: gate.open };
}

const deviceIn = (test: TestAccess, token: string) =>
  findStanding(test.access, { device: token, session: null }, false);
const sessionIn = (test: TestAccess, token: string, isWriting = false) =>
  findStanding(test.access, { device: null, session: token }, isWriting);

describe('a code', () => {
  it('pairs one device, however it is spaced, and no second one', async () => {
    const test = await openTestAccess();
    const { code } = makePairing(test.access, 'view') ?? { code: '' };
    const typed = ` ${code.slice(0, 4).toLowerCase()} - ${code.slice(4)} `;
    const ask = { code: typed, name: 'Wall', source: SOURCE, tokens: NOBODY };
    const [first, second] = [pairDevice(test.access, ask), pairDevice(test.access, ask)];
    expect([(await first).kind, (await second).kind].toSorted()).toEqual(['paired', 'refused']);
    const setup = await readAccessSetup(test.access, EVERYBODY);
    expect(setup.devices).toMatchObject([{ name: 'Wall', right: 'view' }]);
  });

  it('is worth nothing after ten minutes', async () => {
    const test = await openTestAccess();
    const { code } = makePairing(test.access, 'work') ?? { code: '' };
    await test.clock.moveBy(10);
    const ask = { code, name: 'Late', source: SOURCE, tokens: NOBODY };
    expect(await pairDevice(test.access, ask)).toEqual({ kind: 'refused' });
  });

  it('is not made while too many wait', async () => {
    const test = await openTestAccess();
    const made = Array.from({ length: 21 }, () => makePairing(test.access, 'work'));
    expect(made.filter((one) => one === null)).toHaveLength(1);
    await test.clock.moveBy(10);
    expect(makePairing(test.access, 'work')).not.toBeNull();
  });
});

describe('a device', () => {
  it('is known again after a restart, by nothing that stands in the file', async () => {
    const test = await openTestAccess();
    const token = await pairOne(test);
    const [kept] = await test.access.store.readDevices();
    expect(JSON.stringify(kept)).not.toContain(token);
    const again = await openTestAccess(test.folder);
    expect(deviceIn(again, token).right).toBe('work');
  });

  it('that is paired anew replaces what it was', async () => {
    const test = await openTestAccess();
    const before = await pairOne(test);
    const after = await pairOne(test, 'Phone again', { device: before, session: null });
    expect([deviceIn(test, before).right, deviceIn(test, after).right]).toEqual([null, 'work']);
    expect(test.access.devices.size).toBe(1);
  });

  it('that is ended takes its session along, and no rename or look brings it back', async () => {
    const test = await openTestAccess();
    await keepPassphrase(test, 'right');
    const token = await pairOne(test);
    const { deviceId } = deviceIn(test, token);
    await signIn(test.access, {
      passphrase: 'right',
      source: SOURCE,
      tokens: { device: token, session: null },
    });
    const [, renamed] = await Promise.all([
      endDevice(test.access, deviceId ?? ''),
      renameDevice(test.access, { deviceId: deviceId ?? '', name: 'Other' }),
    ]);
    expect(renamed).toBe('unknown');
    expect(deviceIn(test, token)).toEqual(EVERYBODY);
    expect(test.access.sessions.size).toBe(0);
    expect(test.ended.map(({ kind }) => kind)).toEqual(['session', 'device']);
    expect((await openTestAccess(test.folder)).access.devices.size).toBe(0);
  });

  it('that is ended takes along the session that was there before it was paired', async () => {
    const test = await openTestAccess();
    await keepPassphrase(test, 'right');
    const session = await signInOne(test);
    const other = await signInOne(test);
    const token = await pairOne(test, 'Phone', { device: null, session });
    const { deviceId } = deviceIn(test, token);
    expect(await endDevice(test.access, deviceId ?? '')).toBe('done');
    expect([sessionIn(test, session).right, sessionIn(test, other).right]).toEqual([null, 'manage']);
    expect(test.ended.map(({ kind }) => kind)).toEqual(['session', 'device']);
  });

  it('that is paired anew keeps its session, and takes it along in the end', async () => {
    const test = await openTestAccess();
    await keepPassphrase(test, 'right');
    const session = await signInOne(test);
    const before = await pairOne(test, 'Phone', { device: null, session });
    const after = await pairOne(test, 'Phone again', { device: before, session });
    expect(sessionIn(test, session).right).toBe('manage');
    await endDevice(test.access, deviceIn(test, after).deviceId ?? '');
    expect(sessionIn(test, session).right).toBeNull();
  });
});

describe('a session', () => {
  it('ends half an hour after its last write, however much is read', async () => {
    const test = await openTestAccess();
    await keepPassphrase(test, 'right');
    const token = await signInOne(test);
    await test.clock.moveBy(29);
    expect(sessionIn(test, token, true).right).toBe('manage');
    await test.clock.moveBy(29);
    expect(sessionIn(test, token).right).toBe('manage');
    await test.clock.moveBy(2);
    expect(sessionIn(test, token).right).toBeNull();
    expect(test.ended).toMatchObject([{ kind: 'session' }]);
  });

  it('ends after twelve hours, however much is written', async () => {
    const test = await openTestAccess();
    await keepPassphrase(test, 'right');
    const token = await signInOne(test);
    for (let step = 0; step < 12 * 3; step += 1) {
      await test.clock.moveBy(19.9);
      expect(sessionIn(test, token, true).right).toBe('manage');
    }
    await test.clock.moveBy(5);
    expect(sessionIn(test, token, true).right).toBeNull();
  });

  it('ends within a minute when the passphrase is changed by the command beside the program', async () => {
    const test = await openTestAccess();
    await keepPassphrase(test, 'right');
    const token = await signInOne(test);
    await keepPassphrase(test, 'another', 2);
    await test.clock.moveBy(1.1);
    expect(sessionIn(test, token).right).toBeNull();
    const { log } = await readAccessSetup(test.access, EVERYBODY);
    expect(log.filter(({ act }) => act === 'passphraseChanged')).toHaveLength(2);
  });

  it('that changes the passphrase goes on, and every other one ends', async () => {
    const test = await openTestAccess();
    await keepPassphrase(test, 'right');
    const [mine, other] = [await signInOne(test), await signInOne(test)];
    const ask = { current: 'right', next: 'another', source: SOURCE, standing: sessionIn(test, mine) };
    expect(await changePassphrase(test.access, ask)).toEqual({ kind: 'changed' });
    expect([sessionIn(test, mine).right, sessionIn(test, other).right]).toEqual(['manage', null]);
  });

  it('is not to be had by the old passphrase while a new one is set', async () => {
    const test = await openTestAccess();
    await keepPassphrase(test, 'right');
    const mine = await signInOne(test);
    const held = holdFirstCheck(test);
    const late = signIn(held.access, { passphrase: 'right', source: SOURCE, tokens: NOBODY });
    await held.begun;
    const ask = { current: 'right', next: 'another', source: SOURCE, standing: sessionIn(test, mine) };
    expect(await changePassphrase(held.access, ask)).toEqual({ kind: 'changed' });
    held.release();
    expect(await late).toEqual({ kind: 'refused' });
    expect(test.access.sessions.size).toBe(1);
  });

  it('that was judged by the old passphrase cannot replace the new one', async () => {
    const test = await openTestAccess();
    await keepPassphrase(test, 'right');
    const [mine, other] = [await signInOne(test), await signInOne(test)];
    const held = holdFirstCheck(test);
    const change = (next: string, token: string) =>
      changePassphrase(held.access, {
        current: 'right',
        next,
        source: SOURCE,
        standing: sessionIn(test, token),
      });
    const late = change('stolen', other);
    await held.begun;
    expect(await change('another', mine)).toEqual({ kind: 'changed' });
    held.release();
    expect(await late).toEqual({ kind: 'refused' });
    const sign = (passphrase: string) =>
      signIn(held.access, { passphrase, source: SOURCE, tokens: NOBODY }).then(({ kind }) => kind);
    expect([await sign('stolen'), await sign('another')]).toEqual(['refused', 'signedIn']);
  });

  it('is not to be had before a passphrase was set', async () => {
    const test = await openTestAccess();
    const ask = { passphrase: '', source: SOURCE, tokens: NOBODY };
    expect(await signIn(test.access, ask)).toEqual({ kind: 'none' });
  });
});

describe('a user of sensors', () => {
  it('is known by its newest password alone, and is cut when that or its sensors change', async () => {
    const test = await openTestAccess();
    const body = { name: 'north', kind: 'sensor', sensorIds: ['bay-1-air'] } as const;
    const made = await makeSensorUser(test.access, { ...body, sensorIds: [...body.sensorIds] });
    expect(await makeSensorUser(test.access, { ...body, sensorIds: [] })).toBe('taken');
    const renewed = await renewPassword(test.access, 'north');
    await putSensorUser(test.access, 'north', ['bay-2-air']);
    const passwords = [made, renewed].map((one) => (typeof one === 'string' ? '' : one.password));
    const known = passwords.map((password) =>
      knowUser(test.access, { name: 'north', password, source: SOURCE }),
    );
    expect(known).toMatchObject([{ kind: 'refused' }, { kind: 'known', user: { sensorIds: ['bay-2-air'] } }]);
    expect(test.ended).toHaveLength(2);
  });

  it('of two made at once under one name is only one', async () => {
    const test = await openTestAccess();
    const make = () => makeSensorUser(test.access, { name: 'north', kind: 'reader', sensorIds: ['x'] });
    const [first, second] = await Promise.all([make(), make()]);
    expect([typeof first, second]).toEqual(['object', 'taken']);
    expect(test.access.users.get('north')?.sensorIds).toEqual([]);
  });
});

describe('the list of who came and went', () => {
  it('stands in the ledger, is rebuilt from its facts, and holds no token, code, password or address', async () => {
    const test = await openTestAccess();
    await keepPassphrase(test, 'right');
    const token = await pairOne(test);
    const session = await signInOne(test);
    await signIn(test.access, { passphrase: 'wrong', source: SOURCE, tokens: NOBODY });
    const user = await makeSensorUser(test.access, { name: 'north', kind: 'sensor', sensorIds: [] });
    const facts = JSON.stringify(
      await test.shop.ledger.readFacts({ afterSequence: 0 as never, limit: 1000 }),
    );
    const password = typeof user === 'string' ? '' : user.password;
    for (const secret of [token, session, password, SOURCE, 'wrong"']) expect(facts).not.toContain(secret);
    expect(facts).toContain('SignInRefused');
    expect((await rebuildViews(test.shop.ledger, { isMending: false })).differences).toEqual([]);
  });
});
