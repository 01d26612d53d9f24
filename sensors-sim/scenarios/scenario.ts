// What a scenario is: the data of one invented shop and its weather; everything else in this folder plays it.
import type { StartBatchWire } from '../../server/contract/index.ts';

export interface Scenario {
  readonly name: string;
  readonly shopName: string;
  /** Put before the names of a day's draws, so that shops of one seed do not live the same days. */
  readonly chanceName: string;
  readonly hours: HoursPlan;
  readonly outdoor: OutdoorPlan;
  readonly rooms: readonly RoomPlan[];
  readonly sensors: readonly SensorPlan[];
  readonly crew: readonly PersonPlan[];
  readonly products: readonly ProductPlan[];
  readonly lamp: LampPlan;
  readonly repairOrderPrefix: string;
  /** Doors that stand open every day, besides those for cars and by chance. */
  readonly doors: readonly DoorPlan[];
  /** Cars whose work is written down to the minute. */
  readonly cars: readonly CarPlan[];
  /** Cars that chance fills the rest of the day with. */
  readonly more: MoreCarsPlan;
  readonly openBatchesMax: number;
  /** Who waited so many times longer than guessed, and met "gums" every time, gives a mix up. */
  readonly hopelessRatio: number;
}

/** Minutes after local midnight. */
export interface HoursPlan {
  readonly daysOff: readonly Weekday[];
  readonly opensMin: number;
  readonly lastMixMin: number;
  readonly closesMin: number;
}

export type Weekday = 'Sun' | 'Mon' | 'Tue' | 'Wed' | 'Thu' | 'Fri' | 'Sat';

export interface OutdoorPlan {
  readonly lowestC: number;
  readonly lowestMin: number;
  readonly highestC: number;
  readonly highestMin: number;
  /** How far whole days differ from each other, one standard deviation. */
  readonly dayToDayK: number;
  /** Humidity at the coldest and at the warmest time. */
  readonly humidityPct: readonly [atLowest: number, atHighest: number];
  readonly sunMin: readonly [from: number, until: number];
  readonly sunWPerM2: number;
  /** Air changes a second that the mean wind drives through a room's open door. */
  readonly windPerS: number;
  /** A spell that comes and goes by the calendar; null where the weather stays. */
  readonly spell: SpellPlan | null;
}

/** Within the given days the air outside gets colder (−) or warmer (+), and is as before when a round is over. */
export interface SpellPlan {
  readonly byK: number;
  readonly comesWithinDays: number;
  readonly everyDays: number;
}

/** A room, everything a square metre of its floor. */
export interface RoomPlan {
  readonly bayId: string;
  readonly floorM2: number;
  readonly heightM: number;
  readonly wallWPerM2K: number;
  readonly wallJPerM2K: number;
  readonly outsideWPerM2K: number;
  readonly leakPerS: number;
  readonly doorPerS: number;
  /** Minutes of open door that chance adds, and how often a working day. */
  readonly doorOpenMin: readonly [number, number];
  readonly doorOpeningCount: number;
  readonly sunShare: number;
  readonly heaterWPerM2: number;
  /** From that minute of the day on the thermostat asks for this; the last entry lasts over midnight. */
  readonly thermostat: readonly { readonly fromMin: number; readonly targetC: number }[];
  readonly vapourGPerM3PerS: number;
  readonly isAirMoving: boolean;
}

export interface DoorPlan {
  readonly bayId: string;
  readonly fromMin: number;
  readonly untilMin: number;
  /** 1 for wide open. */
  readonly openShare: number;
}

export interface SensorPlan {
  readonly sensorId: string;
  /** The room it hangs in; null: outside. */
  readonly roomId: string | null;
  readonly everyMin: number;
  readonly format: 'plain' | 'senml';
  readonly lagS: number;
  readonly noiseK: number;
  readonly noisePct: number;
  readonly stepC: number;
  readonly stepPct: number;
  readonly biasK: number;
  /** How much further off it is with each second of the day. */
  readonly driftKPerS: number;
  /** Null for a sensor that holds out. */
  readonly fault: SensorFaultPlan | null;
}

