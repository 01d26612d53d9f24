// Windy days and a gate that opens all the time: the air of the first bay falls by degrees and comes back within minutes.
import { productsOf, ripeningOf } from './productParts.ts';
import type { Scenario } from './scenario.ts';
import { bothBays, twoBays } from './twoBays.ts';

const [gateBay, quietBay] = bothBays();

/** The door on windy days. */
export const windyDoor: Scenario = {
  ...twoBays,
  name: 'windy-door',
  chanceName: 'windy-door ',
  shopName: 'Ridge Road Repairs',
  repairOrderPrefix: 'RR-',
  outdoor: { ...twoBays.outdoor, windPerS: 0.007, dayToDayK: 3 },
  rooms: [
    { ...gateBay, doorOpeningCount: 38, doorOpenMin: [0.5, 5] },
    { ...quietBay, doorOpeningCount: 2 },
  ],
  products: productsOf({
    timeScale: 1.15,
    ripening: ripeningOf({ frozenC: -60, doublingK: 9.1 }),
    batchSd: 0.1,
  }),
};
