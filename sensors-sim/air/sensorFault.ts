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
  const { everyDays, driftsFromDays, diesAfterDays, driftK, silentMin } = plan;
  const sinceDays = (((dayIndex + minuteMin / DAY_MIN) % everyDays) + everyDays) % everyDays;
  if (sinceDays < driftsFromDays || sinceDays >= diesAfterDays + silentMin / DAY_MIN) return NOTHING_WRONG;
  if (sinceDays >= diesAfterDays) return { offK: 0, isSilent: true };
  return {
    offK: (driftK * (sinceDays - driftsFromDays)) / (diesAfterDays - driftsFromDays),
    isSilent: false,
  };
}

const DAY_MIN = 1440;
const NOTHING_WRONG: SensorFault = { offK: 0, isSilent: false };
