// When a sensor is stuck: not for a quiet room's hour, but after hours to the bit; and believed again at its first change.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  breaksRuns,
  extendRuns,
  isFlat,
  NO_RUNS,
  type SensorRuns,
  type SensorWord,
} from '../../server/domain/sensorRuns.ts';
import { minute } from '../support/domainFixtures.ts';

type Said = Pick<SensorWord, 'airTemperatureC' | 'relativeHumidityPct'>;

const STILL: Said = { airTemperatureC: 20, relativeHumidityPct: 50 };
const DRY: Said = { airTemperatureC: 20 };

const word = (atMin: number, said: Said): SensorWord => ({ at: minute(atMin), ...said });
const remember = (words: readonly SensorWord[], runs: SensorRuns = NO_RUNS): SensorRuns =>
  words.reduce(extendRuns, runs);

/** Words each so many minutes, from minute 0 on, both ends included. */
const every = (
  stepMin: number,
  untilMin: number,
  said: (atMin: number) => Said = () => STILL,
): SensorWord[] =>
  Array.from({ length: untilMin / stepMin + 1 }, (_, index) => word(index * stepMin, said(index * stepMin)));

/** At which minutes a sensor is held to be stuck, as first and last; null for never. */
function stuckMinutes(words: readonly SensorWord[]): readonly [number, number] | null {
  let runs = NO_RUNS;
  const flat: number[] = [];
  for (const one of words) {
    runs = extendRuns(runs, one);
    if (isFlat(runs, one)) flat.push((one.at - minute(0)) / 60_000);
  }
  return flat.length === 0 ? null : [Math.min(...flat), Math.max(...flat)];
}

describe('a sensor', () => {
  // QC-3 (WMO guidelines on quality control for automatic stations 2004, 2nd): within 60 min air must vary by 0.1 K and
  // humidity by 1 %. "Indoors a quiet room can break it legally": the rows say where we differ.
  it.each([
    ['told 20 °C each ten minutes for an hour (QC-3 would doubt it)', every(10, 60, () => DRY), null],
    ['in a quiet room for just under three hours', every(10, 170), null],
    ['that says the same for three hours and more', every(5, 240), [180, 240]],
    ['that says so each second minute', every(2, 200), [180, 200]],
    ['that says so too rarely to be sure', every(20, 360), null],
    ['that says so rarely, once it has said it often enough', every(20, 400), [380, 400]],
    ['without humidity, before six hours', every(10, 350, () => DRY), null],
    ['without humidity, from six hours on', every(10, 400, () => DRY), [360, 400]],
    [
      'whose humidity still moves',
      every(5, 720, (atMin) => ({ ...STILL, relativeHumidityPct: 50 + (atMin % 2) / 10 })),
      null,
    ],
    [
      'whose air still moves',
      every(5, 720, (atMin) => ({ ...STILL, airTemperatureC: 20 + (atMin % 2) / 10 })),
      null,
    ],
    ['that tells humidity alone', every(5, 720, () => ({ relativeHumidityPct: 50 })), null],
    ['whose humidity fell silent long ago', [...every(5, 60), ...every(5, 300, () => DRY).slice(13)], null],
    [
      'whose humidity fell silent six hours ago',
      [...every(5, 60), ...every(5, 600, () => DRY).slice(13)],
      [360, 600],
    ],
    [
      'that was silent for more than an hour in between',
      [...every(5, 120), ...every(5, 360).slice(37)],
      null,
    ],
    [
      'that moved by a hair after two hours',
      every(5, 280, (atMin) => ({ ...STILL, airTemperatureC: atMin < 120 ? 20 : 20.01 })),
      null,
    ],
  ] as const)('%s is stuck or not', (_, words, minutes) => {
    expect(stuckMinutes(words)).toEqual(minutes);
  });

  const stuck = remember(every(5, 240));

  it('is believed again at its first change, in either quantity', () => {
    for (const change of [{ airTemperatureC: 20.1 }, { relativeHumidityPct: 51 }]) {
      const changed = word(245, { ...STILL, ...change });
      expect(isFlat(remember([changed], stuck), changed)).toBe(false);
      const next = word(250, { ...STILL, ...change });
      expect(isFlat(remember([changed, next], stuck), next)).toBe(false);
    }
  });

  it('is doubted for late words of the same only where it was doubted then', () => {
    const late = (atMin: number, said = STILL): boolean =>
      isFlat(extendRuns(stuck, word(atMin, said)), word(atMin, said));
    expect([late(100), late(179), late(201), late(240)]).toEqual([false, false, true, true]);
    expect(late(201, { airTemperatureC: 19 })).toBe(false);
    expect(extendRuns(stuck, word(201, { airTemperatureC: 19 }))).toEqual(stuck);
  });

  it('has its run broken by another value in between, not by one at its end or by one that agrees', () => {
    const breaks = (atMin: number, said: Said): boolean => breaksRuns(stuck, word(atMin, said));
    expect(breaks(201, { airTemperatureC: 19 })).toBe(true);
    expect(breaks(201, { relativeHumidityPct: 49 })).toBe(true);
    expect(breaks(201, STILL)).toBe(false);
    expect(breaks(240, { airTemperatureC: 19 })).toBe(false);
    expect(breaks(245, { airTemperatureC: 19 })).toBe(false);
    expect(breaksRuns(NO_RUNS, word(0, STILL))).toBe(false);
  });

  it('says nothing of its air by its panel alone', () => {
    expect(extendRuns(stuck, word(245, {}))).toBe(stuck);
    expect(isFlat(stuck, word(245, {}))).toBe(false);
  });
});

describe('whatever a sensor says', () => {
  const words = fc
    .array(
      fc.tuple(
        fc.integer({ min: 1, max: 30 }),
        fc.constantFrom(20, 20, 20, 20.1),
        fc.constantFrom(50, 50, 50, undefined),
      ),
      {
        maxLength: 120,
      },
    )
    .map((list) => {
      let atMin = 0;
      return list.map(([gapMin, airTemperatureC, relativeHumidityPct]) => {
        atMin += gapMin;
        return word(atMin, { airTemperatureC, relativeHumidityPct });
      });
    });

  it('a repeated word changes nothing', () => {
    fc.assert(
      fc.property(words, (list) => {
        const runs = remember(list);
        expect(remember(list.slice(-3), runs)).toEqual(runs);
      }),
      { seed: 20_260_112, numRuns: 200 },
    );
  });

  it('a change of air is never doubted', () => {
    fc.assert(
      fc.property(words, fc.constantFrom(60, 200, 500), (list, calmMin) => {
        const lastMin = list.length === 0 ? 0 : ((list.at(-1) as SensorWord).at - minute(0)) / 60_000;
        const calm = every(5, calmMin).map(({ at, ...said }) =>
          word((at - minute(0)) / 60_000 + lastMin + 5, said),
        );
        const changed = word(lastMin + calmMin + 10, { airTemperatureC: 21 });
        expect(isFlat(remember([...list, ...calm, changed]), changed)).toBe(false);
      }),
      { seed: 20_260_112, numRuns: 200 },
    );
  });
});
