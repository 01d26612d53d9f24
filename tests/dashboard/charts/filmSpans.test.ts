// A panel's film as spans on the axis, in every stage.
import { describe, expect, it } from 'vitest';
import { filmSpansOf, type FilmSpan, windowOf } from '../../../dashboard/charts/filmSpans.ts';
import type { BatchWire } from '../../../server/contract/index.ts';
import { makeBatch, makeEstimate, minutesIn, MIXED_AT } from '../fixtures.ts';

const NO_REST = { doneAt: null, workMin: null };

/** "kicked 6.2–13.8": minutes after mixing. */
function told(spans: readonly FilmSpan[]): string[] {
  const minute = (instantAt: number): string => String(Math.round((instantAt - MIXED_AT) / 6000) / 10);
  return spans.map(
    ({ kind, fromAt, untilAt }) => `${kind} ${minute(fromAt)}–${untilAt === null ? 'now' : minute(untilAt)}`,
  );
}

const spansOf = (changes: Partial<BatchWire>): string[] => told(filmSpansOf(makeBatch(changes), NO_REST));

describe('a curing film', () => {
  // P10 20, P50 25: the band begins to rise at 25 − 5 · 2.3/1.2816 = 16.
  it('is wet until it kicks, kicked until its window begins, and thins out over the window', () => {
    const wanted = ['wet 0–6.2', 'kicked 6.2–16', 'thinning 16–33'];
    expect(spansOf({})).toEqual(wanted);
    expect(spansOf({ stage: 'kicked' })).toEqual(wanted);
  });

  it('is what it is until now where no time is known', () => {
    expect(spansOf({ estimate: null })).toEqual(['wet 0–now']);
    expect(spansOf({ stage: 'kicked', estimate: null })).toEqual(['kicked 0–now']);
    const test = { p10At: null, p50At: null, p90At: null };
    expect(spansOf({ stage: 'kicked', estimate: makeEstimate({ test, testFromAt: null }) })).toEqual([
      'wet 0–6.2',
      'kicked 6.2–now',
    ]);
  });

  it('never thins out before it has kicked', () => {
    const estimate = makeEstimate({ kickedAt: minutesIn(40) });
    expect(spansOf({ stage: 'kicked', estimate })).toEqual(['wet 0–40', 'kicked 40–40', 'thinning 40–40']);
  });
});

describe('a film that was called', () => {
  it('waits for its test until now', () => {
    expect(spansOf({ stage: 'test' })).toEqual(['wet 0–6.2', 'kicked 6.2–30', 'test 30–now']);
  });

  it('has been tested once it is sanded, and was never called where the test came before', () => {
    expect(spansOf({ stage: 'sanding', sandingAt: minutesIn(34) })).toEqual([
      'wet 0–6.2',
      'kicked 6.2–34',
      'test 30–34',
      'sanding 34–now',
    ]);
    expect(spansOf({ stage: 'sanding', sandingAt: minutesIn(22) })).toEqual([
      'wet 0–6.2',
      'kicked 6.2–22',
      'sanding 22–now',
    ]);
  });
});

describe('what else is on the axis', () => {
  it('is the lamp, and the work that remains, split where the promise is passed', () => {
    const lamps = [
      { lampId: 'l', fromAt: minutesIn(3), untilAt: minutesIn(13), distanceCm: 90, fluxWPerM2: 500 },
    ];
    expect(spansOf({ lamps }).at(-1)).toBe('lamp 3–13');
    const rest = { doneAt: MIXED_AT + 85 * 60_000, workMin: 60 };
    const restOf = (promisedAt: string | null): string[] =>
      told(filmSpansOf(makeBatch({ promisedAt }), rest)).slice(3);
    expect(restOf(null)).toEqual(['rest 25–85']);
    expect(restOf(minutesIn(90))).toEqual(['rest 25–85']);
    expect(restOf(minutesIn(70))).toEqual(['rest 25–70', 'late 70–85']);
    expect(restOf(minutesIn(10))).toEqual(['rest 25–25', 'late 25–85']);
    expect(told(filmSpansOf(makeBatch(), { ...rest, workMin: 0 }))).toHaveLength(3);
  });

  it('is the window, whose own axis does not move with the clock; none without times', () => {
    expect(windowOf(makeBatch())).toMatchObject({ mixedAt: MIXED_AT, nowAt: MIXED_AT });
    expect(windowOf(makeBatch({ estimate: null }))).toBeNull();
  });
});
