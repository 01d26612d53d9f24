// Series of air: merged over sensors, spliced along a batch's stays, thinned within a tolerance.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type AirPoint,
  isFresh,
  measurementAt,
  mergeSensors,
  newestReading,
  spliceStays,
  thinSeries,
} from '../../server/domain/airSeries.ts';
import { minutesBetween } from '../../server/domain/minutes.ts';
import { minute, MIXED_AT, series } from '../support/domainFixtures.ts';

const RUN = { seed: 20_260_112, numRuns: 300 };

/** A series as rows of [minute, measurement]. */
const rows = (points: readonly AirPoint[]): [number, number][] =>
  points.map((point) => [minutesBetween(MIXED_AT, point.at), point.measurement]);

describe('sensors of a bay', () => {
  const said = (...points: readonly (readonly [sensorId: string, afterMin: number, measurement: number])[]) =>
    mergeSensors(
      points.map(([sensorId, afterMin, measurement]) => ({ sensorId, at: minute(afterMin), measurement })),
    );

  it.each([
    ['is none', [], []],
    [
      'speaks alone',
      [
        ['a', 0, 20],
        ['a', 5, 22],
      ],
      [
        [0, 20],
        [5, 22],
      ],
    ],
    [
      'speaks by turns with another',
      [
        ['a', 0, 20],
        ['b', 1, 22],
        ['a', 2, 24],
      ],
      [
        [0, 20],
        [1, 21],
        [2, 23],
      ],
    ],
    [
      'speaks at once with another',
      [
        ['a', 0, 20],
        ['b', 0, 22],
      ],
      [[0, 21]],
    ],
    [
      'has been quiet for ten minutes',
      [
        ['a', 0, 20],
        ['b', 10, 22],
      ],
      [
        [0, 20],
        [10, 21],
      ],
    ],
    [
      'has been quiet for longer',
      [
        ['a', 0, 20],
        ['b', 10.001, 22],
      ],
      [
        [0, 20],
        [10.001, 22],
      ],
    ],
    [
      'corrects itself at once',
      [
        ['a', 0, 20],
        ['a', 0, 30],
      ],
      [[0, 30]],
    ],
  ] as const)('are merged when one %s', (_, points, merged) => {
    expect(rows(said(...points))).toEqual(merged);
  });
});

describe('the measurement at an instant', () => {
  const cooling = series([0, 20], [10, 10], [20, 10]);
  it.each([
    [-5, 20],
    [0, 20],
    [2.5, 17.5],
    [10, 10],
    [15, 10],
    [20, 10],
    [99, 10],
  ])('at minute %d is %d: straight between points, held on outside', (afterMin, measurement) => {
    expect(measurementAt(cooling, minute(afterMin))).toBe(measurement);
  });

  it('is none in an empty series', () => {
    expect(measurementAt([], MIXED_AT)).toBeNull();
  });
});

const bays: Record<string, AirPoint[]> = {
  warm: series([-10, 20], [5, 20], [15, 22], [25, 22]),
  cold: series([0, 8], [20, 10], [40, 10]),
  late: series([30, 5]),
};
const seriesOf = (bayId: string): AirPoint[] => bays[bayId] ?? [];
const stays = (...list: readonly (readonly [string, number])[]) =>
  list.map(([bayId, fromMin]) => ({ bayId, fromAt: minute(fromMin) }));
/** A move shows as a step of one millisecond. */
const MS = 1 / 60_000;

describe('the air along a batch’s stays', () => {
  it.each([
    [
      'one stay',
      stays(['warm', 0]),
      [
        [0, 20],
        [5, 20],
        [15, 22],
        [25, 22],
      ],
    ],
    [
      'a move as a step',
      stays(['warm', 0], ['cold', 10]),
      [
        [0, 20],
        [5, 20],
        [10, 21],
        [10 + MS, 9],
        [20, 10],
        [40, 10],
      ],
    ],
    [
      'a move there and back',
      stays(['warm', 0], ['cold', 10], ['warm', 20]),
      [
        [0, 20],
        [5, 20],
        [10, 21],
        [10 + MS, 9],
        [20, 10],
        [20 + MS, 22],
        [25, 22],
      ],
    ],
    [
      'a bay without readings, left out',
      stays(['warm', 0], ['dark', 10], ['cold', 20]),
      [
        [0, 20],
        [5, 20],
        [10, 21],
        [20, 10],
        [40, 10],
      ],
    ],
    ['only bays without readings', stays(['dark', 0], ['dim', 10]), []],
    [
      'a stay that lasted no time',
      stays(['cold', 0], ['warm', 0]),
      [
        [0, 20],
        [5, 20],
        [15, 22],
        [25, 22],
      ],
    ],
    [
      'a bay that spoke only after it left',
      stays(['late', 0], ['cold', 20]),
      [
        [0, 5],
        [20, 5],
        [20 + MS, 10],
        [40, 10],
      ],
    ],
  ])('is spliced over %s', (_, list, expected) => {
    const spliced = rows(spliceStays(list, seriesOf, MIXED_AT));
    expect(spliced.map(([, measurement]) => Math.round(measurement * 1000) / 1000)).toEqual(
      expected.map(([, measurement]) => measurement),
    );
    for (const [index, [afterMin]] of spliced.entries())
      expect(afterMin).toBeCloseTo(expected[index]?.[0] ?? -1, 9);
  });

  it('rises in time whatever the stays are', () => {
    const stay = fc.tuple(fc.constantFrom('warm', 'cold', 'late', 'dark'), fc.integer({ min: -5, max: 50 }));
    fc.assert(
      fc.property(fc.array(stay, { minLength: 1, maxLength: 6 }), (list) => {
        const times = spliceStays(stays(...list), seriesOf, MIXED_AT).map((point) => point.at);
        for (const [index, at] of times.slice(1).entries())
          expect(at).toBeGreaterThan(times[index] as number);
      }),
      RUN,
    );
  });
});

