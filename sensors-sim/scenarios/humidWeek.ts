// Warm, wet weeks without heating: the air is near its dew point for days, and the water in it slows the cure a little.
import { productsOf, ripeningOf } from './productParts.ts';
import type { Scenario } from './scenario.ts';
import { clock } from './shopParts.ts';
import { bothBays, dayAndNight, twoBays } from './twoBays.ts';

/** The humid week. */
export const humidWeek: Scenario = {
  ...twoBays,
  name: 'humid-week',
  chanceName: 'humid-week ',
  shopName: 'Marsh Street Bodyworks',
  repairOrderPrefix: 'MS-',
  outdoor: {
    ...twoBays.outdoor,
    lowestC: 17,
    highestC: 25,
    dayToDayK: 1.5,
    humidityPct: [96, 74],
    sunMin: [clock('5:30'), clock('21:30')],
    sunWPerM2: 420,
  },
  rooms: bothBays({
    thermostat: dayAndNight({ dayC: 16, nightC: 12 }),
    vapourGPerM3PerS: 0.0009,
    sunShare: 0.03,
    doorOpeningCount: 24,
    doorOpenMin: [3, 20],
  }),
  products: productsOf({
    timeScale: 0.97,
    ripening: ripeningOf({ frozenC: -110, doublingK: 11 }),
    batchSd: 0.12,
    dampingPct: 1250,
  }),
};
