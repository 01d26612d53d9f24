// What practice asks of readings, and what a format says of them: where we follow, and where a shop is no weather station.
import { describe, expect, it } from 'vitest';
import {
  type Instant,
  instantFromIso,
  LIMITS,
  parseReadings,
  resolveSenml,
} from '../../server/contract/index.ts';
import { judgeReading, type ReadingVerdict } from '../../server/domain/judgeReading.ts';
import { extendRuns, isFlat, NO_RUNS, type SensorWord } from '../../server/domain/sensorRuns.ts';
import vectors from '../fixtures/senml/senml-vectors.json' with { type: 'json' };

const NOW_AT = instantFromIso('2026-01-12T07:00:00Z') as Instant;
const NOW_S = NOW_AT / 1000;
const later = (byMin: number): Instant => (NOW_AT + byMin * 60_000) as Instant;

/** A message of one sensor as the program takes it: the readings, or null when it is refused. */
function take(message: unknown): readonly object[] | null {
  const parsed = parseReadings(message, { format: 'any', topicSensorId: 'bay-1-air', nowAt: NOW_AT });
  return parsed.kind === 'parsed' ? parsed.value : null;
}

function judgeStep(changeK: number): ReadingVerdict {
  const step = { changeK, beforeAt: later(-1) };
  return judgeReading({ at: NOW_AT, nowAt: NOW_AT, isSensorKnown: true, isFlat: false, step });
}

describe('quality of readings', () => {
  // QC-1: Zahumenský, WMO guidelines on quality control for automatic stations 2004 (2nd): −80 … +60 °C, 0 … 100 %.
  it('takes no air that a weather station would refuse, and no humidity below 0 (QC-1)', () => {
    expect(LIMITS.airTemperatureC.min).toBeGreaterThanOrEqual(-80);
    expect(LIMITS.airTemperatureC.max).toBeLessThanOrEqual(60);
    expect([60, 60.01, -80.01, -40.01].map((airTemperatureC) => take({ airTemperatureC }) !== null)).toEqual([
      true,
      false,
      false,
      false,
    ]);
    expect([0, -0.01].map((relativeHumidityPct) => take({ relativeHumidityPct }) !== null)).toEqual([
      true,
      false,
    ]);
  });

  // QC-2: the same guidelines (T 3 K 2nd, the rest from memory): outdoors air does not move by 3 K from one minute to the
  // next. A shop's door on a frosty morning does that at each car, so the design doubts a step from 12 K on only.
  it('believes the door that a weather station would doubt, not the jump that no door makes (QC-2)', () => {
    expect([3, 3.1, -3.1, -9].map((changeK) => judgeStep(changeK).trust)).toEqual(Array(4).fill('good'));
    expect([12.1, -12.1].map((changeK) => judgeStep(changeK).trust)).toEqual(Array(2).fill('suspect'));
  });

  // QC-3: the same guidelines (2nd): within 60 min at least 0.1 K and 1 %. A quiet room breaks that, so it takes longer
  // here, and what is doubted is marked, not thrown away.
  it('lets a quiet room say the same for an hour, and marks who says so for hours (QC-3)', () => {
    const words = Array.from({ length: 49 }, (_, index): SensorWord => ({
      at: later(5 * index),
      airTemperatureC: 20,
      relativeHumidityPct: 50,
    }));
    let runs = NO_RUNS;
    const flatMins = words.flatMap((word, index) => {
      runs = extendRuns(runs, word);
      return isFlat(runs, word) ? [5 * index] : [];
    });
    expect(flatMins[0]).toBe(180);
    expect(flatMins.at(-1)).toBe(240);
    const verdict = judgeReading({
      at: NOW_AT,
      nowAt: NOW_AT,
      isSensorKnown: true,
      isFlat: true,
      step: null,
    });
    expect(verdict).toEqual({ trust: 'suspect', reason: 'flat' });
  });

  // QC-5: WMO CBS ET-AWS-1 Doc. 9(2), 2002 (seen): one service accepts up to 104 % and sets it to 100.
  it.each([
    [99.9, 99.9],
    [100, 100],
    [100.1, 100],
    [104, 100],
    [104.1, null],
  ])('takes %f %% of humidity as %s (QC-5)', (relativeHumidityPct, taken) => {
    expect(take({ relativeHumidityPct })).toEqual(
      taken === null ? null : [expect.objectContaining({ relativeHumidityPct: taken })],
    );
  });
});

