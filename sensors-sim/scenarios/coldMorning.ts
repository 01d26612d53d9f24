// The shipped demo: a frosty winter day in an invented shop that was cold all night.
import type { CarPlan, CoatPlan, RoomPlan, Scenario, SensorPlan } from './scenario.ts';

const clock = (hourCount: number, minuteMin = 0): number => hourCount * 60 + minuteMin;

const coat = (cardId: string, thicknessMm: number, underlayMm = 0): CoatPlan => ({
  cardId,
  thicknessMm,
  underlayMm,
  hardenerShare: 1,
});

const carPlain = {
  substrate: 'steel',
  rolledInMin: null,
  promisedMin: null,
  remainingWorkMin: null,
  lamp: null,
  move: null,
} as const;

const cars: readonly CarPlan[] = [
  {
    ...carPlain,
    panel: 'Right rear quarter',
    bayId: 'booth',
    initials: 'TO',
    mixMin: clock(6, 31),
    promisedMin: clock(9),
    remainingWorkMin: 75,
    coats: [coat('finishing-putty', 1, 2), coat('finishing-putty', 0.5, 3)],
  },
  {
    ...carPlain,
    panel: 'Left front door',
    bayId: 'bay-1',
    initials: 'MK',
    mixMin: clock(6, 32),
    promisedMin: clock(10),
    remainingWorkMin: 90,
    coats: [coat('body-filler', 2), coat('finishing-putty', 1, 2), coat('finishing-putty', 0.5, 3)],
  },
  {
    ...carPlain,
    panel: 'Bonnet',
    substrate: 'aluminium',
    bayId: 'bay-2',
    initials: 'RA',
    mixMin: clock(6, 41),
    coats: [coat('lightweight-filler', 4), coat('finishing-putty', 1, 4)],
  },
  {
    ...carPlain,
    panel: 'Left rear door',
    bayId: 'bay-1',
    initials: 'MK',
    mixMin: clock(6, 55),
    rolledInMin: clock(6, 47),
    promisedMin: clock(8, 30),
    remainingWorkMin: 60,
    lamp: { afterMin: 14, forMin: 5 },
    coats: [coat('winter-filler', 2), coat('finishing-putty', 1, 2)],
  },
  {
    ...carPlain,
    panel: 'Sill',
    bayId: 'bay-2',
    initials: 'RA',
    mixMin: clock(7, 6),
    coats: [{ ...coat('body-filler', 3), hardenerShare: 0.15 }, coat('finishing-putty', 0.5, 3)],
  },
  {
    ...carPlain,
    panel: 'Roof',
    bayId: 'bay-1',
    initials: 'TO',
    mixMin: clock(7, 22),
    rolledInMin: clock(7, 12),
    promisedMin: clock(11),
    remainingWorkMin: 120,
    move: { afterMin: 16, bayId: 'booth' },
    coats: [coat('body-filler', 2), coat('finishing-putty', 1, 2)],
  },
];

