// The forms of Setup as they follow from what the shop holds: which paths, which numbers, what goes along.
import { ALERT_KINDS, type AlertKind } from '../../server/contract/alertTerms.ts';
import type { CardSetupWire, SensorWire, SettingsWire, WebhookWire } from '../../server/contract/index.ts';
import { $setupForms, type FormPlan, type FormValues } from './setupForm.ts';

type Person = SettingsWire['people'][number];
type Bay = SettingsWire['bays'][number];

const SETTINGS_PATH = '/settings';
/** Of the longest id that the wire takes, with room for a number. */
const ID_CHARACTERS_MAX = 48;

/** Name, zone, language and units. */
export function planShop({ version, shop }: SettingsWire): FormPlan {
  const { name, timeZone, language, units } = shop;
  return planSettings(version, {
    id: 'shop',
    held: {
      'shop.name': name,
      'shop.timeZone': timeZone,
      'shop.language': language,
      'shop.units.temperature': units.temperature,
      'shop.units.length': units.length,
      'shop.units.mass': units.mass,
    },
  });
}

/** When a screen rings. */
export function planAlerts({ version, alerts }: SettingsWire): FormPlan {
  const { sound, ...numbers } = alerts;
  const entries = Object.entries(numbers).map(([field, stated]) => [`alerts.${field}`, stated] as const);
  return planSettings(version, {
    id: 'alerts',
    held: {
      ...Object.fromEntries(entries.map(([path, stated]) => [path, String(stated)])),
      'alerts.sound': sound,
    },
    numberScales: Object.fromEntries(entries.map(([path]) => [path, 1])),
  });
}

/** What 10 cm of the shop's bead weigh. */
export function planBead({ version, beadGramsPer10Cm }: SettingsWire): FormPlan {
  return planSettings(version, {
    id: 'bead',
    held: { beadGramsPer10Cm: textOf(beadGramsPer10Cm) },
    numberScales: { beadGramsPer10Cm: 1 },
    mayBeNone: ['beadGramsPer10Cm'],
  });
}

/** A person, or a new one. */
export function planPerson({ version }: SettingsWire, person: Person | null): FormPlan {
  return planSettings(version, {
    id: `person:${person?.initials ?? ''}`,
    held: {
      'people.0.initials': person?.initials ?? '',
      'people.0.name': person?.name ?? '',
      'people.0.active': person?.active ?? true,
    },
    mayBeNone: ['people.0.name'],
    always: ['people.0.initials', 'people.0.name'],
  });
}

/** A bay, or a new one, whose id is made of its name. */
export function planBay({ version, bays }: SettingsWire, bay: Bay | null): FormPlan {
  const id = `bay:${bay?.id ?? ''}`;
  const typed = $setupForms.value[id]?.typed['bays.0.name'];
  const taken = bays.map((each) => each.id);
  const bayId = bay?.id ?? idFrom(String(typed ?? ''), { taken, otherwise: 'bay' });
  return planSettings(version, {
    id,
    held: {
      'bays.0.name': bay?.name ?? '',
      'bays.0.kind': bay?.kind ?? 'bay',
      'bays.0.movingAir': bay?.movingAir ?? false,
      'bays.0.substrate': bay?.substrate ?? 'steel',
    },
    always: ['bays.0.name'],
    fixed: { 'bays.0.id': bayId },
  });
}

/** A program that is told of alerts, or a new one, whose id is made of its name. */
export function planWebhook({ version, webhooks }: SettingsWire, webhook: WebhookWire | null): FormPlan {
  const id = `webhook:${webhook?.id ?? ''}`;
  const typed = $setupForms.value[id]?.typed['webhooks.0.name'];
  const taken = webhooks.map((each) => each.id);
  return planSettings(version, {
    id,
    held: {
      'webhooks.0.name': webhook?.name ?? '',
      'webhooks.0.url': webhook?.url ?? '',
      'webhooks.0.events': eventsChoiceOf(webhook?.events ?? null),
    },
    choices: {
      'webhooks.0.events': { all: null, calls: CALLS, warnings: WARNINGS, own: webhook?.events ?? null },
    },
    fixed: {
      'webhooks.0.id': webhook?.id ?? idFrom(String(typed ?? ''), { taken, otherwise: 'program' }),
    },
  });
}