describe('the format of sensors (RFC 8428, seen)', () => {
  /** Resolved records without their place in the pack; null when the pack is refused. */
  const resolve = (pack: readonly object[]): object[] | null => {
    const parsed = resolveSenml(pack, NOW_S);
    if (parsed.kind === 'rejected') return null;
    return parsed.value.map(({ index: _index, baseName: _baseName, ...record }) => record);
  };

  // SML-1: §4.5 and 4.6.
  it('lets base fields hold from their record on, and counts missing parts as nothing (SML-1)', () => {
    const t = 1_700_000_000;
    expect(
      resolve([
        { n: 'a', u: 'Cel', v: 1, t },
        { bn: 'x:', bt: t, bu: '%RH', bv: 10, bs: 5, n: 'b', v: 2, t: 3 },
        { n: 'c', u: 'Cel', v: 4, s: 1, t: 4 },
        { n: 'd', t: 5, s: 2 },
        { bn: 'y:', n: 'e', v: 0, t: 6 },
      ]),
    ).toEqual([
      { n: 'a', u: 'Cel', v: 1, t },
      { n: 'x:b', u: '%RH', v: 12, s: 5, t: t + 3 },
      { n: 'x:c', u: 'Cel', v: 14, s: 6, t: t + 4 },
      { n: 'x:d', u: '%RH', s: 7, t: t + 5 },
      { n: 'y:e', u: '%RH', v: 10, s: 5, t: t + 6 },
    ]);
  });

  // SML-2: §4.5.3.
  it('counts from now below 2^28 seconds, from 1970 above (SML-2)', () => {
    const timeOf = (t: number): unknown => resolve([{ n: 'a', v: 1, t }])?.[0];
    expect(timeOf(-5)).toMatchObject({ t: NOW_S - 5 });
    expect(timeOf(268_435_455)).toMatchObject({ t: NOW_S + 268_435_455 });
    expect(timeOf(268_435_456)).toMatchObject({ t: 268_435_456 });
    expect(new Date(268_435_456_000).toISOString()).toBe('1978-07-04T21:24:16.000Z');
  });

  // SML-3: §4.6.
  it('gives records by time, without base fields or times from now (SML-3)', () => {
    const records = resolve([
      { bn: 'x:', bt: -60, n: 'a', v: 1, t: 30 },
      { n: 'b', v: 2, t: -30 },
      { n: 'c', v: 3, t: 1_600_000_060 },
    ]);
    expect(records).toEqual([
      { n: 'x:c', v: 3, t: 1_600_000_000 },
      { n: 'x:b', v: 2, t: NOW_S - 90 },
      { n: 'x:a', v: 1, t: NOW_S - 30 },
    ]);
  });

  // SML-4: §4.3 to 4.5; the version 10 from memory.
  it.each([
    ['version 10', { bver: 10, n: 'a', v: 1 }, true],
    ['version 11', { bver: 11, n: 'a', v: 1 }, false],
    ['an unknown label that must be known', { n: 'a', v: 1, hue_: 1 }, false],
    ['an unknown label', { n: 'a', v: 1, hue: 1 }, true],
    ['two values', { n: 'a', v: 1, vs: 'x' }, false],
    ['no value', { n: 'a' }, false],
    ['a sum alone', { n: 'a', s: 1 }, true],
    ['every character of a name', { n: '0aZ-:./_', v: 1 }, true],
    ['a name that begins with no letter or digit', { n: '_a', v: 1 }, false],
    ['another character in its name', { n: 'a b', v: 1 }, false],
    ['no name', { v: 1 }, false],
  ] as const)('decides on %s (SML-4)', (_, record, isTaken) => {
    expect(resolve([record]) !== null).toBe(isTaken);
  });

  // SML-5: IANA's list of units; the vectors themselves are run by tests/contract/senml.test.ts.
  it('knows two units by their registered names, and 23 vectors stand by (SML-5)', () => {
    expect(
      take([
        { bn: 'x:', n: 'temperature', u: 'Cel', v: 21 },
        { n: 'humidity', u: '%RH', v: 40 },
        { n: 'battery', u: 'V', v: 3 },
      ]),
    ).toMatchObject([{ airTemperatureC: 21 }, { relativeHumidityPct: 40 }]);
    expect(take([{ n: 'temperature', u: 'C', v: 21 }])).toBeNull();
    const idsOf = (start: string): number => vectors.vectors.filter(({ id }) => id.startsWith(start)).length;
    expect(['rfc-', 'own-', 'err-'].map(idsOf)).toEqual([8, 8, 7]);
  });
});
