// The settings in force: the config's, and over them what was said by hand. An entry that was ever changed by hand stands
// as it was put, whole; every other one is the config's, also when that is edited later.
import type { Language, ShownUnits } from '../contract/index.ts';
import type { AlertSettings } from './alertRules.ts';
import type { SettingsByHand } from './settings.ts';
import type {
  BaySetting,
  CardSetting,
  PersonSetting,
  PlainSettings,
  SensorSetting,
  WebhookSetting,
} from './settingsChange.ts';

/** What of a shop's settings can be changed by hand. */
export interface SettingsInForce {
  readonly name: string;
  readonly timeZone: string;
  readonly language: Language;
  readonly units: ShownUnits;
  readonly testProbability: number;
  readonly alerts: AlertSettings;
  readonly isSounding: boolean;
  readonly beadGramsPer10Cm: number | null;
  /** Where a product's hardener has a bead of its own. */
  readonly beadOfCard: ReadonlyMap<string, number>;
  readonly people: readonly PersonSetting[];
  readonly bays: readonly BaySetting[];
  /** Programs that are told of alerts, removed ones too. */
  readonly webhooks: readonly WebhookSetting[];
  readonly sensors: ReadonlyMap<string, SensorSetting>;
  /** In which bay each known sensor hangs now. */
  readonly bayOfSensor: ReadonlyMap<string, string>;
}

/** Lays what was said by hand over settings; laying more of it over the result is the same as laying it over the first. */
export function layOver<S extends SettingsInForce>(stated: S, { shop, sensors, cards }: SettingsByHand): S {
  const plain: PlainSettings = { ...plainOf(stated), ...shop.said.plain };
  const { testProbabilityPct, spreadByS, waitingMin, slowingMin, slowingPct, sensorQuietMin } = plain;
  const bays = putEntries(stated.bays, Object.values(shop.said.bays), (bay) => bay.id);
  const held = new Map([
    ...stated.sensors,
    ...Object.entries(sensors).map(([sensorId, { said }]) => [sensorId, said] as const),
  ]);
  return {
    ...stated,
    name: plain.name,
    timeZone: plain.timeZone,
    language: plain.language,
    units: { temperature: plain.temperatureUnit, length: plain.lengthUnit, mass: plain.massUnit },
    testProbability: testProbabilityPct / 100,
    alerts: { ...stated.alerts, spreadByS, waitingMin, slowingMin, slowingPct, sensorQuietMin },
    isSounding: plain.isSounding,
    beadGramsPer10Cm: plain.beadGramsPer10Cm,
    beadOfCard: layBeads(
      stated.beadOfCard,
      Object.values(cards).map(({ said }) => said),
    ),
    people: putEntries(stated.people, Object.values(shop.said.people), (person) => person.initials),
    bays,
    webhooks: putEntries(stated.webhooks, Object.values(shop.said.webhooks ?? {}), (webhook) => webhook.id),
    sensors: held,
    bayOfSensor: currentBays(held, bays),
  };
}

/** The settings that are one value each, as they stand. */
export function plainOf(settings: SettingsInForce): PlainSettings {
  const { name, timeZone, language, units, testProbability, alerts } = settings;
  const { spreadByS, waitingMin, slowingMin, slowingPct, sensorQuietMin } = alerts;
  return {
    name,
    timeZone,
    language,
    temperatureUnit: units.temperature,
    lengthUnit: units.length,
    massUnit: units.mass,
    // Two decimals more than anybody sets: a share of 0.57 is 57 and not 56.99….
    testProbabilityPct: Math.round(testProbability * 10_000) / 100,
    spreadByS,
    waitingMin,
    slowingMin,
    slowingPct,
    sensorQuietMin,
    isSounding: settings.isSounding,
    beadGramsPer10Cm: settings.beadGramsPer10Cm,
  };
}

/** In which bay each sensor hangs now; a bay that the shop no longer has takes its sensors with it. */
function currentBays(
  sensors: ReadonlyMap<string, SensorSetting>,
  bays: readonly Pick<BaySetting, 'id'>[],
): Map<string, string> {
  const known = new Set(bays.map((bay) => bay.id));
  return new Map(
    [...sensors].flatMap(([sensorId, { stays }]): [string, string][] => {
      const last = stays.at(-1);
      return last !== undefined && last.untilAt === null && known.has(last.bayId)
        ? [[sensorId, last.bayId]]
        : [];
    }),
  );
}

/** A list with entries put in the place of those of the same key; new ones behind it. */
function putEntries<Entry>(
  list: readonly Entry[],
  put: readonly Entry[],
  keyOf: (entry: Entry) => string,
): Entry[] {
  return [...new Map([...list, ...put].map((entry) => [keyOf(entry), entry])).values()];
}

function layBeads(
  stated: ReadonlyMap<string, number>,
  cards: readonly CardSetting[],
): ReadonlyMap<string, number> {
  const beads = new Map(stated);
  for (const card of cards) {
    if (card.beadGramsPer10Cm === null) beads.delete(card.stated.id);
    else beads.set(card.stated.id, card.beadGramsPer10Cm);
  }
  return beads;
}
