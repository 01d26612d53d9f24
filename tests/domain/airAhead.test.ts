// The air to come: held where nothing is known, led on by a slope that fades, never carried away by a door.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { airAhead } from '../../server/domain/airAhead.ts';
import { type AirPoint, measurementAt } from '../../server/domain/airSeries.ts';
import { minutesBetween } from '../../server/domain/minutes.ts';
import { minute, MIXED_AT, series } from '../support/domainFixtures.ts';
import { roomDay, type RoomPlan } from './roomAir.ts';

const RUN = { seed: 20_260_112, numRuns: 300 };

type Row = readonly [afterMin: number, airC: number];

/** Readings each so many minutes until minute 0, of a function of the minute. */
const told = (everyMin: number, airOf: (atMin: number) => number, forMin = 60): AirPoint[] =>
  series(
    ...Array.from({ length: forMin / everyMin + 1 }, (_, index): Row => {
      const atMin = index * everyMin - forMin;
      return [atMin, airOf(atMin)];
    }),
  );

/** The change that is expected in the end [K]. */
const changeOf = (air: readonly AirPoint[]): number => {
  const end = airAhead(air).at(-1);
  return end === undefined ? 0 : end.measurement - Number(air.at(-1)?.measurement);
};

describe('the air ahead is held', () => {
  it.each([
    ['without a reading', []],
    ['after one reading', series([0, 20])],
    ['after two readings, a step seconds apart', series([-0.05, 20], [0, 11])],
    ['after two readings of half an hour', series([-30, 15], [0, 18])],
    ['after ten minutes of readings', told(1, (atMin) => 15 + atMin / 10, 10)],
    ['on air that never changed', told(1, () => 20.1)],
    ['on air that flickers by what a sensor resolves', told(1, (atMin) => 20 + (atMin % 2) / 10)],
    [
      'where the readings leave a gap of more than 20 min',
      series([-29, 14], [-27, 14.1], [-25, 14.2], [-4, 16], [0, 16]),
    ],
    ['when a door has just been opened', told(1, (atMin) => (atMin > -2 ? 11 : 20))],
    [
      'when a door has just been opened before a sensor that speaks each second',
      told(1 / 60, (atMin) => (atMin > -0.2 ? 11 : 20)),
    ],
    [
      'when the newest reading of many is the first through a door',
      told(1 / 60, (atMin) => (atMin === 0 ? 11 : 20 + atMin / 10)),
    ],
    [
      'while the air recovers from a door',
      told(1, (atMin) => (atMin < -20 ? 20 : 20 - 8 * Math.exp(-(atMin + 20) / 8))),
    ],
    ['when a fall has come to its end', told(1, (atMin) => (atMin < -15 ? 18 + (-15 - atMin) / 10 : 18))],
    ['when a rise has turned', told(1, (atMin) => 18 - Math.abs(atMin + 14) / 10)],
  ])('%s', (_, air) => {
    expect(airAhead(air)).toEqual([]);
  });
});