describe('the newest reading of a batch', () => {
  it.each([
    ['the bay’s last', stays(['warm', 0]), [25, 22]],
    [
      'of the bay where it stands, though the one before spoke later',
      stays(['cold', 0], ['warm', 10]),
      [25, 22],
    ],
    [
      'of the bay before, until it left, where this one never spoke',
      stays(['warm', 0], ['dark', 20]),
      [15, 22],
    ],
    ['the one at the very instant it left', stays(['warm', 0], ['dark', 15]), [15, 22]],
  ] as const)('is %s', (_, list, row) => {
    const reading = newestReading(list, seriesOf);
    expect(reading === null ? null : rows([reading])[0]).toEqual(row);
  });

  it.each([
    ['no bay ever spoke', stays(['dark', 0])],
    ['its bay spoke only after it left', stays(['late', 0], ['dark', 20])],
  ])('is none when %s', (_, list) => {
    expect(newestReading(list, seriesOf)).toBeNull();
  });

  it('is fresh up to its age and not beyond', () => {
    const reading = { at: MIXED_AT, measurement: 20 };
    expect([44.9, 45, 45.001].map((nowMin) => isFresh(reading, minute(nowMin), 45))).toEqual([
      true,
      true,
      false,
    ]);
    expect(isFresh(null, MIXED_AT, 45)).toBe(false);
  });
});

describe('a thinned series', () => {
  const steps = fc.array(
    fc.tuple(fc.integer({ min: 1, max: 20 }), fc.double({ min: -2, max: 2, noNaN: true })),
    { maxLength: 80 },
  );
  const walk = steps.map((list) => {
    let [afterMin, measurement] = [0, 15];
    return series(
      ...list.map(([gapMin, change]) => {
        afterMin += gapMin;
        measurement += change;
        return [afterMin, measurement] as const;
      }),
    );
  });

  it('never deviates by more than its tolerance, and keeps its ends', () => {
    fc.assert(
      fc.property(walk, fc.constantFrom(0, 0.05, 0.5, 3), (points, tolerance) => {
        const thin = thinSeries(points, tolerance);
        expect(thin.length).toBeLessThanOrEqual(points.length);
        expect([thin[0], thin.at(-1)]).toEqual([points[0], points.at(-1)]);
        for (const point of points) {
          const off = Math.abs(Number(measurementAt(thin, point.at)) - point.measurement);
          expect(off).toBeLessThanOrEqual(tolerance + 1e-9);
        }
      }),
      RUN,
    );
  });

  it.each([1, -1])('never deviates by more along a slow bend in the direction of %d', (side) => {
    const bend = series(
      ...Array.from({ length: 60 }, (_, index) => [index, side * (index / 20) ** 2] as const),
    );
    const thin = thinSeries(bend, 0.5);
    expect(thin.length).toBeLessThan(10);
    for (const point of bend) {
      expect(Math.abs(Number(measurementAt(thin, point.at)) - point.measurement)).toBeLessThanOrEqual(0.5);
    }
  });

  it('holds only points that were told', () => {
    fc.assert(
      fc.property(walk, (points) => {
        for (const point of thinSeries(points, 0.5)) expect(points).toContain(point);
      }),
      RUN,
    );
  });

  it('is two points where the air changes straight, a second at a time', () => {
    const seconds = Array.from({ length: 3600 }, (_, index) => [index / 60, 10 + index / 3600] as const);
    expect(thinSeries(series(...seconds), 0.01)).toHaveLength(2);
  });

  it('keeps a door that was opened', () => {
    const door = series([0, 18], [1, 18], [2, 18], [3, 9], [4, 9], [5, 9]);
    expect(rows(thinSeries(door, 0.05))).toEqual([
      [0, 18],
      [2, 18],
      [3, 9],
      [5, 9],
    ]);
  });

  it('is the same where there is little to thin', () => {
    expect(thinSeries([], 1)).toEqual([]);
    expect(rows(thinSeries(series([0, 1]), 1))).toEqual([[0, 1]]);
    expect(rows(thinSeries(series([0, 1], [5, 9]), 1))).toEqual([
      [0, 1],
      [5, 9],
    ]);
  });
});
