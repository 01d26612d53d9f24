// The maker changes what is in the tin and not what is on it: from one day on the body filler takes a quarter longer.
import { productsOf, ripeningOf } from './productParts.ts';
import type { Scenario } from './scenario.ts';
import { twoBays } from './twoBays.ts';

/** The product that changed. */
export const changedProduct: Scenario = {
  ...twoBays,
  name: 'changed-product',
  chanceName: 'changed-product ',
  shopName: 'Orchard Way Body & Paint',
  repairOrderPrefix: 'OW-',
  products: productsOf({
    timeScale: 1.02,
    ripening: ripeningOf({ frozenC: -75, doublingK: 9.5 }),
    batchSd: 0.1,
    changes: { 'body-filler': [{ fromDayIndex: 20, timeScale: 1.25 }] },
  }),
};
