// What people changed in Setup: facts folded into what was said by hand. What nobody ever changed follows the config file.
import type { Instant } from '../contract/index.ts';
import type { Fact, FactOf } from './facts.ts';
import type {
  BaySetting,
  CardSetting,
  PersonSetting,
  PlainSettings,
  SensorSetting,
  SettingsChange,
  WebhookSetting,
} from './settingsChange.ts';

/** Who changed what and when. */
export interface Touch {
  readonly version: number;
  readonly at: Instant;
  readonly by: string | null;
  readonly paths: readonly string[];
}

/** A part with its changes counted, the last ones kept, newest first. */
export interface Kept<Part> {
  readonly version: number;
  readonly touches: readonly Touch[];
  readonly said: Part;
}

export interface SaidOfShop {
  readonly plain: Partial<PlainSettings>;
  readonly people: Readonly<Record<string, PersonSetting>>;
  readonly bays: Readonly<Record<string, BaySetting>>;
  /** Missing until somebody said something of one. */
  readonly webhooks?: Readonly<Record<string, WebhookSetting>>;
}

/** All that was said by hand. */
export interface SettingsByHand {
  readonly shop: Kept<SaidOfShop>;
  readonly sensors: Readonly<Record<string, Kept<SensorSetting>>>;
  readonly cards: Readonly<Record<string, Kept<CardSetting>>>;
}

/** Changes that are kept for a person who was overtaken. */
const TOUCHES_COUNT_MAX = 20;

/** Nothing was ever changed by hand. */
export const NO_SETTINGS: SettingsByHand = {
  shop: { version: 0, touches: [], said: { plain: {}, people: {}, bays: {} } },
  sensors: {},
  cards: {},
};

/** What was said by hand after one more fact of any kind; the same object when it changes nothing. */
export function foldSettings(held: SettingsByHand, fact: Fact): SettingsByHand {
  if (fact.type !== 'SettingsChanged') return held;
  const change = fact.body;
  switch (change.part) {
    case 'shop':
      return { ...held, shop: touched(held.shop, fact, sayOfShop(held.shop.said, change)) };
    case 'sensor': {
      const { sensor } = change;
      const kept = touched(keptOf(held.sensors, sensor.sensorId), fact, sensor);
      return { ...held, sensors: { ...held.sensors, [sensor.sensorId]: kept } };
    }
    case 'card': {
      const { id } = change.card.stated;
      const kept = touched(keptOf(held.cards, id), fact, change.card);
      return { ...held, cards: { ...held.cards, [id]: kept } };
    }
  }
}

/** What was said of one sensor or product; null when nothing was. Ids are people's: `constructor` is one like any other. */
export function keptOf<Part>(parts: Readonly<Record<string, Kept<Part>>>, id: string): Kept<Part> | null {
  return Object.hasOwn(parts, id) ? (parts[id] as Kept<Part>) : null;
}

/** The changes that a person has not seen who was shown a version; null when they have seen all. */
export function unseenTouches(
  kept: Pick<Kept<unknown>, 'version' | 'touches'> | null,
  expectedVersion: number | undefined,
): readonly Touch[] | null {
  const { version, touches } = kept ?? { version: 0, touches: [] };
  if (expectedVersion === undefined || expectedVersion === version) return null;
  return touches.filter((touch) => touch.version > expectedVersion);
}

function sayOfShop(said: SaidOfShop, change: Extract<SettingsChange, { part: 'shop' }>): SaidOfShop {
  return {
    ...said,
    plain: { ...said.plain, ...change.plain },
    people: { ...said.people, ...Object.fromEntries(change.people.map((one) => [one.initials, one])) },
    bays: { ...said.bays, ...Object.fromEntries(change.bays.map((one) => [one.id, one])) },
    ...(change.webhooks === undefined
      ? {}
      : {
          webhooks: { ...said.webhooks, ...Object.fromEntries(change.webhooks.map((one) => [one.id, one])) },
        }),
  };
}

function touched<Part>(
  kept: Kept<Part> | null,
  { at, by, body }: FactOf<'SettingsChanged'>,
  said: Part,
): Kept<Part> {
  const version = (kept?.version ?? 0) + 1;
  const touch: Touch = { version, at, by, paths: body.paths };
  return { version, said, touches: [touch, ...(kept?.touches ?? [])].slice(0, TOUCHES_COUNT_MAX) };
}
