// Which readings count: those of this shop, of this time, and possible after the one before.
import { describe, expect, it } from 'vitest';
import { judgeReading, type ReadingQuestion } from '../../server/domain/judgeReading.ts';
import { minute } from '../support/domainFixtures.ts';

const NOW_MIN = 5000;

/** A reading of a known sensor now, without one before it, and what is given in place of that. */
function judge({
  ageMin = 0,
  ...parts
}: Partial<Omit<ReadingQuestion, 'at' | 'nowAt'>> & { ageMin?: number }): string {
  const { trust, reason } = judgeReading({
    at: minute(NOW_MIN - ageMin),
    nowAt: minute(NOW_MIN),
    isSensorKnown: true,
    step: null,
    isFlat: false,
    ...parts,
  });
  return reason === null ? trust : `${trust}: ${reason}`;
}

const step = (changeK: number, beforeMin: number) => ({ changeK, beforeAt: minute(NOW_MIN - beforeMin) });

describe('a reading', () => {
  it.each([
    ['of now', {}, 'good'],
    ['of an unknown sensor', { isSensorKnown: false }, 'aside: unknown-sensor'],
    ['of an unknown sensor from the future', { isSensorKnown: false, ageMin: -99 }, 'aside: unknown-sensor'],
    ['a minute ahead of the clock', { ageMin: -1 }, 'good'],
    ['more than a minute ahead', { ageMin: -1.001 }, 'aside: future'],
    ['a day old', { ageMin: 1440 }, 'good'],
    ['more than a day old', { ageMin: 1440.001 }, 'aside: late'],
    ['9 K colder within a minute, as when a door opens', { step: step(-9, 0.5) }, 'good'],
    ['12 K away within a minute', { step: step(12, 1) }, 'good'],
    ['more than 12 K warmer within a minute', { step: step(12.001, 1) }, 'suspect: step'],
    ['more than 12 K colder within a minute', { step: step(-12.001, 0.5) }, 'suspect: step'],
    ['more than 12 K away at the same instant', { step: step(-40, 0) }, 'suspect: step'],
    ['more than 12 K away after more than a minute', { step: step(40, 1.001) }, 'good'],
    ['more than 12 K away and told before the one it is compared with', { step: step(40, -1) }, 'good'],
    // QC-2 and QC-5 (WMO guidelines 2004, 2nd; WMO CBS 2002, seen) doubt 3 K from minute to minute: a door is more.
    ['3.1 K colder within a minute', { step: step(-3.1, 1) }, 'good'],
    // QC-4 (WMO 1993, 2nd) doubts 4 K within an hour: a shop's heater is more.
    ['6 K warmer within an hour', { step: step(6, 60) }, 'good'],
    ['of a sensor that is stuck', { isFlat: true }, 'suspect: flat'],
    ['impossible, of a sensor that was stuck', { isFlat: true, step: step(40, 1) }, 'suspect: step'],
    ['of a stuck sensor and late', { isFlat: true, ageMin: 1441 }, 'aside: late'],
    ['impossible and late', { ageMin: 1441, step: step(40, 1441) }, 'aside: late'],
  ] as const)('%s is judged as it is', (_, parts, verdict) => {
    expect(judge(parts)).toBe(verdict);
  });
});
