// Products by HTTP: tried, put, changed under open batches; what a wrong card is told.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { CardSetupWire, SnapshotWire } from '../../../server/contract/index.ts';
import { askJson, getJson } from '../../support/http.ts';
import { pathsOf, serveShop, type ServedShop } from '../../support/serveShop.ts';
import { sayAir, start } from '../../support/testShop.ts';

let test: ServedShop;
beforeEach(async () => {
  test = await serveShop();
});
afterEach(() => test.close());

const CARD = {
  name: 'Night filler',
  fill: 'regular',
  atC: 20,
  thicknessMm: 1,
  hardenerPct: 2,
  workingMin: 6,
  sandMin: 22,
  lowestC: 10,
  thicknessMaxMm: 6,
};

describe('products', () => {
  it('can be tried without being kept', async () => {
    const head = await test.shop.ledger.readHead();
    const { status, body } = await askJson(
      { address: test.address, path: '/cards/previews', method: 'POST' },
      CARD,
    );
    expect(status).toBe(200);
    expect((body['rows'] as { airTemperatureC: number }[]).map((row) => row.airTemperatureC)).toEqual([
      5, 10, 15, 20, 25, 30,
    ]);
    expect(body['warnings']).toMatchObject([{ code: 'slow-in-the-cold', airTemperatureC: 10 }]);
    expect(await test.shop.ledger.readHead()).toBe(head);
  });

  it('are new, then changed, and stand where mixes are started', async () => {
    const created = await test.put('/cards/night-filler', { ...CARD, by: 'AB', beadGramsPer10Cm: 2.2 });
    expect(created).toMatchObject({
      status: 201,
      body: {
        id: 'night-filler',
        version: 1,
        sandMin: 22,
        activationKJPerMol: 46,
        beadGramsPer10Cm: 2.2,
        changes: [{ by: 'AB', paths: ['cards.night-filler'] }],
      },
    });
    const changed = await test.put('/cards/night-filler', { ...CARD, sandMin: 24, expectedVersion: 1 });
    expect(changed).toMatchObject({
      status: 200,
      body: { version: 2, sandMin: 24, beadGramsPer10Cm: 2.2 },
    });
    expect((changed.body as unknown as CardSetupWire).changes[0]?.paths).toEqual([
      'cards.night-filler.sandMin',
    ]);
    expect(await test.read('/cards/night-filler')).toEqual(changed.body);
    await sayAir(test, 20);
    expect((await start(test, { cardId: 'night-filler' })).estimate?.test.p50At).not.toBeNull();
    const facts = await test.shop.ledger.readFacts({ afterSequence: 0 as never, limit: 100 });
    expect(facts.map(({ type }) => type).slice(4, 8)).toEqual([
      'SettingsChanged',
      'CardCalibrated',
      'SettingsChanged',
      'CardCalibrated',
    ]);
  });

  it('give up their own bead for the shop’s', async () => {
    await test.put('/settings', { beadGramsPer10Cm: 1.5 });
    await test.put('/cards/night-filler', { ...CARD, beadGramsPer10Cm: 2.2 });
    await test.put('/cards/night-filler', { ...CARD, beadGramsPer10Cm: null });
    const { cards } = await test.read<SnapshotWire>('/snapshot');
    expect(cards.find(({ id }) => id === 'night-filler')?.beadGramsPer10Cm).toBe(1.5);
  });

  it('as they are already are no change', async () => {
    await test.put('/cards/night-filler', CARD);
    const head = await test.shop.ledger.readHead();
    expect(await test.put('/cards/night-filler', CARD)).toMatchObject({ status: 200, body: { version: 1 } });
    expect(await test.shop.ledger.readHead()).toBe(head);
  });

  it('move the windows of open batches when they are changed', async () => {
    await sayAir(test, 20);
    const batch = await start(test);
    const card = await test.read<CardSetupWire>('/cards/body-filler');
    const { id: _id, version, preview: _preview, changes: _changes, ...stated } = card;
    expect(
      (await test.put('/cards/body-filler', { ...stated, sandMin: 30, expectedVersion: version })).status,
    ).toBe(200);
    await test.clock.moveBy(1);
    const after = await test.read<{ estimate: typeof batch.estimate }>(`/batches/${batch.id}`);
    const laterMs =
      Date.parse(after.estimate?.test.p50At ?? '') - Date.parse(batch.estimate?.test.p50At ?? '');
    expect(laterMs).toBeGreaterThan(5 * 60_000);
  });

  it.each<[string, Record<string, unknown>, string[]]>([
    ['no induction would be left', { workingMin: 1, sandMin: 60 }, ['workingMin']],
    ['the mix would harden at once', { workingMin: 21.9 }, ['workingMin']],
    ['it cannot be spread before it is sanded', { workingMin: 30 }, ['workingMin']],
    ['it is stated for frost', { atC: -30 }, ['atC']],
    ['a field is missing', { name: undefined, sandMin: undefined }, ['name', 'sandMin']],
    ['its chemistry is none', { activationKJPerMol: 500 }, ['activationKJPerMol']],
    ['a field is unknown', { colour: 'grey' }, ['colour']],
  ])('are refused where %s', async (_why, parts, paths) => {
    const head = await test.shop.ledger.readHead();
    expect(pathsOf(await test.put('/cards/night-filler', { ...CARD, ...parts }))).toEqual(paths);
    const tried = await askJson(
      { address: test.address, path: '/cards/previews', method: 'POST' },
      { ...CARD, ...parts, name: 'x' },
    );
    expect(tried.status).toBe(400);
    expect(await test.shop.ledger.readHead()).toBe(head);
    expect((await getJson(test.address, '/cards/night-filler')).status).toBe(404);
  });

  it('may be called like something that every object has', async () => {
    const first = await test.put('/cards/constructor', { ...CARD, expectedVersion: 0 });
    expect(first).toMatchObject({ status: 201, body: { id: 'constructor', version: 1 } });
    expect(await test.put('/cards/constructor', { ...CARD, expectedVersion: 0 })).toMatchObject({
      status: 409,
    });
    expect((await getJson(test.address, '/cards/toString')).status).toBe(404);
  });

  it('need an id that can stand in a path, and tell who was faster', async () => {
    expect(pathsOf(await test.put('/cards/bad%20id', CARD))).toEqual(['id']);
    await test.put('/cards/night-filler', { ...CARD, by: 'AB' });
    expect(await test.put('/cards/night-filler', { ...CARD, sandMin: 25, expectedVersion: 0 })).toMatchObject(
      {
        status: 409,
        body: { conflict: { version: 1, changes: [{ by: 'AB', paths: ['cards.night-filler'] }] } },
      },
    );
  });
});
