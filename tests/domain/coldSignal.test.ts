// Doors, hours before the heating is through and humid spells, found in air whose causes are known.
import { describe, expect, it } from 'vitest';
import type { AirPoint } from '../../server/domain/airSeries.ts';
import {
  coldPartsAt,
  isHumidAt,
  findDoors,
  findHumidSpells,
  meanHalfHours,
  measurementNear,
  pointsWithin,
} from '../../server/domain/coldSignal.ts';
import { scenarioByName } from '../../sensors-sim/scenarios/scenarioByName.ts';
import type { Scenario } from '../../sensors-sim/scenarios/scenario.ts';
import { diaryOf, readingsOf } from '../sensors-sim/playDiaries.ts';
import { minute, type MIXED_AT, series } from '../support/domainFixtures.ts';

/** Air each minute, by a rule. */
function airOf(fromMin: number, untilMin: number, airC: (atMin: number) => number): AirPoint[] {
  return Array.from({ length: untilMin - fromMin + 1 }, (_, index) => ({
    at: minute(fromMin + index),
    measurement: airC(fromMin + index),
  }));
}

const signalOf = (air: readonly AirPoint[], humidity: readonly AirPoint[] = []) => ({
  air,
  humidity,
  doors: findDoors(air),
  humidSpells: findHumidSpells(humidity),
  halfHoursC: meanHalfHours(air),
});
const partsOf = (air: readonly AirPoint[], atMin: number, cardC = 20) =>
  coldPartsAt(signalOf(air), minute(atMin), cardC);

describe('a door', () => {
  const doorAt = (fallK: number, overMin: number) => (atMin: number) =>
    atMin <= 0
      ? 18
      : atMin <= overMin
        ? 18 - (fallK * atMin) / overMin
        : Math.min(18, 18 - fallK + (atMin - overMin) / 4);

  it('is open from the level it fell from until the air is back within half a degree', () => {
    const { doors } = signalOf(airOf(-60, 120, doorAt(4, 3)));
    expect(doors).toEqual([{ fromAt: minute(0), toAt: minute(17), levelC: 18 }]);
    expect(partsOf(airOf(-60, 120, doorAt(4, 3)), 3)).toEqual({ doorK: 4, heatingK: 0, outdoorK: 2 });
    expect(partsOf(airOf(-60, 120, doorAt(4, 3)), 30)).toEqual({ doorK: 0, heatingK: 0, outdoorK: 2 });
  });

  it.each([
    ['that falls by 1.3 K within four minutes', 1.3, 4, 1],
    ['that falls by 1.1 K within four minutes', 1.1, 4, 0],
    ['that falls by 3 K within half an hour, as heating that goes off does', 3, 30, 0],
  ])('is seen in air %s, or not', (_, fallK, overMin, count) => {
    expect(signalOf(airOf(-60, 120, doorAt(fallK, overMin))).doors).toHaveLength(count);
  });

  it.each([
    ['five minutes apart, 2 K', 5, 2, 1],
    ['five minutes apart, 1.4 K', 5, 1.4, 0],
    ['ten minutes apart, 3.1 K', 10, 3.1, 1],
    ['ten minutes apart, 2.9 K', 10, 2.9, 0],
    ['further apart than a gap, 8 K', 21, 8, 0],
  ])('is seen between readings %s lower, or not', (_, apartMin, fallK, count) => {
    const air = series([-2 * apartMin, 18], [-apartMin, 18], [0, 18 - fallK], [apartMin, 18]);
    expect(signalOf(air).doors).toHaveLength(count);
  });

  it('that opens again on the way back is the same spell, from the higher level', () => {
    const air = series([0, 17], [1, 17], [2, 14], [5, 16.2], [6, 13], [7, 18.5], [8, 15], [12, 18.2]);
    expect(signalOf(air).doors).toEqual([
      { fromAt: minute(1), toAt: minute(7), levelC: 17 },
      { fromAt: minute(7), toAt: minute(12), levelC: 18.5 },
    ]);
  });

  it('is forgotten an hour after its last fall, and lasts as long as it is told', () => {
    const never = airOf(-10, 200, (atMin) => (atMin <= 0 ? 18 : 14));
    expect(signalOf(never).doors).toEqual([{ fromAt: minute(0), toAt: minute(65), levelC: 18 }]);
    const untold = airOf(-10, 20, (atMin) => (atMin <= 0 ? 18 : 14));
    expect(signalOf(untold).doors[0]?.toAt).toBe(minute(20) + 1);
    expect(coldPartsAt(signalOf(untold), minute(20), 20).doorK).toBe(4);
  });
});

