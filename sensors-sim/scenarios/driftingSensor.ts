// A sensor that goes off by more than a kelvin over five days, dies for a morning, and is as new when it comes back.
import { productsOf, ripeningOf } from './productParts.ts';
import type { Scenario } from './scenario.ts';
import { clock } from './shopParts.ts';
import { twoBays } from './twoBays.ts';

/** The sensor that drifts and dies. */
export const driftingSensor: Scenario = {
  ...twoBays,
  name: 'drifting-sensor',
  chanceName: 'drifting-sensor ',
  shopName: 'Quarry Side Garage',
  repairOrderPrefix: 'QS-',
  sensors: twoBays.sensors.map((sensor) =>
    sensor.roomId === 'bay-2'
      ? {
          ...sensor,
          fault: {
            everyDays: 10,
            driftsFromDayIndex: 2,
            diesOnDayIndex: 7,
            diesAtMin: clock('8:30'),
            driftK: 1.7,
            silentMin: 330,
          },
        }
      : sensor,
  ),
  products: productsOf({
    timeScale: 0.86,
    ripening: ripeningOf({ frozenC: -88, doublingK: 10.7 }),
    batchSd: 0.15,
  }),
};
