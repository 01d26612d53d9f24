// What was said by hand, folded; and laid over the config, where what nobody touched still follows it.
import { describe, expect, it } from 'vitest';
import { readConfig } from '../../server/adapters/config/readConfig.ts';
import { diffSettings, type SettingsAsked } from '../../server/domain/diffSettings.ts';
import type { Fact, FactOf, Sequence } from '../../server/domain/facts.ts';
import {
  foldSettings,
  NO_SETTINGS,
  type SettingsByHand,
  unseenTouches,
} from '../../server/domain/settings.ts';
import type { CardSetting, SensorSetting, SettingsChange } from '../../server/domain/settingsChange.ts';
import { layOver, plainOf } from '../../server/domain/settingsInForce.ts';
import { BODY_FILLER, minute, place, started } from '../support/domainFixtures.ts';

const CONFIG = readConfig('config/shop.example.json', {}).shop;
const NOTHING: SettingsAsked = { plain: {}, people: [], bays: [] };

/** A change as its fact, made some minutes after seven. */
function changed(body: SettingsChange, afterMin = 1, by: string | null = 'AB'): FactOf<'SettingsChanged'> {
  return {
    type: 'SettingsChanged',
    version: 1,
    at: minute(afterMin),
    recordedAt: minute(afterMin),
    by,
    batchId: null,
    bayId: null,
    sequence: afterMin as Sequence,
    body,
  };
}

function shopChange(asked: Partial<SettingsAsked>, held = CONFIG): SettingsChange {
  const change = diffSettings(held, { ...NOTHING, ...asked });
  if (change === null) throw new Error('nothing would change');
  return change;
}

function fold(...facts: Fact[]): SettingsByHand {
  return facts.reduce(foldSettings, NO_SETTINGS);
}

describe('the fold of changes', () => {
  it('lets every other fact pass', () => {
    const [fact] = place([started()]);
    expect(foldSettings(NO_SETTINGS, fact as Fact)).toBe(NO_SETTINGS);
  });

  it('keeps the last word on each value and counts the changes, newest first', () => {
    const byHand = fold(
      changed(shopChange({ plain: { waitingMin: 20, name: 'Dent and Sons' } }), 1),
      changed(shopChange({ plain: { waitingMin: 25 } }), 2, null),
    );
    expect(byHand.shop.said.plain).toEqual({ waitingMin: 25, name: 'Dent and Sons' });
    expect(byHand.shop).toMatchObject({
      version: 2,
      touches: [
        { version: 2, at: minute(2), by: null, paths: ['alerts.waitingMin'] },
        { version: 1, at: minute(1), by: 'AB', paths: ['alerts.waitingMin', 'shop.name'] },
      ],
    });
  });

  it('keeps sensors and products each with a count of their own, and no more than twenty touches', () => {
    const sensor: SensorSetting = { sensorId: 'new', name: null, stays: [] };
    const card: CardSetting = { stated: BODY_FILLER, beadGramsPer10Cm: 2 };
    const sensorFacts = Array.from({ length: 25 }, (_, index) =>
      changed(
        { part: 'sensor', paths: ['sensors.new.name'], sensor: { ...sensor, name: `n${index}` } },
        index + 1,
      ),
    );
    const byHand = fold(...sensorFacts, changed({ part: 'card', paths: ['cards.body-filler'], card }, 30));
    expect(byHand.sensors['new']).toMatchObject({ version: 25, said: { name: 'n24' } });
    expect(byHand.sensors['new']?.touches.map(({ version }) => version)).toEqual(
      Array.from({ length: 20 }, (_, index) => 25 - index),
    );
    expect(byHand.cards['body-filler']).toMatchObject({ version: 1, said: { beadGramsPer10Cm: 2 } });
    expect(byHand.shop.version).toBe(0);
  });
});

describe('who was overtaken', () => {
  const { shop } = fold(
    changed(shopChange({ plain: { waitingMin: 20 } }), 1),
    changed(shopChange({ plain: { waitingMin: 25 } }), 2),
  );

  it.each<[string, number | undefined, number[] | null]>([
    ['nobody who did not say what they saw', undefined, null],
    ['nobody who saw the last version', 2, null],
    ['one who saw the version before', 1, [2]],
    ['one who saw the config alone', 0, [2, 1]],
    ['one who saw a version that never was', 7, []],
  ])('%s', (_who, expectedVersion, versions) => {
    const unseen = unseenTouches(shop, expectedVersion);
    expect(unseen?.map(({ version }) => version) ?? null).toEqual(versions);
  });

  it('counts from zero where nothing was ever said', () => {
    expect(unseenTouches(null, 0)).toBeNull();
    expect(unseenTouches(null, 1)).toEqual([]);
  });
});

