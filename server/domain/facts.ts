// Facts: what people did, what was decided, what was told. Appended with a gapless sequence, never changed.
import type {
  AccessDoor,
  AlertKind,
  DeliveryMessage,
  DeliveryTrouble,
  DeviceRight,
  Instant,
  NoteCode,
  Reason,
} from '../contract/index.ts';
import type { CardConstants, Substrate } from '../engine/index.ts';
import type { SettingsChange } from './settingsChange.ts';

export type BatchId = string & { readonly __brand: 'BatchId' };
export type Sequence = number & { readonly __brand: 'Sequence' };

/** The inputs of a batch, defaults filled in. */
export interface BatchInputs {
  readonly cardId: string;
  readonly panel: string;
  readonly repairOrder: string | null;
  readonly promisedAt: Instant | null;
  readonly remainingWorkMin: number | null;
  readonly bayId: string;
  readonly thicknessMm: number;
  readonly substrate: Substrate;
  readonly hardenerPct: number;
  readonly weighed: boolean;
  readonly underlayMm: number;
  readonly mixedAt: Instant;
  readonly rolledInAt: Instant | null;
  readonly outdoorTemperatureC: number | null;
  readonly panelTemperatureC: number | null;
}

/** An estimate as decided and stored; a replay copies it and never computes it again. */
export interface Estimate {
  readonly modelVersion: string;
  readonly learnedVersion: number;
  readonly computedAt: Instant;
  readonly supported: boolean;
  readonly spreadUntilAt: Instant | null;
  readonly kickedAt: Instant | null;
  readonly p10At: Instant | null;
  readonly p50At: Instant | null;
  readonly p90At: Instant | null;
  readonly buildP50At: Instant | null;
  readonly edgeP50At: Instant | null;
  readonly testFromAt: Instant | null;
  readonly cardMin: number | null;
  readonly expectedMin: number | null;
  readonly reasons: readonly Reason[];
  readonly notes: readonly NoteCode[];
  /** The air it used, in short: newest reading and its instant. */
  readonly airTemperatureC: number | null;
  readonly airAt: Instant | null;
}

/** What a closed batch showed, in terms of its card; a replay copies it and never computes it again. */
export interface Lesson {
  readonly cardId: string;
  /** Of the card at that time: a lesson speaks only of a card with the same constants. */
  readonly constants: CardConstants;
  readonly modelVersion: string;
  /** The act that closed it; the lesson is undone with it. */
  readonly closingSequence: Sequence;
  /** Null when the batch teaches nothing of its product; then the first check still counts for the promises kept. */
  readonly seen: LessonSeen | null;
  readonly whyNot: 'overnight' | 'no-air' | 'scrapped' | null;
  readonly firstCheck: FirstCheck;
}

/** ln time scales at the engine's activation energies (readLesson) with which the batch would have been ready just then. */
export interface LessonSeen {
  readonly gumsLogScales: readonly number[] | null;
  readonly alertLogScales: readonly number[] | null;
  readonly checkLogScales: readonly number[];
  readonly withinLogSd: number;
  readonly firstTry: boolean | null;
}

/** What was promised just before the first test by hand, and what it showed. */
export interface FirstCheck {
  readonly atMin: number;
  readonly outcome: 'gums' | 'powders';
  /** By the window that stood then; null when there was none. */
  readonly probability: number | null;
  /** Whether a "test" alert had been raised before. */
  readonly isCalled: boolean;
  /** When a timer set to the tin's minutes would have rung. */
  readonly timerMin: number;
  /** The same doubled for each ten degrees below the card's; null without air. */
  readonly doublingMin: number | null;
}

/** The part of a batch's life that only time moves: a person leaves it for sanding, sanded or scrapped. */
export type Phase = 'wet' | 'kicked' | 'test';

/** What the air may do to a batch that people must hear of once it lasts. */
export type SignKind = 'slowing' | 'slowingMore' | 'condensation' | 'tooCold' | 'tooHot';

/** Whether a sign is there, and since when that is so. */
export interface Sign {
  readonly isPresent: boolean;
  readonly sinceAt: Instant;
}

/** What the alert rules must remember of an estimate; decided and stored with it, so that hold times survive a restart. */
export interface Watch {
  /** The last act that moved the estimate: what people saw after it counts as told. */
  readonly steeringSequence: Sequence;
  readonly toldP50At: Instant | null;
  /** A sign that is missing never was there since that act. */
  readonly signs: Readonly<Partial<Record<SignKind, Sign>>>;
}