const panels = [
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

const roomPlain = {
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

const rooms: readonly RoomPlan[] = [
  {
    ...roomPlain,
    bayId: 'bay-1',
    floorM2: 80,
    doorOpeningCount: 11,
    sunShare: 0.04,
    heaterWPerM2: 130,
    thermostat: [
      { fromMin: clock(6, 15), targetC: 18 },
      { fromMin: clock(17, 15), targetC: 9 },
    ],
  },
  {
    ...roomPlain,
    bayId: 'bay-2',
    floorM2: 70,
    outsideWPerM2K: 1.6,
    doorOpeningCount: 3,
    doorPerS: 0.003,
    sunShare: 0.25,
    heaterWPerM2: 120,
    thermostat: [
      { fromMin: clock(6, 15), targetC: 19 },
      { fromMin: clock(17, 15), targetC: 9 },
    ],
  },
  {
    ...roomPlain,
    bayId: 'booth',
    floorM2: 32,
    heightM: 2.9,
    leakPerS: 0.0004,
    doorOpeningCount: 2,
    doorPerS: 0.002,
    sunShare: 0,
    heaterWPerM2: 300,
    thermostat: [
      { fromMin: clock(5, 30), targetC: 21.5 },
      { fromMin: clock(17, 15), targetC: 12 },
    ],
    isAirMoving: true,
  },
];

const sensorPlain = {
  everyMin: 0.5,
  format: 'plain',
  lagS: 150,
  noiseK: 0.04,
  noisePct: 0.3,
  stepC: 0.1,
  stepPct: 0.5,
  biasK: 0,
  driftKPerS: 0,
} as const satisfies Partial<SensorPlan>;

const breaksMin = [
  [clock(9, 30), clock(9, 45)],
  [clock(12), clock(12, 40)],
] as const;

/** The cold morning of the demo. */
export const coldMorning: Scenario = {
  name: 'cold-morning',
  shopName: 'Kiln Street Body & Paint',
  hours: { opensMin: clock(6, 30), lastMixMin: clock(16, 30), closesMin: clock(17, 30) },
  outdoor: {
    lowestC: -3.5,
    lowestMin: clock(6, 50),
    highestC: 3.5,
    highestMin: clock(14, 20),
    dayToDayK: 0.9,
    humidityPct: [91, 70],
    sunMin: [clock(8, 50), clock(15, 40)],
    sunWPerM2: 260,
    windPerS: 0.002,
  },
  rooms,
  sensors: [
    { ...sensorPlain, sensorId: 'bay-1-air', roomId: 'bay-1', biasK: 0.1 },
    { ...sensorPlain, sensorId: 'bay-2-air', roomId: 'bay-2', biasK: -0.15 },
    { ...sensorPlain, sensorId: 'booth-air', roomId: 'booth', lagS: 60, format: 'senml' },
    { ...sensorPlain, sensorId: 'yard-air', roomId: null, lagS: 300, stepPct: 1 },
    { ...sensorPlain, sensorId: 'spare-7', roomId: 'bay-2', everyMin: 20, stepPct: 1 },
  ],
  crew: [
    { initials: 'MK', weighs: false, probabilityImpatient: 0.2, probabilityForgetsGums: 0.1, breaksMin },
    { initials: 'TO', weighs: false, probabilityImpatient: 0.35, probabilityForgetsGums: 0.25, breaksMin },
    { initials: 'RA', weighs: true, probabilityImpatient: 0.1, probabilityForgetsGums: 0, breaksMin },
  ],
  products: [
    {
      cardId: 'body-filler',
      gelDoseMin: 5.2,
      sandDoseMin: 21,
      filmJPerM2K: 1950,
      filmWPerMK: 0.5,
      selfHeatK: 44,
      tinMin: 18,
    },
    {
      cardId: 'lightweight-filler',
      gelDoseMin: 5.7,
      sandDoseMin: 21.5,
      filmJPerM2K: 1400,
      filmWPerMK: 0.3,
      selfHeatK: 46,
      tinMin: 18,
    },
    {
      cardId: 'finishing-putty',
      gelDoseMin: 4.7,
      sandDoseMin: 19,
      filmJPerM2K: 1950,
      filmWPerMK: 0.5,
      selfHeatK: 40,
      tinMin: 18,
    },
    {
      cardId: 'winter-filler',
      gelDoseMin: 3.7,
      sandDoseMin: 14.5,
      filmJPerM2K: 1950,
      filmWPerMK: 0.5,
      selfHeatK: 44,
      tinMin: 14,
    },
  ],
  lamp: { lampId: 'lamp-1', distanceCm: 60, absorbedWPerM2: 930 },
  repairOrderPrefix: 'KS-',
  // The first to come in brings the lamp and the compressor through the yard door.
  doors: [{ bayId: 'bay-1', fromMin: clock(6, 26), untilMin: clock(6, 30), openShare: 0.5 }],
  cars,
  more: {
    fromMin: clock(7, 36),
    untilMin: clock(16),
    everyMin: [15, 27],
    panels,
    bayIds: ['bay-1', 'bay-1', 'bay-2', 'bay-2', 'booth'],
    probabilityRolledIn: 0.3,
    coatings: [
      [coat('body-filler', 2), coat('finishing-putty', 1, 2), coat('finishing-putty', 0.5, 3)],
      [coat('body-filler', 4), coat('finishing-putty', 1, 4)],
      [coat('lightweight-filler', 3), coat('finishing-putty', 0.5, 3)],
      [coat('winter-filler', 1), coat('finishing-putty', 0.5, 1)],
      [coat('finishing-putty', 0.5)],
    ],
  },
  openBatchesMax: 6,
};