describe('a morning', () => {
  // From 10 °C up to 18 °C over three hours, then level.
  const morning = airOf(-180, 720, (atMin) => (atMin < 0 ? 10 : Math.min(18, 10 + (8 * atMin) / 180)));

  it('is the heating’s until the bay is within two degrees of what it will reach', () => {
    expect(partsOf(morning, 60).heatingK).toBeCloseTo(18 - (10 + 8 / 3), 1);
    expect(partsOf(morning, 60).outdoorK).toBeCloseTo(2, 1);
    expect(partsOf(morning, 150)).toMatchObject({ heatingK: 0 });
    expect(partsOf(morning, 300)).toEqual({ doorK: 0, heatingK: 0, outdoorK: 2 });
  });

  it('that is not over is measured by the day before', () => {
    const before = airOf(-1440, 30, (atMin) => (atMin < -600 ? 19 : 12));
    expect(partsOf(before, 20)).toEqual({ doorK: 0, heatingK: 7, outdoorK: 1 });
    expect(
      partsOf(
        airOf(0, 30, () => 12),
        20,
      ),
    ).toEqual({ doorK: 0, heatingK: 0, outdoorK: 8 });
  });

  it('in which a door opens shares the cold between both', () => {
    const both = morning.map((point, index) =>
      index >= 240 && index < 245 ? { ...point, measurement: point.measurement - 3 } : point,
    );
    const parts = partsOf(both, 62);
    expect(parts.doorK).toBeCloseTo(3, 0);
    expect(parts.heatingK).toBeCloseTo(5.3, 0);
    expect(parts.doorK + parts.heatingK + parts.outdoorK).toBeCloseTo(20 - (10 + (8 * 62) / 180 - 3), 9);
  });
});

describe('air as warm as the card, or unknown', () => {
  it('has no cold', () => {
    const none = { doorK: 0, heatingK: 0, outdoorK: 0 };
    expect(
      partsOf(
        airOf(0, 60, () => 20),
        30,
      ),
    ).toEqual(none);
    expect(
      partsOf(
        airOf(0, 60, () => 22),
        30,
      ),
    ).toEqual(none);
    expect(partsOf([], 30)).toEqual(none);
    expect(
      partsOf(
        airOf(0, 60, () => 12),
        90,
      ),
    ).toEqual(none);
  });
});

describe('a humid spell', () => {
  const humid = (...points: (readonly [number, number])[]) => signalOf([], series(...points)).humidSpells;

  it('lasts an hour at 75 % and more', () => {
    expect(humid([0, 80], [20, 75], [40, 90], [60, 80], [70, 60])).toEqual([
      { fromAt: minute(0), toAt: minute(60) },
    ]);
    expect(humid([0, 80], [20, 75], [40, 90], [59, 80], [70, 60])).toEqual([]);
    expect(humid([0, 80], [20, 74.9], [40, 90], [60, 80], [70, 60])).toEqual([]);
  });

  it('is broken by a gap, and may be going on', () => {
    expect(humid([0, 80], [20, 80], [40, 80], [61, 80], [81, 80])).toEqual([]);
    const spells = humid([0, 80], [20, 80], [40, 80], [60, 80]);
    expect(spells).toEqual([{ fromAt: minute(0), toAt: minute(60) }]);
    const signal = { ...signalOf([]), humidSpells: spells };
    expect([-1, 0, 59, 60].map((atMin) => isHumidAt(signal, minute(atMin)))).toEqual([
      false,
      true,
      true,
      false,
    ]);
  });
});

describe('a series', () => {
  const told = series([0, 10], [10, 20], [40, 30]);

  it.each([
    ['before its start', -1, null],
    ['at a reading', 10, 20],
    ['between two', 5, 15],
    ['in a gap, soon after the last', 25, 20],
    ['in a gap, later', 35, null],
    ['after its end, soon', 60, 30],
    ['after its end, later', 61, null],
  ])('%s tells what is known', (_, atMin, value) => {
    expect(measurementNear(told, minute(atMin))).toBe(value);
  });

  it('is cut to a span with both ends', () => {
    const cut = pointsWithin(told, { fromAt: minute(10), toAt: minute(40) });
    expect(cut.map(({ measurement }) => measurement)).toEqual([20, 30]);
    expect(pointsWithin(told, { fromAt: minute(11), toAt: minute(39) })).toEqual([]);
  });
});

// An independent plant: rooms, doors and heating of the simulator, which shares no line with these rules.
describe('simulated shops', () => {
  /** Degree minutes below 20 °C from seven to four, over three working days. */
  function coldOf(name: string, sensorId: string): Record<'doorK' | 'heatingK' | 'outdoorK', number> {
    const lines = diaryOf(scenarioByName(name) as Scenario, { forDays: 3, quietDays: 3 });
    const air = readingsOf(lines, sensorId).map(({ at, airTemperatureC }) => ({
      at: Date.parse(at) as typeof MIXED_AT,
      measurement: airTemperatureC,
    }));
    const signal = signalOf(air);
    const sums = { doorK: 0, heatingK: 0, outdoorK: 0 };
    for (let day = 0; day < 3; day += 1) {
      for (let atMin = 0; atMin < 540; atMin += 1) {
        const parts = coldPartsAt(signal, minute(day * 1440 + atMin), 20);
        for (const key of Object.keys(sums) as (keyof typeof sums)[]) sums[key] += parts[key];
      }
    }
    return sums;
  }

  it('with a gate that opens all the time blame the door, and next door the heating and the cold', () => {
    const gate = coldOf('windy-door', 'bay-1-air');
    expect(gate.doorK).toBeGreaterThan(1.5 * (gate.heatingK + gate.outdoorK));
    const quiet = coldOf('windy-door', 'bay-2-air');
    expect(quiet.doorK).toBeLessThan(0.2 * (quiet.heatingK + quiet.outdoorK));
  });

  it('whose heating goes far down at night blame it more than the cold outside', () => {
    const setback = coldOf('night-setback', 'bay-2-air');
    expect(setback.heatingK).toBeGreaterThan(1.5 * setback.outdoorK);
  });
});
