// A cold snap: frost comes over nine days and goes in five, and the heaters run all day without reaching their target.
import { productsOf, ripeningOf } from './productParts.ts';
import type { Scenario } from './scenario.ts';
import { coat } from './shopParts.ts';
import { bothBays, twoBays } from './twoBays.ts';

/** The cold snap. */
export const coldSnap: Scenario = {
  ...twoBays,
  name: 'cold-snap',
  chanceName: 'cold-snap ',
  shopName: 'Harbour Lane Panels',
  repairOrderPrefix: 'HL-',
  outdoor: {
    ...twoBays.outdoor,
    lowestC: -1,
    highestC: 4,
    spell: { byK: -9, comesWithinDays: 9, everyDays: 14 },
  },
  rooms: bothBays({ heaterWPerM2: 58, outsideWPerM2K: 2.6 }),
  products: productsOf({
    timeScale: 1.08,
    ripening: ripeningOf({ frozenC: -68, doublingK: 9.4 }),
    batchSd: 0.11,
  }),
  more: {
    ...twoBays.more,
    everyMin: [29, 58],
    coatings: [
      ...twoBays.more.coatings,
      [coat('winter-filler', 2), coat('finishing-putty', 1, { underlayMm: 2 })],
      [coat('winter-filler', 1), coat('winter-filler', 1, { underlayMm: 1 })],
    ],
  },
};