/** A sensor goes off slowly, dies, is seen to, and does it all again after so many days of the play. */
export interface SensorFaultPlan {
  readonly everyDays: number;
  readonly driftsFromDayIndex: number;
  readonly diesOnDayIndex: number;
  /** Minutes after midnight. */
  readonly diesAtMin: number;
  /** How far off it is when it dies. */
  readonly driftK: number;
  readonly silentMin: number;
}

export interface PersonPlan {
  readonly initials: string;
  readonly weighs: boolean;
  readonly probabilityImpatient: number;
  readonly probabilityForgetsGums: number;
  /** How far off the thumb is, as the logarithm of the time by which a film seems riper or greener. */
  readonly thumbSd: number;
  /** Who trusts the tin has 1; the careful have more. */
  readonly guessScale: number;
  /** How much one guess differs from the next, as a logarithm. */
  readonly guessSd: number;
  /** How long after "gums" they look again without a screen. */
  readonly againMin: readonly [number, number];
  readonly breaksMin: readonly (readonly [from: number, until: number])[];
}

/** How a product really behaves, in minutes of ripening at 20 °C; the tin says less. */
export interface ProductPlan {
  readonly cardId: string;
  readonly gelDoseMin: number;
  readonly sandDoseMin: number;
  /** Heat that one millimetre of film holds. */
  readonly filmJPerM2K: number;
  readonly filmWPerMK: number;
  readonly selfHeatK: number;
  readonly ripening: RipeningPlan;
  /** Mixes of the same tin differ from each other by so much, as a logarithm of their pace. */
  readonly batchSd: number;
  /** So much more humidity would stop it: 1000 takes a hundredth of the pace for ten per cent. */
  readonly dampingPct: number;
  /** New formulations under the same name, the earliest first. */
  readonly changes: readonly FormulaChange[];
  /** What people expect from the tin in a warm shop. */
  readonly tinMin: number;
}

/** How warmth sets the pace of ripening: the free-volume law of Vogel, Fulcher and Tammann. */
export interface RipeningPlan {
  /** Ripening would stop here. */
  readonly frozenC: number;
  /** The larger, the more a degree does. */
  readonly paceK: number;
}

/** From that day of the play on all that is mixed takes so many times as long as before. */
export interface FormulaChange {
  readonly fromDayIndex: number;
  readonly timeScale: number;
}

export interface LampPlan {
  readonly lampId: string;
  readonly distanceCm: number;
  readonly absorbedWPerM2: number;
  /** How people take it into account when they guess; 1: not at all. */
  readonly guessScale: number;
}

export interface CoatPlan {
  readonly cardId: string;
  readonly thicknessMm: number;
  readonly underlayMm: number;
  /** What share of the hardener really went in; 1 for a good mix. */
  readonly hardenerShare: number;
}

export interface CarPlan {
  readonly panel: string;
  readonly substrate: StartBatchWire['substrate'];
  readonly bayId: string;
  readonly initials: string;
  readonly mixMin: number;
  /** Minutes after midnight when it came in from the yard; null: it stood inside overnight. */
  readonly rolledInMin: number | null;
  readonly promisedMin: number | null;
  readonly remainingWorkMin: number | null;
  readonly lamp: LampUse | null;
  readonly move: { readonly afterMin: number; readonly bayId: string } | null;
  readonly coats: readonly CoatPlan[];
}

export interface LampUse {
  readonly afterMin: number;
  readonly forMin: number;
  /** Whether every coat of the car gets it, or the first one only. */
  readonly isEachCoat: boolean;
}

export interface MoreCarsPlan {
  readonly fromMin: number;
  readonly untilMin: number;
  readonly everyMin: readonly [number, number];
  readonly panels: readonly string[];
  readonly bayIds: readonly string[];
  readonly probabilityRolledIn: number;
  readonly coatings: readonly (readonly CoatPlan[])[];
  readonly probabilityLamp: number;
  readonly lampAfterMin: readonly [number, number];
  readonly lampForMin: readonly [number, number];
  /** Cars that are pushed into another bay while their film cures. */
  readonly probabilityMoved: number;
  readonly movedAfterMin: readonly [number, number];
  /** First coats with hardly any hardener. */
  readonly probabilityForgetsHardener: number;
}
