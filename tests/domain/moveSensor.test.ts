// A sensor that is hung, taken down, named and put right, and which of its words count for which bay.
import { describe, expect, it } from 'vitest';
import { currentStay, moveSensor, type SensorAsked, TAKEN_IN_MIN } from '../../server/domain/moveSensor.ts';
import type { SensorSetting, SensorStay } from '../../server/domain/settingsChange.ts';
import { minute } from '../support/domainFixtures.ts';

const NEW: SensorSetting = { sensorId: 's1', name: null, stays: [] };

function stay(bayId: string, parts: Partial<SensorStay> = {}): SensorStay {
  return {
    bayId,
    fromAt: null,
    untilAt: null,
    airTemperatureOffsetK: 0,
    relativeHumidityOffsetPct: 0,
    ...parts,
  };
}

/** The sensor after some wishes, each some minutes after seven. */
function after(held: SensorSetting, ...wishes: [number, SensorAsked][]): SensorSetting {
  return wishes.reduce(
    (sensor, [afterMin, asked]) => moveSensor(sensor, asked, minute(afterMin))?.sensor ?? sensor,
    held,
  );
}

describe('a sensor', () => {
  it('that is hung counts with what it said for two hours before', () => {
    expect(moveSensor(NEW, { bayId: 'bay-1' }, minute(0))).toEqual({
      part: 'sensor',
      paths: ['sensors.s1.bayId'],
      sensor: { sensorId: 's1', name: null, stays: [stay('bay-1', { fromAt: minute(-TAKEN_IN_MIN) })] },
    });
  });

  it('that comes from another bay counts there until now and here from now on', () => {
    const { stays } = after({ ...NEW, stays: [stay('bay-1')] }, [5, { bayId: 'bay-2' }]);
    expect(stays).toEqual([stay('bay-1', { untilAt: minute(5) }), stay('bay-2', { fromAt: minute(5) })]);
  });

  it('that was taken down counts again from the moment it was taken down at the earliest', () => {
    const { stays } = after(
      { ...NEW, stays: [stay('bay-1')] },
      [0, { bayId: null }],
      [30, { bayId: 'bay-2' }],
      [40, { bayId: null }],
      [400, { bayId: 'bay-1' }],
    );
    expect(stays).toEqual([
      stay('bay-1', { untilAt: minute(0) }),
      stay('bay-2', { fromAt: minute(0), untilAt: minute(40) }),
      stay('bay-1', { fromAt: minute(280) }),
    ]);
  });

  it('that is put right is so for all it said where it hangs, and stays so where it is hung next', () => {
    const held = { ...NEW, stays: [stay('bay-1')] };
    const change = moveSensor(held, { airTemperatureOffsetK: -0.5 }, minute(1));
    expect(change?.paths).toEqual(['sensors.s1.airTemperatureOffsetK']);
    const { stays } = after(
      held,
      [1, { airTemperatureOffsetK: -0.5, relativeHumidityOffsetPct: 3 }],
      [5, { bayId: 'bay-2', relativeHumidityOffsetPct: 2 }],
    );
    expect(stays).toEqual([
      stay('bay-1', { untilAt: minute(5), airTemperatureOffsetK: -0.5, relativeHumidityOffsetPct: 3 }),
      stay('bay-2', { fromAt: minute(5), airTemperatureOffsetK: -0.5, relativeHumidityOffsetPct: 2 }),
    ]);
  });

  it('says what was changed by its path', () => {
    const held = { ...NEW, stays: [stay('bay-1')] };
    const asked = { name: 'By the door', relativeHumidityOffsetPct: 2 };
    expect(moveSensor(held, asked, minute(1))?.paths).toEqual([
      'sensors.s1.name',
      'sensors.s1.relativeHumidityOffsetPct',
    ]);
    expect(moveSensor(held, { bayId: null, name: 'Spare' }, minute(1))?.paths).toEqual([
      'sensors.s1.bayId',
      'sensors.s1.name',
    ]);
  });

  it.each<[string, SensorAsked]>([
    ['nothing is asked', {}],
    ['it hangs there already', { bayId: 'bay-1' }],
    ['it is called so already', { name: null }],
    ['it is as right already', { airTemperatureOffsetK: 0 }],
  ])('does not change where %s', (_what, asked) => {
    expect(moveSensor({ ...NEW, stays: [stay('bay-1')] }, asked, minute(1))).toBeNull();
  });

  it('that hangs nowhere cannot be put right, and hangs nowhere', () => {
    expect(moveSensor(NEW, { airTemperatureOffsetK: 1 }, minute(1))).toBeNull();
    expect(moveSensor(NEW, { bayId: null }, minute(1))).toBeNull();
    expect(currentStay({ stays: [stay('bay-1', { untilAt: minute(0) })] })).toBeNull();
  });
});