/** Which of the choices a list of kinds is. */
export function eventsChoiceOf(events: WebhookWire['events']): 'all' | 'calls' | 'warnings' | 'own' {
  if (events === null) return 'all';
  const isAll = (kinds: readonly AlertKind[]): boolean =>
    kinds.length === events.length && kinds.every((kind) => events.includes(kind));
  return isAll(CALLS) ? 'calls' : isAll(WARNINGS) ? 'warnings' : 'own';
}

/** A sensor: its name, where it hangs, what is added to it. */
export function planSensor(sensor: SensorWire): FormPlan {
  return {
    ...plainPlan,
    id: `sensor:${sensor.id}`,
    to: `/sensors/${encodeURIComponent(sensor.id)}`,
    version: sensor.version,
    held: {
      name: sensor.name ?? '',
      bayId: sensor.bayId ?? '',
      airTemperatureOffsetK: String(sensor.airTemperatureOffsetK),
      relativeHumidityOffsetPct: String(sensor.relativeHumidityOffsetPct),
    },
    numberScales: { airTemperatureOffsetK: 1, relativeHumidityOffsetPct: 1 },
    mayBeNone: ['name', 'bayId'],
  };
}

/** A product as its tin states it, or a new one. */
export function planCard(card: CardSetupWire | null, takenIds: readonly string[]): FormPlan {
  const id = `card:${card?.id ?? ''}`;
  const typed = $setupForms.value[id]?.typed['name'];
  const cardId = card?.id ?? idFrom(String(typed ?? ''), { taken: takenIds, otherwise: 'product' });
  const held = card === null ? newCard : heldOf(card);
  return {
    ...plainPlan,
    id,
    to: `/cards/${encodeURIComponent(cardId)}`,
    version: card?.version ?? 0,
    held,
    numberScales: {
      ...Object.fromEntries(CARD_NUMBERS.map((path) => [path, 1])),
      humidityEffectPer10Pct: 0.01,
      beadGramsPer10Cm: 1,
    },
    mayBeNone: ['beadGramsPer10Cm'],
    always: Object.keys(held),
  };
}

/** An id from a name: small letters and digits, and one that is free. */
function idFrom(
  name: string,
  { taken, otherwise }: { readonly taken: readonly string[]; readonly otherwise: string },
): string {
  const plain = name
    .normalize('NFD')
    .replaceAll(/\p{M}/gu, '')
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .slice(0, ID_CHARACTERS_MAX)
    .replaceAll(/^-+|-+$/g, '');
  const base = plain === '' ? otherwise : plain;
  if (!taken.includes(base)) return base;
  const next = taken.findIndex((_, index) => !taken.includes(`${base}-${index + 2}`));
  return `${base}-${next + 2}`;
}

function planSettings(version: number, plan: Pick<FormPlan, 'id' | 'held'> & Partial<FormPlan>): FormPlan {
  return { ...plainPlan, to: SETTINGS_PATH, version, ...plan };
}

function heldOf(card: CardSetupWire): FormValues {
  return {
    name: card.name,
    fill: card.fill,
    ...Object.fromEntries(CARD_NUMBERS.map((path) => [path, String(card[path])])),
    humidityEffectPer10Pct: String(Number((100 * card.humidityEffectPer10Pct).toPrecision(12))),
    beadGramsPer10Cm: textOf(card.beadGramsPer10Cm),
  };
}

function textOf(statedValue: number | null): string {
  return statedValue === null ? '' : String(statedValue);
}

const CALLS: readonly AlertKind[] = ['spreadBy', 'test'];
const WARNINGS = ALERT_KINDS.filter((kind) => !CALLS.includes(kind));

const plainPlan = { numberScales: {}, choices: {}, mayBeNone: [], always: [], fixed: {} };

/** The numbers that every card states. */
export const CARD_NUMBERS = [
  'atC',
  'thicknessMm',
  'hardenerPct',
  'workingMin',
  'sandMin',
  'lowestC',
  'thicknessMaxMm',
  'activationKJPerMol',
] as const;

/** What is alike on most tins is there already, and of the chemistry what the model takes; the times are not. */
const newCard: FormValues = {
  name: '',
  fill: 'regular',
  atC: '20',
  thicknessMm: '1',
  hardenerPct: '2',
  workingMin: '',
  sandMin: '',
  lowestC: '10',
  thicknessMaxMm: '6',
  activationKJPerMol: '46',
  humidityEffectPer10Pct: '0',
  beadGramsPer10Cm: '',
};
