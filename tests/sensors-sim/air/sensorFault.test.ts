import { describe, expect, it } from 'vitest';
import { sensorFaultAt } from '../../../sensors-sim/air/sensorFault.ts';

const plan = {
  everyDays: 10,
  driftsFromDayIndex: 2,
  diesOnDayIndex: 7,
  diesAtMin: 720,
  driftK: 1.1,
  silentMin: 120,
};

describe('the fault of a sensor', () => {
  it.each([
    ['before it drifts', 1, 600, 0, false],
    ['half way', 4, 1080, 0.55, false],
    ['just before it dies', 7, 719.999, 1.1, false],
    ['when it has died', 7, 720, 0, true],
    ['before it comes back', 7, 839, 0, true],
    ['when it is back', 7, 840, 0, false],
    ['a round later', 14, 1080, 0.55, false],
    ['before the play began', -6, 1080, 0.55, false],
  ])('%s', (_, dayIndex, minuteMin, offK, isSilent) => {
    const fault = sensorFaultAt(plan, { dayIndex, minuteMin });
    expect(fault.offK).toBeCloseTo(offK, 5);
    expect(fault.isSilent).toBe(isSilent);
  });

  it('is nothing in a sensor that holds out', () => {
    expect(sensorFaultAt(null, { dayIndex: 7, minuteMin: 720 })).toEqual({ offK: 0, isSilent: false });
  });
});
