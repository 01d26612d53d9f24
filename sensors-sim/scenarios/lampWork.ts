// A cool shop that helps itself with lamps: most coats get one once they have kicked, and have to cool down afterwards.
import { productsOf, ripeningOf } from './productParts.ts';
import type { Scenario } from './scenario.ts';
import { bothBays, dayAndNight, twoBays } from './twoBays.ts';

/** The lamps at work. */
export const lampWork: Scenario = {
  ...twoBays,
  name: 'lamp-work',
  chanceName: 'lamp-work ',
  shopName: 'Foundry Yard Refinish',
  repairOrderPrefix: 'FY-',
  rooms: bothBays({ thermostat: dayAndNight({ dayC: 14.5, nightC: 10 }) }),
  products: productsOf({
    timeScale: 1.2,
    ripening: ripeningOf({ frozenC: -80, doublingK: 9.8 }),
    batchSd: 0.09,
  }),
  more: { ...twoBays.more, probabilityLamp: 0.8 },
};
