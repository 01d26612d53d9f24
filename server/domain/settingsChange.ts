// The body of a change in Setup, and what settings are made of: plain values, people, bays, sensors, cards.
import type { AlertKind, Instant, Language, ShownUnits } from '../contract/index.ts';
import type { Substrate } from '../engine/index.ts';
import type { CardStated } from './card.ts';

/** Settings that are one value each. */
export interface PlainSettings {
  readonly name: string;
  readonly timeZone: string;
  readonly language: Language;
  readonly temperatureUnit: ShownUnits['temperature'];
  readonly lengthUnit: ShownUnits['length'];
  readonly massUnit: ShownUnits['mass'];
  readonly testProbabilityPct: number;
  readonly spreadByS: number;
  readonly waitingMin: number;
  readonly slowingMin: number;
  readonly slowingPct: number;
  readonly sensorQuietMin: number;
  readonly isSounding: boolean;
  /** Of the shop's own bead of hardener; null until it was weighed. */
  readonly beadGramsPer10Cm: number | null;
}

export interface PersonSetting {
  readonly initials: string;
  readonly name: string | null;
  /** Whether screens offer the person; records keep the initials in any case. */
  readonly isActive: boolean;
}

export interface BaySetting {
  readonly id: string;
  readonly name: string;
  readonly kind: 'bay' | 'booth' | 'yard';
  readonly isAirMoving: boolean;
  /** What is usually worked on there. */
  readonly substrate: Substrate;
}

/** A sensor hangs in a bay for a while; what it says then is that bay's air, put right by the offsets. */
export interface SensorStay {
  readonly bayId: string;
  /** Null: as long as it has spoken. */
  readonly fromAt: Instant | null;
  /** Null: until today. */
  readonly untilAt: Instant | null;
  readonly airTemperatureOffsetK: number;
  readonly relativeHumidityOffsetPct: number;
}

export interface SensorSetting {
  readonly sensorId: string;
  /** As people call it; null where only its id is known. */
  readonly name: string | null;
  /** In order of time. */
  readonly stays: readonly SensorStay[];
}

/** A program elsewhere that is told of alerts. Its secret stands in no setting. */
export interface WebhookSetting {
  readonly id: string;
  readonly name: string;
  readonly url: string;
  /** Null: every kind. */
  readonly events: readonly AlertKind[] | null;
  /** What was raised before is not for it. */
  readonly sinceAt: Instant;
  readonly isRemoved: boolean;
}

/** A card as it was put by hand. */
export interface CardSetting {
  readonly stated: CardStated;
  readonly beadGramsPer10Cm: number | null;
}

/** The body of a fact: what it changed, whole entries at a time; paths say it to people. */
export type SettingsChange =
  | {
      readonly part: 'shop';
      readonly paths: readonly string[];
      readonly plain: Partial<PlainSettings>;
      readonly people: readonly PersonSetting[];
      readonly bays: readonly BaySetting[];
      readonly webhooks?: readonly WebhookSetting[];
    }
  | { readonly part: 'sensor'; readonly paths: readonly string[]; readonly sensor: SensorSetting }
  | { readonly part: 'card'; readonly paths: readonly string[]; readonly card: CardSetting };
