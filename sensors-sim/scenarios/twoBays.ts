// A small shop with two bays, three people and a sensor in each bay: the ground on which most scenarios stand.
import { productsOf, ripeningOf } from './productParts.ts';
import type { PersonPlan, RoomPlan, Scenario } from './scenario.ts';
import { breaksMin, clock, coat, noExtras, panels, roomPlain, sensorPlain } from './shopParts.ts';

/** What a scenario may say of both bays at once. */
export type BayChange = Partial<Omit<RoomPlan, 'bayId'>>;

/** The two bays, changed alike. */
export function bothBays(change: BayChange = {}): readonly [RoomPlan, RoomPlan] {
  return [
    {
      ...roomPlain,
      bayId: 'bay-1',
      floorM2: 85,
      doorOpeningCount: 9,
      sunShare: 0.05,
      heaterWPerM2: 125,
      thermostat: dayAndNight({ dayC: 19, nightC: 13 }),
      ...change,
    },
    {
      ...roomPlain,
      bayId: 'bay-2',
      floorM2: 64,
      outsideWPerM2K: 1.8,
      doorOpeningCount: 5,
      doorPerS: 0.004,
      sunShare: 0.18,
      heaterWPerM2: 115,
      thermostat: dayAndNight({ dayC: 17.5, nightC: 12 }),
      ...change,
    },
  ];
}

/** A thermostat that knows the working day and the night. */
export function dayAndNight({
  fromMin = clock('6:00'),
  dayC,
  nightC,
}: {
  fromMin?: number;
  dayC: number;
  nightC: number;
}): RoomPlan['thermostat'] {
  return [
    { fromMin, targetC: dayC },
    { fromMin: clock('17:15'), targetC: nightC },
  ];
}

const personPlain = {
  weighs: false,
  probabilityImpatient: 0.2,
  probabilityForgetsGums: 0.1,
  thumbSd: 0.05,
  guessScale: 1,
  guessSd: 0.15,
  againMin: [3, 8],
  breaksMin,
} as const satisfies Partial<PersonPlan>;

/** The shop on plain winter days. */
export const twoBays: Scenario = {
  name: 'two-bays',
  chanceName: 'two-bays ',
  shopName: 'Two Bays Body Shop',
  hours: {
    daysOff: ['Sat', 'Sun'],
    opensMin: clock('7:00'),
    lastMixMin: clock('15:45'),
    closesMin: clock('17:00'),
  },
  outdoor: {
    lowestC: 0.5,
    lowestMin: clock('6:30'),
    highestC: 6.5,
    highestMin: clock('14:30'),
    dayToDayK: 2,
    humidityPct: [92, 72],
    sunMin: [clock('8:30'), clock('16:00')],
    sunWPerM2: 220,
    windPerS: 0.0015,
    spell: null,
  },
  rooms: bothBays(),
  sensors: [
    { ...sensorPlain, sensorId: 'bay-1-air', roomId: 'bay-1', everyMin: 1, biasK: 0.15 },
    { ...sensorPlain, sensorId: 'bay-2-air', roomId: 'bay-2', everyMin: 1, biasK: -0.1 },
  ],
  crew: [
    { ...personPlain, initials: 'EB', weighs: true, probabilityForgetsGums: 0, guessScale: 1.25 },
    {
      ...personPlain,
      initials: 'JN',
      probabilityImpatient: 0.3,
      probabilityForgetsGums: 0.3,
      guessScale: 1,
    },
    { ...personPlain, initials: 'SV', thumbSd: 0.06, guessScale: 1.12 },
  ],
  products: productsOf({
    timeScale: 1,
    ripening: ripeningOf({ frozenC: -72, doublingK: 9.6 }),
    batchSd: 0.1,
  }),
  lamp: { lampId: 'lamp-1', distanceCm: 90, absorbedWPerM2: 520, guessScale: 0.85 },
  repairOrderPrefix: 'TB-',
  doors: [],
  cars: [],
  more: {
    ...noExtras,
    fromMin: clock('7:05'),
    untilMin: clock('14:45'),
    everyMin: [30, 62],
    panels,
    bayIds: ['bay-1', 'bay-2'],
    probabilityRolledIn: 0.25,
    coatings: [
      [
        coat('body-filler', 2),
        coat('finishing-putty', 1, { underlayMm: 2 }),
        coat('finishing-putty', 0.5, { underlayMm: 3 }),
      ],
      [coat('body-filler', 3), coat('finishing-putty', 1, { underlayMm: 3 })],
      [coat('body-filler', 1), coat('finishing-putty', 0.5, { underlayMm: 1 })],
      [coat('body-filler', 4), coat('body-filler', 1, { underlayMm: 4 })],
      [coat('body-filler', 2)],
      [coat('lightweight-filler', 3), coat('finishing-putty', 0.5, { underlayMm: 3 })],
      [coat('lightweight-filler', 2), coat('finishing-putty', 1, { underlayMm: 2 })],
      [coat('winter-filler', 2), coat('finishing-putty', 0.5, { underlayMm: 2 })],
      [coat('finishing-putty', 0.5)],
    ],
    probabilityLamp: 0.06,
    probabilityMoved: 0.04,
    probabilityForgetsHardener: 0.01,
  },
  openBatchesMax: 10,
  hopelessRatio: 2.6,
};