describe('the air ahead of a bay that is heated by 6 K an hour', () => {
  const heated = told(1, (atMin) => 15 + atMin / 10, 120);

  it('approaches a level 33 minutes of slope away and is held from then on', () => {
    // MODEL §5: half of the straight line after an hour (0.46), which is 2.8 K.
    const ahead = airAhead(heated);
    expect(ahead.map(({ at }) => Math.round(minutesBetween(MIXED_AT, at)))).toEqual([11, 33, 66, 99]);
    const measured = [11, 33, 66, 99, 500].map((atMin) => Number(measurementAt(ahead, minute(atMin))) - 15);
    // No more than 2 K above what the bay has seen in a day, so 2 K instead of 3.3.
    for (const [index, share] of [1 / 3, 1, 2, 3, 3].entries())
      expect(measured[index]).toBeCloseTo(2 * (1 - Math.exp(-share)), 9);
  });

  it('leads the whole slope on where the bay has been warmer within a day', () => {
    const warmer = [...series([-600, 22]), ...heated];
    expect(changeOf(warmer)).toBeCloseTo(3 * (1 - Math.exp(-3)), 9);
    const gentle = [...series([-600, 22]), ...told(1, (atMin) => 15 + atMin / 20)];
    expect(changeOf(gentle)).toBeCloseTo((33 / 20) * (1 - Math.exp(-3)), 9);
    const lastWeek = [...series([-1441, 22]), ...heated];
    expect(changeOf(lastWeek)).toBeCloseTo(changeOf(heated), 9);
  });

  it.each([1 / 60, 1, 2.5, 5, 10, 15])('is the same for a reading each %d minutes', (everyMin) => {
    expect(changeOf(told(everyMin, (atMin) => 15 + atMin / 20, 120))).toBeCloseTo((33 / 20) * 0.950_213, 2);
  });

  it('is not moved by single wild readings', () => {
    const wild = told(2, (atMin) => 15 + atMin / 20 + (atMin === -20 || atMin === -10 ? 0.9 : 0), 120);
    expect(changeOf(wild)).toBeCloseTo((33 / 20) * 0.950_213, 1);
  });

  it('stays within what a film can be solved in', () => {
    const hot = [...series([-200, 60]), ...told(1, (atMin) => 59.5 + atMin / 20, 30)];
    expect(Math.max(...airAhead(hot).map(({ measurement }) => measurement))).toBeLessThanOrEqual(60);
    const cold = [...series([-200, -40]), ...told(1, (atMin) => -39.5 - atMin / 20, 30)];
    expect(Math.min(...airAhead(cold).map(({ measurement }) => measurement))).toBeGreaterThanOrEqual(-40);
  });
});

describe('whatever the readings', () => {
  const rows = fc
    .array(fc.tuple(fc.integer({ min: 1, max: 600_000 }), fc.double({ min: -1, max: 1, noNaN: true })), {
      maxLength: 60,
    })
    .chain((steps) => fc.tuple(fc.constant(steps), fc.double({ min: -0.3, max: 0.3, noNaN: true })))
    .map(([steps, driftC]) => {
      let [ms, airC] = [0, 15];
      return steps.map(([gapMs, changeC]): Row => {
        ms += gapMs;
        airC = Math.max(-10, Math.min(40, airC + changeC / 3 + driftC));
        return [ms / 60_000, airC];
      });
    });

  it('moves by no more than 3 K, and by no more than 2 K outside what the bay has seen', () => {
    fc.assert(
      fc.property(rows, (list) => {
        const air = series(...list);
        const seen = list.map(([, airC]) => airC);
        for (const { measurement } of airAhead(air)) {
          expect(Math.abs(measurement - Number(seen.at(-1)))).toBeLessThanOrEqual(3);
          expect(measurement).toBeLessThanOrEqual(Math.max(...seen) + 2);
          expect(measurement).toBeGreaterThanOrEqual(Math.min(...seen) - 2);
        }
      }),
      RUN,
    );
  });

  it('rises in time after the last reading, in few points, and one way only', () => {
    fc.assert(
      fc.property(rows, (list) => {
        const air = series(...list);
        const ahead = [...air.slice(-1), ...airAhead(air)];
        expect(ahead.length).toBeLessThanOrEqual(5);
        const ways = new Set<number>();
        for (const [index, point] of ahead.slice(1).entries()) {
          const before = ahead[index] as AirPoint;
          expect(point.at).toBeGreaterThan(before.at);
          ways.add(Math.sign(point.measurement - before.measurement));
        }
        expect(ways.size).toBeLessThanOrEqual(1);
      }),
      RUN,
    );
  });

  it('is the same later when the readings are later', () => {
    fc.assert(
      fc.property(rows, fc.integer({ min: -1e6, max: 1e6 }), (list, afterMin) => {
        const later = airAhead(series(...list.map(([atMin, airC]): Row => [atMin + afterMin, airC])));
        const shifted = airAhead(series(...list)).map(({ at, measurement }) => ({
          at: minute(minutesBetween(MIXED_AT, at) + afterMin),
          measurement,
        }));
        expect(later).toEqual(shifted);
      }),
      RUN,
    );
  });

  it('is mirrored when the readings are', () => {
    fc.assert(
      fc.property(rows, (list) => {
        const mirrored = airAhead(series(...list.map(([atMin, airC]): Row => [atMin, 30 - airC])));
        const ahead = airAhead(series(...list));
        expect(mirrored.map(({ at }) => at)).toEqual(ahead.map(({ at }) => at));
        for (const [index, { measurement }] of ahead.entries())
          expect(mirrored[index]?.measurement).toBeCloseTo(30 - measurement, 9);
      }),
      RUN,
    );
  });
});

