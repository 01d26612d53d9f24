// The night on which the clocks change: countdowns are differences of instants and know nothing of it, clock labels do,
// and neither language nor units touch any of them.
import { describe, expect, it } from 'vitest';
import { formatClock, formatClockSpan, formatDayClock, type Place } from '../../../dashboard/format/clock.ts';
import { formatCountdown, formatCountdownText } from '../../../dashboard/format/countdown.ts';
import { phaseOf } from '../../../dashboard/format/phase.ts';
import { METRIC, US_CUSTOMARY } from '../../../dashboard/format/units.ts';
import { wordsEn } from '../../../dashboard/format/wholeWords.en.ts';
import { wordsEs } from '../../../dashboard/format/words.es.ts';
import { makeBatch, makeEstimate } from '../fixtures.ts';

// The instants of the change, from memory: Directive 2000/84/EC (01:00 UTC on the last Sundays of March and October)
// and 15 U.S.C. 260a (02:00 local on the second Sunday of March and the first of November).
const CHANGES = [
  { zone: 'Europe/Berlin', at: '2026-03-29T01:00:00Z', before: '01:50', after: '03:10' },
  { zone: 'Europe/Berlin', at: '2026-10-25T01:00:00Z', before: '02:50', after: '02:10' },
  { zone: 'America/Chicago', at: '2026-03-08T08:00:00Z', before: '01:50', after: '03:10' },
  { zone: 'America/Chicago', at: '2026-11-01T07:00:00Z', before: '01:50', after: '01:10' },
] as const;
const MS_PER_MIN = 60_000;

function placeIn(timeZone: string, changes: Partial<Place> = {}): Place {
  return { locale: 'en-GB', timeZone, units: METRIC, ...changes };
}

/** A batch mixed 20 minutes before the change, to be tested 20 minutes after it. */
function batchOver(changeAt: number) {
  const at = (min: number): string => new Date(changeAt + min * MS_PER_MIN).toISOString();
  return makeBatch({
    stage: 'kicked',
    mixedAt: at(-20),
    estimate: makeEstimate({
      testFromAt: at(20),
      test: { p10At: at(10), p50At: at(15), p90At: at(25) },
      spreadUntilAt: at(-14),
    }),
  });
}

describe.each(CHANGES)('in $zone, when the clocks change at $at,', ({ zone, at, before, after }) => {
  const changeAt = Date.parse(at);
  const batch = batchOver(changeAt);
  const textAt = (min: number, words = wordsEn) =>
    formatCountdownText(phaseOf(batch, changeAt + min * MS_PER_MIN), words);

  it('the countdown goes on minute by minute', () => {
    expect([-10, -1, 0, 1, 10, 19.5].map((min) => textAt(min))).toEqual([
      'test in 30 min',
      'test in 21 min',
      'test in 20 min',
      'test in 19 min',
      'test in 10 min',
      'test in 1 min',
    ]);
  });

  it('the clock labels are those on the wall, on both sides', () => {
    const place = placeIn(zone);
    expect(formatClock(changeAt - 10 * MS_PER_MIN, place)).toBe(before);
    expect(formatClock(changeAt + 10 * MS_PER_MIN, place)).toBe(after);
    const span = { fromAt: changeAt - 10 * MS_PER_MIN, untilAt: changeAt + 10 * MS_PER_MIN };
    expect(formatClockSpan(span, place)).toBe(`${before}–${after}`);
  });

  it('no language and no unit changes a figure of the countdown, or a minute of the clock', () => {
    for (let min = -20; min <= 40; min += 0.5) {
      const phase = phaseOf(batch, changeAt + min * MS_PER_MIN);
      const [inEnglish, inSpanish] = [formatCountdown(phase, wordsEn), formatCountdown(phase, wordsEs)];
      if (phase.kind === 'testIn') expect(inSpanish.figure).toBe(inEnglish.figure);
      const clocks = ['en-GB', 'en-US', 'es-419', 'es-ES', 'es-MX'].flatMap((locale) =>
        [METRIC, US_CUSTOMARY].map((units) =>
          formatClock(changeAt + min * MS_PER_MIN, placeIn(zone, { locale, units })),
        ),
      );
      expect(new Set(clocks).size).toBe(1);
    }
    expect([textAt(10), textAt(10, wordsEs)]).toEqual(['test in 10 min', 'probar en 10 min']);
  });
});

describe('a day and time', () => {
  it('is written as its language does', () => {
    const at = Date.parse('2026-01-12T13:05:00Z');
    const text = (locale: string): string => formatDayClock(at, placeIn('America/Chicago', { locale }));
    expect([text('en-GB'), text('en-US'), text('es-MX')]).toEqual([
      '12 Jan 07:05',
      'Jan 12 07:05',
      '12 ene 07:05',
    ]);
  });
});
