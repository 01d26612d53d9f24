// What a person's form really changes: fields that say what is so already are no change, and are not taken from the config.
import type { BaySetting, PersonSetting, PlainSettings, SettingsChange } from './settingsChange.ts';
import { plainOf, type SettingsInForce } from './settingsInForce.ts';

/** What was asked for; what is left out stays as it is. */
export interface SettingsAsked {
  readonly plain: { readonly [K in keyof PlainSettings]?: PlainSettings[K] | undefined };
  readonly people: readonly (Pick<PersonSetting, 'initials'> & Asked<PersonSetting>)[];
  readonly bays: readonly (Pick<BaySetting, 'id' | 'name'> & Asked<BaySetting>)[];
}

type Asked<Entry> = { readonly [K in keyof Entry]?: Entry[K] | undefined };
type ShopChange = Extract<SettingsChange, { part: 'shop' }>;

/** The change that makes of the settings in force what was asked for; null when they are that already. */
export function diffSettings(held: SettingsInForce, asked: SettingsAsked): ShopChange | null {
  const plain = differing(plainOf(held), asked.plain);
  const people = asked.people.flatMap((one) => {
    const known = held.people.find(({ initials }) => initials === one.initials);
    return entryChange(known, { ...NEW_PERSON, ...known, ...told(one) });
  });
  const bays = asked.bays.flatMap((one) => {
    const known = held.bays.find(({ id }) => id === one.id);
    return entryChange(known, { ...NEW_BAY, ...known, ...told(one) });
  });
  const paths = [
    ...Object.keys(plain).map((field) => PLAIN_PATHS[field as keyof PlainSettings]),
    ...people.map(({ initials }) => `people.${initials}`),
    ...bays.map(({ id }) => `bays.${id}`),
  ];
  return paths.length === 0 ? null : { part: 'shop', paths, plain, people, bays };
}

/** The entry when it differs from what is known of it. */
function entryChange<Entry extends object>(known: Entry | undefined, wanted: Entry): [Entry] | [] {
  return known !== undefined && Object.keys(differing(known, wanted)).length === 0 ? [] : [wanted];
}

/** The fields that were told and differ. */
function differing<Entry extends object>(held: Entry, asked: Asked<Entry>): Partial<Entry> {
  return Object.fromEntries(
    Object.entries(told(asked)).filter(([field, wanted]) => held[field as keyof Entry] !== wanted),
  ) as Partial<Entry>;
}

/** Without the fields that were left out. */
function told<Entry extends object>(asked: Entry): { [K in keyof Entry]: Exclude<Entry[K], undefined> } {
  return Object.fromEntries(Object.entries(asked).filter(([, wanted]) => wanted !== undefined)) as {
    [K in keyof Entry]: Exclude<Entry[K], undefined>;
  };
}

const NEW_PERSON = { name: null, isActive: true } as const;
const NEW_BAY = { kind: 'bay', isAirMoving: false, substrate: 'steel' } as const;

/** Each plain setting as the wire calls it. */
const PLAIN_PATHS: Readonly<Record<keyof PlainSettings, string>> = {
  name: 'shop.name',
  timeZone: 'shop.timeZone',
  language: 'shop.language',
  temperatureUnit: 'shop.units.temperature',
  lengthUnit: 'shop.units.length',
  massUnit: 'shop.units.mass',
  testProbabilityPct: 'alerts.testProbabilityPct',
  spreadByS: 'alerts.spreadByS',
  waitingMin: 'alerts.waitingMin',
  slowingMin: 'alerts.slowingMin',
  slowingPct: 'alerts.slowingPct',
  sensorQuietMin: 'alerts.sensorQuietMin',
  isSounding: 'alerts.sound',
  beadGramsPer10Cm: 'beadGramsPer10Cm',
};
