// Forms of Setup: what is typed lies over what the shop holds, only what differs is sent, and nothing typed is lost.
import { beforeEach, describe, expect, it } from 'vitest';
import {
  $setupForms,
  advanceForms,
  bodyOf,
  changedPaths,
  changeForm,
  dropForm,
  formOf,
  mistakesIn,
  typeInto,
  valueOf,
} from '../../../dashboard/state/setupForm.ts';
import {
  planAlerts,
  planBay,
  planBead,
  planCard,
  planPerson,
  planSensor,
  planShop,
} from '../../../dashboard/state/setupPlans.ts';
import { previewBodyOf } from '../../../dashboard/state/setupCard.ts';
import {
  parseWith,
  previewCardBody,
  putCardBody,
  putSensorBody,
  putSettingsBody,
  type SensorWire,
  type SettingsWire,
  UNSTATED_ON_CARDS,
} from '../../../server/contract/index.ts';

const settings: SettingsWire = {
  version: 3,
  shop: {
    name: 'Kiln Street',
    timeZone: 'Europe/Madrid',
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
  beadGramsPer10Cm: 4,
  people: [{ initials: 'MK', name: null, active: true }],
  bays: [{ id: 'bay-1', name: 'Bay 1', kind: 'bay', movingAir: false, substrate: 'steel' }],
  webhooks: [],
  changes: [],
};

const sensor: SensorWire = {
  id: 'spare-7',
  version: 0,
  name: null,
  bayId: 'bay-1',
  sinceAt: null,
  airTemperatureOffsetK: 0,
  relativeHumidityOffsetPct: 0,
  lastSeenAt: null,
  lastValues: { airTemperatureC: 12, relativeHumidityPct: 50, panelTemperatureC: null },
  changes: [],
};

beforeEach(() => {
  $setupForms.value = {};
});

describe('what is typed', () => {
  it('stays while the shop changes around it, and all else follows the shop', () => {
    typeInto(planShop(settings), 'shop.name', 'Kiln Street 2');
    const later = planShop({ ...settings, version: 4, shop: { ...settings.shop, timeZone: 'UTC' } });
    expect(valueOf(later, 'shop.name')).toBe('Kiln Street 2');
    expect(valueOf(later, 'shop.timeZone')).toBe('UTC');
    expect(changedPaths(later)).toEqual(['shop.name']);
    expect(formOf(later).basedOnVersion).toBe(3);
  });

  it('rests on the version shown when typing began anew after all was as it had been', () => {
    typeInto(planShop(settings), 'shop.name', 'X');
    typeInto(planShop(settings), 'shop.name', 'Kiln Street');
    typeInto(planShop({ ...settings, version: 5 }), 'shop.name', 'Y');
    expect(formOf(planShop(settings)).basedOnVersion).toBe(5);
  });

  it('takes the error of its own field away, and no other', () => {
    const plan = planAlerts(settings);
    const wrong = (path: string) => ({ path, reason: 'is too large', allowed: '' });
    changeForm(plan, { errors: [wrong('alerts.waitingMin'), wrong('alerts.spreadByS')], said: 'lookAgain' });
    typeInto(plan, 'alerts.waitingMin', '20');
    expect(formOf(plan).errors).toEqual([wrong('alerts.spreadByS')]);
    expect(formOf(plan).said).toBeNull();
  });

  it('is gone when the form is left', () => {
    const plan = planShop(settings);
    typeInto(plan, 'shop.name', 'X');
    dropForm(plan.id);
    expect(valueOf(plan, 'shop.name')).toBe('Kiln Street');
  });
});

describe('an own save', () => {
  it('carries other forms of the same place to the new version, and none that others have overtaken', () => {
    typeInto(planShop(settings), 'shop.name', 'X');
    typeInto(planAlerts({ ...settings, version: 2 }), 'alerts.waitingMin', '20');
    typeInto(planSensor({ ...sensor, version: 3 }), 'name', 'By the door');
    advanceForms('/settings', { fromVersion: 3, toVersion: 4 });
    expect(formOf(planShop(settings)).basedOnVersion).toBe(4);
    expect(formOf(planAlerts(settings)).basedOnVersion).toBe(2);
    expect(formOf(planSensor(sensor)).basedOnVersion).toBe(3);
  });
});

describe('what is told without the server', () => {
  it.each([
    ['', 'is missing'],
    ['about ten', 'is not a number'],
  ])('a number typed as "%s" %s', (typed, reason) => {
    const plan = planAlerts(settings);
    typeInto(plan, 'alerts.waitingMin', typed);
    expect(mistakesIn(plan, changedPaths(plan))).toEqual([
      { path: 'alerts.waitingMin', reason, allowed: '' },
    ]);
  });

  it('is nothing where a field may be empty, or a comma is typed', () => {
    const plan = planBead(settings);
    typeInto(plan, 'beadGramsPer10Cm', '');
    expect(mistakesIn(plan, changedPaths(plan))).toEqual([]);
    typeInto(plan, 'beadGramsPer10Cm', '4,5');
    expect(mistakesIn(plan, changedPaths(plan))).toEqual([]);
  });
});

/** The body of what is typed now, as the contract takes it. */
function parsedSettings(plan: ReturnType<typeof planShop>, paths = changedPaths(plan)): unknown {
  const parsed = parseWith(putSettingsBody, bodyOf(plan, { ...plan.held, ...formOf(plan).typed }, paths));
  return parsed.kind === 'parsed' ? parsed.value : parsed.rejections;
}

describe('the body', () => {
  it('holds what differs and nothing else, nested as the contract has it', () => {
    const plan = planShop(settings);
    typeInto(plan, 'shop.units.mass', 'oz');
    expect(parsedSettings(plan)).toEqual({ shop: { units: { mass: 'oz' } } });
    const alerts = planAlerts(settings);
    typeInto(alerts, 'alerts.waitingMin', '12,5');
    typeInto(alerts, 'alerts.sound', false);
    expect(parsedSettings(alerts)).toEqual({ alerts: { waitingMin: 12.5, sound: false } });
  });

  it('of an emptied bead says that there is none', () => {
    const plan = planBead(settings);
    typeInto(plan, 'beadGramsPer10Cm', ' ');
    expect(parsedSettings(plan)).toEqual({ beadGramsPer10Cm: null });
  });

  it('of a person names whom it is about', () => {
    const plan = planPerson(settings, settings.people[0] ?? null);
    typeInto(plan, 'people.0.name', 'Marta');
    expect(parsedSettings(plan)).toEqual({ people: [{ initials: 'MK', name: 'Marta' }] });
  });

  it('of a new bay has an id made of its name that no other bay has', () => {
    const plan = planBay(settings, null);
    typeInto(plan, 'bays.0.name', 'Bay 1');
    const typed = planBay(settings, null);
    expect(parsedSettings(typed, Object.keys(typed.held))).toEqual({
      bays: [{ id: 'bay-1-2', name: 'Bay 1', kind: 'bay', movingAir: false, substrate: 'steel' }],
    });
    typeInto(plan, 'bays.0.name', 'Ñandú – ¡rápido!');
    expect(planBay(settings, null).fixed).toEqual({ 'bays.0.id': 'nandu-rapido' });
    typeInto(plan, 'bays.0.name', '車庫');
    expect(planBay(settings, null).fixed).toEqual({ 'bays.0.id': 'bay' });
  });

  it('of a sensor that hangs nowhere says so', () => {
    const plan = planSensor(sensor);
    typeInto(plan, 'bayId', '');
    const body = bodyOf(plan, { ...plan.held, ...formOf(plan).typed }, changedPaths(plan));
    expect(parseWith(putSensorBody, body)).toEqual({ kind: 'parsed', value: { bayId: null } });
  });
});

describe('a new product', () => {
  it('begins with what the model takes where a tin says nothing', () => {
    const { held } = planCard(null, []);
    expect(held['activationKJPerMol']).toBe(String(UNSTATED_ON_CARDS.activationKJPerMol));
    expect(held['humidityEffectPer10Pct']).toBe(String(UNSTATED_ON_CARDS.humidityEffectPer10Pct));
  });

  it('cannot be asked about while a time is missing, and then as the contract has it', () => {
    const plan = planCard(null, []);
    typeInto(plan, 'workingMin', '5');
    expect(previewBodyOf(plan)).toBeNull();
    typeInto(plan, 'sandMin', '17,5');
    typeInto(plan, 'humidityEffectPer10Pct', '-7');
    const parsed = parseWith(previewCardBody, previewBodyOf(plan));
    expect(parsed).toMatchObject({
      kind: 'parsed',
      value: { workingMin: 5, sandMin: 17.5, humidityEffectPer10Pct: -0.07 },
    });
  });

  it('is put whole, under an id that is free', () => {
    const plan = planCard(null, ['body-filler']);
    typeInto(plan, 'name', 'Body filler');
    typeInto(plan, 'workingMin', '5');
    typeInto(plan, 'sandMin', '18');
    const typed = planCard(null, ['body-filler']);
    expect(typed.to).toBe('/cards/body-filler-2');
    const body = bodyOf(typed, { ...typed.held, ...formOf(typed).typed }, []);
    expect(parseWith(putCardBody, body)).toMatchObject({
      kind: 'parsed',
      value: { name: 'Body filler', sandMin: 18, beadGramsPer10Cm: null },
    });
  });
});
