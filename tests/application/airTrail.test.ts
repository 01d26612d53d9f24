// The trail of a bay's air against the plain way: all points sorted and merged at once.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeAirTrail } from '../../server/application/airTrail.ts';
import { type Instant, instantFromMs } from '../../server/contract/index.ts';
import { type AirPoint, mergeSensors, type SensorPoint } from '../../server/domain/airSeries.ts';
import { OPENS_AT } from '../support/testShop.ts';

const SEED = 20_261_126;
const SENSORS = ['a', 'b', 'c'];
const FIRST_AT = Math.ceil(OPENS_AT / 10_000) * 10_000;

function at(afterS: number): Instant {
  return instantFromMs(FIRST_AT + 1000 * afterS);
}

function point(afterS: number, measurement: number, sensorId = 'a'): SensorPoint {
  return { at: at(afterS), measurement, sensorId };
}

function trailOf(points: readonly SensorPoint[]): readonly AirPoint[] {
  const trail = makeAirTrail();
  for (const one of points) expect(trail.add(one)).toBe(true);
  return trail.seriesFrom(at(-1));
}

describe('the trail of a bay', () => {
  it('is what merging all at once gives, where sensors speak no oftener than a few times in ten seconds', () => {
    const pauses = fc.array(
      fc.record({ pauseS: fc.integer({ min: 4, max: 900 }), sensor: fc.nat(2), c: fc.nat(300) }),
      {
        minLength: 1,
        maxLength: 60,
      },
    );
    fc.assert(
      fc.property(pauses, (said) => {
        let afterS = 0;
        const points = said.map(({ pauseS, sensor, c }) =>
          point((afterS += pauseS), c / 10, SENSORS[sensor] as string),
        );
        const merged = mergeSensors(points);
        const trailed = trailOf(points);
        expect(trailed.map((one) => one.at)).toEqual(merged.map((one) => one.at));
        for (const [index, one] of trailed.entries())
          expect(one.measurement).toBeCloseTo((merged[index] as AirPoint).measurement, 9);
      }),
      { seed: SEED },
    );
  });

  it('does not depend on the order in which a minute of readings came', () => {
    const points = Array.from({ length: 40 }, (_, index) =>
      point(index * 1.3, 15 + (index % 7) / 10, SENSORS[index % 3]),
    );
    const shuffled = fc.shuffledSubarray(points, { minLength: points.length, maxLength: points.length });
    const expected = trailOf(points);
    fc.assert(
      fc.property(shuffled, (one) => {
        expect(trailOf(one)).toEqual(expected);
      }),
      { seed: SEED },
    );
  });

  it('turns down what is too late to be put in its place', () => {
    const trail = makeAirTrail();
    for (let afterS = 0; afterS < 300; afterS += 30) trail.add(point(afterS, 15));
    expect(trail.add(point(100, 15))).toBe(false);
    expect(trail.add(point(260, 15))).toBe(true);
  });

  it('holds a second-by-second bay as a point in ten seconds, each the mean of its seconds, and its last minute as it came', () => {
    const wave = (afterS: number): number => 15 + 3 * Math.sin(afterS / 300);
    const points = Array.from({ length: 3600 }, (_, afterS) => point(afterS, wave(afterS)));
    const series = trailOf(points);
    expect(series.length).toBeLessThan(3600 / 10 + 75);
    expect(series.at(-1)).toEqual({ at: at(3599), measurement: wave(3599) });
    // The mean of ten seconds of a sine lies within a²t²/24 of its middle (Taylor), here 3·(10/300)²/24 = 1.4e-4 K.
    for (const { at: meanAt, measurement } of series)
      expect(Math.abs(measurement - wave((meanAt - FIRST_AT) / 1000))).toBeLessThan(2e-4);
  });

  it('gives the last point before an instant and all after it, and lets go of what is older', () => {
    const trail = makeAirTrail();
    for (let afterS = 0; afterS < 600; afterS += 60) trail.add(point(afterS, afterS));
    expect(trail.seriesFrom(at(150)).map(({ measurement }) => measurement)).toEqual([
      120, 180, 240, 300, 360, 420, 480, 540,
    ]);
    trail.forgetBefore(at(250));
    expect(trail.seriesFrom(at(0))[0]).toEqual({ at: at(240), measurement: 240 });
  });
});
