// The shop's settings by HTTP: changed in part, told to screens, kept once; what a wrong wish is told.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeMemoryStore } from '../../../server/adapters/ledger/memory/makeMemoryStore.ts';
import { PortFailure } from '../../../server/application/ports/portFailure.ts';
import type { SettingsWire, SnapshotWire } from '../../../server/contract/index.ts';
import { pathsOf, serveShop, type ServedShop } from '../../support/serveShop.ts';

let test: ServedShop;
beforeEach(async () => {
  test = await serveShop();
});
afterEach(() => test.close());

describe('settings', () => {
  it('show what the config says while nobody has changed anything', async () => {
    expect(await test.read('/settings')).toEqual({
      version: 0,
      shop: {
        name: 'My shop',
        timeZone: 'UTC',
        language: 'en',
        units: { temperature: 'C', length: 'mm', mass: 'g' },
      },
      alerts: {
        testProbabilityPct: 80,
        spreadByS: 90,
        waitingMin: 15,
        slowingMin: 3,
        slowingPct: 20,
        sensorQuietMin: 10,
        sound: true,
      },
      beadGramsPer10Cm: null,
      people: [],
      bays: [
        { id: 'bay-1', name: 'Bay 1', kind: 'bay', movingAir: false, substrate: 'steel' },
        { id: 'bay-2', name: 'Bay 2', kind: 'bay', movingAir: false, substrate: 'steel' },
      ],
      webhooks: [],
      changes: [],
    });
  });

  it('are changed in what is sent and in nothing else, and every screen is asked to read anew', async () => {
    const reply = await test.put('/settings', {
      by: 'AB',
      shop: { name: 'Dent and Sons', units: { temperature: 'F' } },
      alerts: { testProbabilityPct: 90, sound: false },
      beadGramsPer10Cm: 1.8,
      people: [
        { initials: 'AB', name: 'Ana' },
        { initials: 'CD', active: false },
      ],
      bays: [{ id: 'booth', name: 'Booth', kind: 'booth', movingAir: true }],
    });
    expect(reply.status).toBe(200);
    const settings = reply.body as unknown as SettingsWire;
    expect(settings).toEqual(await test.read('/settings'));
    expect(settings).toMatchObject({ version: 1, changes: [{ version: 1, by: 'AB' }] });
    expect(settings.changes[0]?.paths.toSorted()).toEqual([
      'alerts.sound',
      'alerts.testProbabilityPct',
      'bays.booth',
      'beadGramsPer10Cm',
      'people.AB',
      'people.CD',
      'shop.name',
      'shop.units.temperature',
    ]);
    expect(test.logged).toContain('resync');
    const snapshot = await test.read<SnapshotWire>('/snapshot');
    expect(snapshot.shop).toMatchObject({
      name: 'Dent and Sons',
      testProbabilityPct: 90,
      language: 'en',
      units: { temperature: 'F', length: 'mm', mass: 'g' },
      sound: false,
    });
    expect(snapshot.people).toEqual([{ initials: 'AB', name: 'Ana' }]);
    expect(snapshot.bays.map(({ id }) => id)).toEqual(['bay-1', 'bay-2', 'booth']);
    expect(snapshot.cards.map(({ beadGramsPer10Cm }) => beadGramsPer10Cm)).toEqual([1.8, 1.8, 1.8, 1.8]);
  });

  it('tell who changed what in between and change nothing', async () => {
    await test.put('/settings', { by: 'AB', alerts: { waitingMin: 20 } });
    const reply = await test.put('/settings', { by: 'CD', expectedVersion: 0, alerts: { waitingMin: 30 } });
    expect(reply).toMatchObject({
      status: 409,
      body: {
        code: 'version-stale',
        detail: 'This was changed since it was shown. Last AB changed alerts.waitingMin.',
        conflict: { version: 1, changes: [{ version: 1, by: 'AB', paths: ['alerts.waitingMin'] }] },
      },
    });
    const settings = await test.read<SettingsWire>('/settings');
    expect(settings).toMatchObject({ version: 1, alerts: { waitingMin: 20 } });
    expect((await test.put('/settings', { expectedVersion: 1, alerts: { waitingMin: 30 } })).status).toBe(
      200,
    );
  });

  it('are changed once under one key', async () => {
    const headers = { 'idempotency-key': 'one' };
    const first = await test.put('/settings', { alerts: { waitingMin: 20 } }, headers);
    await test.put('/settings', { alerts: { waitingMin: 30 } });
    expect(await test.put('/settings', { alerts: { waitingMin: 20 } }, headers)).toEqual(first);
    expect(await test.read('/settings')).toMatchObject({ version: 2, alerts: { waitingMin: 30 } });
    expect(await test.put('/settings', { alerts: { waitingMin: 40 } }, headers)).toMatchObject({
      status: 422,
    });
  });

  it('that are so already are no change', async () => {
    const head = await test.shop.ledger.readHead();
    const reply = await test.put('/settings', { alerts: { waitingMin: 15 }, shop: { name: 'My shop' } });
    expect(reply).toMatchObject({ status: 200, body: { version: 0, changes: [] } });
    expect(await test.shop.ledger.readHead()).toBe(head);
    expect(test.logged).not.toContain('resync');
  });

  it.each<[string, unknown, string[]]>([
    ['a zone that is none', { shop: { timeZone: 'Mars/Olympus' } }, ['shop.timeZone']],
    ['a language that is not spoken', { shop: { language: 'fr' } }, ['shop.language']],
    ['a probability out of bounds', { alerts: { testProbabilityPct: 96 } }, ['alerts.testProbabilityPct']],
    ['a number as text', { alerts: { waitingMin: '15' } }, ['alerts.waitingMin']],
    ['an unknown field', { alarm: true }, ['alarm']],
    ['an empty name', { shop: { name: ' ' } }, ['shop.name']],
    ['a person twice', { people: [{ initials: 'AB' }, { initials: 'AB' }] }, ['people.1.initials']],
    [
      'a bay twice',
      {
        bays: [
          { id: 'b', name: 'B' },
          { id: 'b', name: 'C' },
        ],
      },
      ['bays.1.id'],
    ],
    ['a bay without a name', { bays: [{ id: 'b' }] }, ['bays.0.name']],
    ['a bead out of bounds', { beadGramsPer10Cm: 0 }, ['beadGramsPer10Cm']],
    [
      'two things at once',
      { alerts: { spreadByS: -1, slowingPct: 200 } },
      ['alerts.spreadByS', 'alerts.slowingPct'],
    ],
  ])('refuse %s, name it and store nothing', async (_what, body, paths) => {
    const head = await test.shop.ledger.readHead();
    expect(pathsOf(await test.put('/settings', body))).toEqual(paths);
    expect(await test.shop.ledger.readHead()).toBe(head);
  });

  it('say the bounds of a number that is out of them', async () => {
    const { body } = await test.put('/settings', { alerts: { testProbabilityPct: 50 } });
    expect(body['errors']).toEqual([
      { path: 'alerts.testProbabilityPct', reason: 'is too small', allowed: '60 … 95 %' },
    ]);
  });

  it('need a key', async () => {
    expect(pathsOf(await test.put('/settings', {}, { 'idempotency-key': '' }))).toEqual(['Idempotency-Key']);
  });
});

describe('a store that fails', () => {
  it('leaves the settings as they were', async () => {
    test.close();
    const store = makeMemoryStore();
    let isBroken = false;
    test = await serveShop({
      ...store,
      ledger: {
        ...store.ledger,
        append: (entry) => {
          if (isBroken) throw new PortFailure('ledger', 'append', { isRetriable: true });
          return store.ledger.append(entry);
        },
      },
    });
    isBroken = true;
    expect((await test.put('/settings', { shop: { name: 'Dent and Sons' } })).status).toBe(503);
    isBroken = false;
    expect(await test.read('/settings')).toMatchObject({ version: 0, shop: { name: 'My shop' } });
  });
});