const DAYS_COUNT = 20;
const PLANS: readonly Omit<RoomPlan, 'seed'>[] = [
  { doorCount: 0, everyMin: 1, noiseC: 0.05 },
  { doorCount: 0, everyMin: 1, noiseC: 0.3 },
  { doorCount: 0, everyMin: 5, noiseC: 0.1 },
  { doorCount: 0, everyMin: 10, noiseC: 0.1 },
  { doorCount: 4, everyMin: 1, noiseC: 0.05 },
  { doorCount: 4, everyMin: 10, noiseC: 0.1 },
];

interface Errors {
  readonly aheadC: number;
  readonly heldC: number;
  readonly straightC: number;
}

/** Root mean squares of three forecasts over generated days, each ten minutes from 7 to 17 o'clock. */
function errorsOf(plan: Omit<RoomPlan, 'seed'>, horizonMin: number): Errors {
  const sums = { aheadC: 0, heldC: 0, straightC: 0, count: 0 };
  for (let seed = 1; seed <= DAYS_COUNT; seed += 1) {
    const day = roomDay({ ...plan, seed });
    for (let nowMin = 423; nowMin < 1020; nowMin += 10) {
      const past = day.told.filter(([atMin]) => atMin <= nowMin);
      const air = series(...past);
      const thenMin = nowMin + horizonMin;
      const trueC = Number(day.trueC[thenMin]);
      const heldC = Number(past.at(-1)?.[1]);
      sums.aheadC += (Number(measurementAt([...air, ...airAhead(air)], minute(thenMin))) - trueC) ** 2;
      sums.heldC += (heldC - trueC) ** 2;
      sums.straightC += (heldC + straightSlope(past, nowMin - 30) * horizonMin - trueC) ** 2;
      sums.count += 1;
    }
  }
  const root = (sum: number): number => Math.sqrt(sum / sums.count);
  return { aheadC: root(sums.aheadC), heldC: root(sums.heldC), straightC: root(sums.straightC) };
}

/** Least squares, in K per minute. */
function straightSlope(rows: readonly Row[], fromMin: number): number {
  const late = rows.filter(([atMin]) => atMin >= fromMin);
  const mean = (index: 0 | 1): number => late.reduce((sum, row) => sum + row[index], 0) / late.length;
  const [meanMin, meanC] = [mean(0), mean(1)];
  const over = late.reduce((sum, [atMin, airC]) => sum + (atMin - meanMin) * (airC - meanC), 0);
  return over / late.reduce((sum, [atMin]) => sum + (atMin - meanMin) ** 2, 0);
}

describe('on generated days of a workshop', () => {
  // MODEL §5, on other data: 0.298 K at 60 min against 0.355 K held and 0.374 K straight: 0.84 and 0.80 times.
  it.each(PLANS.map((plan) => [plan.everyMin, plan.noiseC, plan.doorCount, plan] as const))(
    'with a reading each %d min, noise of %d K and %d doors it is nearer than held or straight, doors apart',
    (_everyMin, _noiseC, doorCount, plan) => {
      for (const horizonMin of [15, 30, 60]) {
        const { aheadC, heldC, straightC } = errorsOf(plan, horizonMin);
        process.stdout.write(
          `air ahead, ${JSON.stringify(plan)}, ${horizonMin} min: ` +
            `${aheadC.toFixed(3)} K, held ${heldC.toFixed(3)}, straight ${straightC.toFixed(3)}\n`,
        );
        // A door is not foreseen by anybody: then it must only not be much worse than held.
        expect(aheadC).toBeLessThan(heldC * (doorCount === 0 ? 0.97 : 1.12));
        if (horizonMin === 60) expect(aheadC).toBeLessThan(0.8 * straightC);
      }
    },
  );
});