/** What an alert of the whole shop is about: a batch or a sensor. */
export interface AlertSubject {
  readonly batchId: BatchId | null;
  readonly panel: string | null;
  readonly sensorId: string | null;
  readonly bayId: string | null;
  readonly by: string | null;
  /** Since when the alert speaks of it. */
  readonly sinceAt: Instant;
}

/** The bodies of all facts, by type. */
export interface FactBodies {
  SensorSeen: { readonly sensorId: string };
  SensorQuiet: { readonly sensorId: string; readonly lastAt: Instant };
  CardCalibrated: { readonly cardId: string; readonly statement: string; readonly constants: CardConstants };
  BatchStarted: BatchInputs;
  BatchSpread: Record<string, never>;
  BatchMoved: { readonly bayId: string };
  LampSwitched: {
    readonly lampId: string;
    readonly distanceCm: number | null;
    readonly forMin: number;
    readonly fluxWPerM2: number;
  };
  CheckRecorded: { readonly outcome: 'gums' | 'powders'; readonly firstTry: boolean | null };
  SandingStarted: Record<string, never>;
  EstimateChanged: { readonly estimate: Estimate; readonly phase: Phase; readonly watch?: Watch };
  BatchSanded: Record<string, never>;
  BatchScrapped: Record<string, never>;
  FactUndone: { readonly factSequence: Sequence };
  LessonTaken: Lesson;
  AlertRaised: {
    readonly alertId: string;
    readonly kind: AlertKind;
    /** Of a window that moved: P50 as it was told, and as it is. */
    readonly movedFromAt?: Instant | null;
    readonly movedToAt?: Instant | null;
    /** Of an alert of the whole shop; it is folded when there is more than one. */
    readonly subjects?: readonly AlertSubject[];
  };
  /** A folded alert grows and shrinks without a sound. */
  AlertSubjectsChanged: { readonly alertId: string; readonly subjects: readonly AlertSubject[] };
  AlertAcknowledged: { readonly alertId: string };
  AlertWithdrawn: { readonly alertId: string };
  /** A message to a channel outside the pages got through, or was given up with its last trouble. */
  AlertDelivered: {
    readonly alertId: string;
    readonly channelId: string;
    readonly message: DeliveryMessage;
    /** The newest fact of the alert that it told. */
    readonly factSequence: Sequence;
    readonly triesCount: number;
    /** Null: delivered. */
    readonly trouble: DeliveryTrouble | null;
  };
  /**
   * begun: from now on the channel may know of it; ending: from now on it may have heard that it is no more for it; again:
   * somebody wants it tried anew; forgotten: nobody waits any more.
   */
  DeliveryMarked: {
    readonly alertId: string;
    readonly channelId: string;
    readonly mark: 'begun' | 'ending' | 'again' | 'forgotten';
  };
  SettingsChanged: SettingsChange;
  DevicePaired: { readonly deviceId: string; readonly name: string; readonly right: DeviceRight };
  DeviceRenamed: { readonly deviceId: string; readonly name: string };
  DeviceEnded: { readonly deviceId: string; readonly name: string };
  SignedIn: Record<string, never>;
  SessionEnded: Record<string, never>;
  /** Somebody could not show what a door asks for; told once a minute however often it is tried. */
  SignInRefused: { readonly door: AccessDoor; readonly name: string | null };
  PassphraseChanged: Record<string, never>;
  SensorUserChanged: { readonly name: string; readonly change: 'made' | 'password' | 'topics' | 'ended' };
}

export type FactType = keyof FactBodies;

/** A fact before the ledger has given it a place. */
export type FactDraft = {
  [T in FactType]: {
    readonly type: T;
    readonly version: 1;
    /** When it happened in the shop. */
    readonly at: Instant;
    readonly by: string | null;
    readonly batchId: BatchId | null;
    readonly bayId: string | null;
    readonly body: FactBodies[T];
  };
}[FactType];

/** A fact in the ledger. */
export type Fact = FactDraft & {
  readonly sequence: Sequence;
  /** When the ledger took it. */
  readonly recordedAt: Instant;
};

/** A fact of one type. */
export type FactOf<T extends FactType> = Extract<Fact, { readonly type: T }>;
