// A shop that lets the heating go far down at night: mornings in cold walls, and cars that come in from the frost.
import { productsOf, ripeningOf } from './productParts.ts';
import type { Scenario } from './scenario.ts';
import { clock } from './shopParts.ts';
import { bothBays, dayAndNight, twoBays } from './twoBays.ts';

/** The deep night setback. */
export const nightSetback: Scenario = {
  ...twoBays,
  name: 'night-setback',
  chanceName: 'night-setback ',
  shopName: 'Mill Row Coachworks',
  repairOrderPrefix: 'MR-',
  outdoor: { ...twoBays.outdoor, lowestC: -5, highestC: 2, dayToDayK: 2.5 },
  rooms: bothBays({
    thermostat: dayAndNight({ fromMin: clock('6:45'), dayC: 20, nightC: 6 }),
    heaterWPerM2: 140,
  }),
  products: productsOf({
    timeScale: 0.9,
    ripening: ripeningOf({ frozenC: -95, doublingK: 10.2 }),
    batchSd: 0.13,
  }),
  more: { ...twoBays.more, probabilityRolledIn: 0.55 },
};
