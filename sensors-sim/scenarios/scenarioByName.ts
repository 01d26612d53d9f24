// The scenarios there are: a new one is its data file and its line here.
import { changedProduct } from './changedProduct.ts';
import { coldMorning } from './coldMorning.ts';
import { coldSnap } from './coldSnap.ts';
import { driftingSensor } from './driftingSensor.ts';
import { humidWeek } from './humidWeek.ts';
import { lampWork } from './lampWork.ts';
import { nightSetback } from './nightSetback.ts';
import type { Scenario } from './scenario.ts';
import { windyDoor } from './windyDoor.ts';

export const scenarios: readonly Scenario[] = [
  coldMorning,
  coldSnap,
  nightSetback,
  windyDoor,
  humidWeek,
  lampWork,
  driftingSensor,
  changedProduct,
];

/** The scenario of a name, or null when there is none. */
export function scenarioByName(name: string): Scenario | null {
  return scenarios.find((one) => one.name === name) ?? null;
}
