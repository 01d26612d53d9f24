// The scenarios there are: a new one is its data file and its line here.
import { coldMorning } from './coldMorning.ts';
import type { Scenario } from './scenario.ts';

export const scenarios: readonly Scenario[] = [coldMorning];

/** The scenario of a name, or null when there is none. */
export function scenarioByName(name: string): Scenario | null {
  return scenarios.find((one) => one.name === name) ?? null;
}
