// What people do on Air: choose a bay, step through days and weeks, try other heating.
import { readCost } from '../feed/cost.ts';
import { dateOf, shiftDate } from '../format/airSpan.ts';
import { $air, type AirChoice, type CostRead, type CostRequest } from '../state/air.ts';
import { $place } from '../state/computed.ts';
import { $nowAt } from '../state/sources.ts';

/** Changes what is looked at. */
export function chooseAir(changes: Partial<AirChoice>): void {
  $air.value = { ...$air.peek(), ...changes };
}

/** Goes so many days or weeks on from a date; what is going on now is followed again once it is reached. */
export function stepAir(fromDate: string, stepCount: number): void {
  const stepDays = $air.peek().kind === 'day' ? 1 : 7;
  const date = shiftDate(fromDate, stepCount * stepDays);
  const isNow = shiftDate(date, stepDays) > dateOf($nowAt.peek(), $place.peek().timeZone);
  chooseAir({ date: isNow ? null : date });
}

/** What the cold cost. */
export function askCost(request: CostRequest): Promise<CostRead> {
  return readCost(request);
}
