// What the invented shops have in common: sheet-metal halls, cheap sensors, breaks and the panels of a car.
import type { CarPlan, CoatPlan, MoreCarsPlan, RoomPlan, SensorPlan } from './scenario.ts';

/** Minutes after midnight of a time on the clock, such as 6:30. */
export function clock(time: string): number {
  const [hourCount = NaN, pastMin = NaN] = time.split(':').map(Number);
  return hourCount * 60 + pastMin;
}

/** A coat from a good mix. */
export function coat(cardId: string, thicknessMm: number, { underlayMm = 0 } = {}): CoatPlan {
  return { cardId, thicknessMm, underlayMm, hardenerShare: 1 };
}

export const carPlain = {
  substrate: 'steel',
  rolledInMin: null,
  promisedMin: null,
  remainingWorkMin: null,
  lamp: null,
  move: null,
} as const satisfies Partial<CarPlan>;

export const panels = [
  'Left front door',
  'Right front door',
  'Left rear door',
  'Right rear door',
  'Left front wing',
  'Right front wing',
  'Left rear quarter',
  'Right rear quarter',
  'Bonnet',
  'Boot lid',
  'Sill',
];

export const roomPlain = {
  heightM: 4.2,
  wallWPerM2K: 14,
  wallJPerM2K: 62_000,
  outsideWPerM2K: 2.2,
  leakPerS: 0.00015,
  doorPerS: 0.006,
  doorOpenMin: [0.7, 3],
  vapourGPerM3PerS: 0.0006,
  isAirMoving: false,
} as const satisfies Partial<RoomPlan>;

export const sensorPlain = {
  everyMin: 0.5,
  format: 'plain',
  lagS: 150,
  noiseK: 0.04,
  noisePct: 0.3,
  stepC: 0.1,
  stepPct: 0.5,
  biasK: 0,
  driftKPerS: 0,
  fault: null,
} as const satisfies Partial<SensorPlan>;

export const breaksMin = [
  [clock('9:30'), clock('9:45')],
  [clock('12:00'), clock('12:40')],
] as const;

export const noExtras = {
  probabilityLamp: 0,
  lampAfterMin: [12, 16],
  lampForMin: [5, 9],
  probabilityMoved: 0,
  movedAfterMin: [12, 20],
  probabilityForgetsHardener: 0,
} as const satisfies Partial<MoreCarsPlan>;