describe('settings in force', () => {
  it('are the config while nobody has said anything', () => {
    expect(layOver(CONFIG, NO_SETTINGS)).toEqual(CONFIG);
  });

  it('take what was said by hand, value by value', () => {
    const plain = {
      name: 'Dent and Sons',
      timeZone: 'Europe/Madrid',
      language: 'es',
      temperatureUnit: 'F',
      lengthUnit: 'in',
      massUnit: 'oz',
      testProbabilityPct: 57.5,
      spreadByS: 60,
      waitingMin: 20,
      slowingMin: 4,
      slowingPct: 30,
      sensorQuietMin: 15,
      isSounding: false,
      beadGramsPer10Cm: 1.8,
    } as const;
    const inForce = layOver(CONFIG, fold(changed(shopChange({ plain }))));
    expect(plainOf(inForce)).toEqual(plain);
    expect(inForce).toMatchObject({
      testProbability: 0.575,
      units: { temperature: 'F', length: 'in', mass: 'oz' },
      alerts: { spreadByS: 60, waitingMin: 20, slowingMin: 4, slowingPct: 30, sensorQuietMin: 15 },
    });
  });

  it('follow a config that is edited later in all that nobody changed by hand, and in nothing else', () => {
    const byHand = fold(
      changed(
        shopChange({
          plain: { waitingMin: 20 },
          people: [{ initials: 'AB', name: 'Ana' }],
          bays: [{ id: 'bay-1', name: 'By the door' }],
        }),
      ),
    );
    const edited = {
      ...CONFIG,
      name: 'Edited',
      alerts: { ...CONFIG.alerts, waitingMin: 99, spreadByS: 30 },
      people: [
        { initials: 'AB', name: 'Edited', isActive: true },
        { initials: 'CD', name: 'New', isActive: true },
      ],
      bays: CONFIG.bays.map((bay) => ({ ...bay, name: 'Edited' })),
    };
    const inForce = layOver(edited, byHand);
    expect(inForce).toMatchObject({ name: 'Edited', alerts: { waitingMin: 20, spreadByS: 30 } });
    expect(inForce.people.map(({ initials, name }) => `${initials} ${name}`)).toEqual(['AB Ana', 'CD New']);
    expect(inForce.bays.map(({ name }) => name)).toEqual(['By the door', 'Edited']);
  });

  it('are the same when more is laid over what was laid over before', () => {
    const first = changed(
      shopChange({ plain: { waitingMin: 20 }, bays: [{ id: 'booth', name: 'Booth' }] }),
      1,
    );
    const second = changed(shopChange({ plain: { spreadByS: 60 }, people: [{ initials: 'AB' }] }), 2);
    expect(layOver(layOver(CONFIG, fold(first)), fold(first, second))).toEqual(
      layOver(CONFIG, fold(first, second)),
    );
  });

  it('know a sensor only in a bay that the shop has, and only while it hangs there', () => {
    const stay = (bayId: string, untilAt: number | null): SensorSetting['stays'][number] => ({
      bayId,
      fromAt: null,
      untilAt: untilAt === null ? null : minute(untilAt),
      airTemperatureOffsetK: 0,
      relativeHumidityOffsetPct: 0,
    });
    const sensors: SensorSetting[] = [
      { sensorId: 'hung', name: null, stays: [stay('bay-1', 3), stay('bay-2', null)] },
      { sensorId: 'gone', name: null, stays: [stay('bay-1', 3)] },
      { sensorId: 'lost', name: null, stays: [stay('torn-down', null)] },
      { sensorId: 'never', name: null, stays: [] },
    ];
    const byHand = fold(
      ...sensors.map((sensor, index) => changed({ part: 'sensor', paths: [], sensor }, index + 1)),
    );
    expect(Object.fromEntries(layOver(CONFIG, byHand).bayOfSensor)).toEqual({
      'bay-1-air': 'bay-1',
      'bay-2-air': 'bay-2',
      hung: 'bay-2',
    });
  });

  it('have a bead of its own for a product that has one, and give it up again', () => {
    const bead = (beadGramsPer10Cm: number | null, afterMin: number): Fact =>
      changed({ part: 'card', paths: [], card: { stated: BODY_FILLER, beadGramsPer10Cm } }, afterMin);
    const weighed = layOver(CONFIG, fold(bead(1.8, 1)));
    expect(weighed.beadOfCard.get('body-filler')).toBe(1.8);
    expect(layOver(weighed, fold(bead(1.8, 1), bead(null, 2))).beadOfCard.size).toBe(0);
  });
});

describe('what a form really changes', () => {
  it.each<[string, Partial<SettingsAsked>]>([
    ['an empty one', {}],
    ['values left out', { plain: { name: undefined } }],
    ['values that are so already', { plain: { name: CONFIG.name, testProbabilityPct: 80 } }],
    ['a bay as it is', { bays: [{ id: 'bay-1', name: 'Bay 1', kind: undefined }] }],
  ])('is nothing for %s', (_what, asked) => {
    expect(diffSettings(CONFIG, { ...NOTHING, ...asked })).toBeNull();
  });

  it('is each value, person and bay by its path, entries whole', () => {
    expect(
      shopChange({
        plain: { isSounding: false, massUnit: 'oz', name: CONFIG.name },
        people: [{ initials: 'AB' }, { initials: 'CD', name: 'Cleo', isActive: false }],
        bays: [
          { id: 'bay-2', name: 'Bay 2', substrate: 'plastic' },
          { id: 'booth', name: 'Booth', kind: 'booth', isAirMoving: true },
        ],
      }),
    ).toEqual({
      part: 'shop',
      paths: ['alerts.sound', 'shop.units.mass', 'people.AB', 'people.CD', 'bays.bay-2', 'bays.booth'],
      plain: { isSounding: false, massUnit: 'oz' },
      people: [
        { initials: 'AB', name: null, isActive: true },
        { initials: 'CD', name: 'Cleo', isActive: false },
      ],
      bays: [
        { id: 'bay-2', name: 'Bay 2', kind: 'bay', isAirMoving: false, substrate: 'plastic' },
        { id: 'booth', name: 'Booth', kind: 'booth', isAirMoving: true, substrate: 'steel' },
      ],
    });
  });

  it('keeps of a person what was not spoken of', () => {
    const held = { ...CONFIG, people: [{ initials: 'AB', name: 'Ana', isActive: true }] };
    expect(shopChange({ people: [{ initials: 'AB', isActive: false }] }, held)).toMatchObject({
      people: [{ initials: 'AB', name: 'Ana', isActive: false }],
    });
  });
});
