// What is wrong with a sensor on a day of the play: it goes off slowly, falls silent, and is as new when it comes back.
import type { SensorFaultPlan } from '../scenarios/scenario.ts';

export interface SensorFault {
  readonly offK: number;
  readonly isSilent: boolean;
}

/** The fault at a minute of a day of the play; days before the first belong to a round before. */
export function sensorFaultAt(
  plan: SensorFaultPlan | null,
  { dayIndex, minuteMin }: { dayIndex: number; minuteMin: number },
): SensorFault {
  if (plan === null) return NOTHING_WRONG;
  const roundMin = plan.everyDays * DAY_MIN;
  const nowMin = (((dayIndex * DAY_MIN + minuteMin) % roundMin) + roundMin) % roundMin;
  const driftsFromMin = plan.driftsFromDayIndex * DAY_MIN;
  const diesAtMin = plan.diesOnDayIndex * DAY_MIN + plan.diesAtMin;
  if (nowMin < driftsFromMin || nowMin >= diesAtMin + plan.silentMin) return NOTHING_WRONG;
  if (nowMin >= diesAtMin) return { offK: 0, isSilent: true };
  return { offK: (plan.driftK * (nowMin - driftsFromMin)) / (diesAtMin - driftsFromMin), isSilent: false };
}

const DAY_MIN = 1440;
const NOTHING_WRONG: SensorFault = { offK: 0, isSilent: false };
