// The words and times of a window bar: never on each other, never out of the box, always touching their own mark.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  labelWidthFraction,
  NARROWEST_AXIS_PX,
  placeLabels,
  type PlacedLabel,
} from '../../../dashboard/charts/axisLabels.ts';
import { placeBandClocks, placeBandWords } from '../../../dashboard/charts/bandLabels.ts';
import { makeWindowBand, type WindowBand, type WindowTimes } from '../../../dashboard/charts/windowBand.ts';

const MIN_MS = 60_000;
const words = { build: 'build', edge: 'edge', now: 'now' };
const longWords = { build: 'grueso', edge: 'borde fino', now: 'ahora' };

const times: WindowTimes = {
  mixedAt: 0,
  p10At: 20 * MIN_MS,
  p50At: 25 * MIN_MS,
  p90At: 33 * MIN_MS,
  nowAt: 10 * MIN_MS,
  kickedAt: 6 * MIN_MS,
  buildAt: 20 * MIN_MS,
  edgeAt: 25 * MIN_MS,
};

function bandOf(changes: Partial<WindowTimes> = {}): WindowBand {
  const band = makeWindowBand({ ...times, ...changes });
  if (band === null) throw new Error('these times make a band');
  return band;
}

function clocksOf(changes: Partial<WindowTimes> = {}): string[] {
  const all = { ...times, ...changes };
  return placeBandClocks(bandOf(changes), clockTextsOf(all)).map(({ text }) => text);
}

function clockTextsOf({ mixedAt, p10At, p50At, p90At }: WindowTimes) {
  const clock = (instantAt: number): string => new Date(instantAt).toISOString().slice(11, 16);
  const [p10, p90] = [clock(p10At), clock(p90At)];
  return { mixed: clock(mixedAt), p10, p50: clock(p50At), p90, span: p10 === p90 ? p10 : `${p10}–${p90}` };
}

/** Where a label's text and gap begin and end on an axis some times as wide as the narrowest one. */
function extentOf({ text, fraction, anchorFraction }: PlacedLabel<string>, widerBy: number) {
  const widthFraction = labelWidthFraction(text) / widerBy;
  const fromFraction = fraction - anchorFraction * widthFraction;
  return { fromFraction, untilFraction: fromFraction + widthFraction };
}

function expectTidy(labels: readonly PlacedLabel<string>[], widerBy: number): void {
  const rounding = 1e-7;
  const extents = labels.map((label) => extentOf(label, widerBy));
  extents.forEach(({ fromFraction, untilFraction }, index) => {
    expect(fromFraction).toBeGreaterThanOrEqual(-rounding);
    expect(untilFraction).toBeLessThanOrEqual(1 + rounding);
    expect(fromFraction).toBeGreaterThanOrEqual((extents[index - 1]?.untilFraction ?? 0) - rounding);
  });
}

/** Any window: from seconds to hours wide, near to mixing or far from it, now before, in or behind it. */
const anyTimes = fc
  .record({
    p10Min: fc.double({ min: 0, max: 300, noNaN: true }),
    belowMin: fc.oneof(
      fc.double({ min: 0, max: 3, noNaN: true }),
      fc.double({ min: 0, max: 200, noNaN: true }),
    ),
    aboveMin: fc.oneof(
      fc.double({ min: 0, max: 3, noNaN: true }),
      fc.double({ min: 0, max: 200, noNaN: true }),
    ),
    nowMin: fc.double({ min: 0, max: 900, noNaN: true }),
    parts: fc.option(
      fc.record({
        buildMin: fc.double({ min: 0, max: 500, noNaN: true }),
        edgeMin: fc.double({ min: 0, max: 500, noNaN: true }),
      }),
    ),
  })
  .map(({ p10Min, belowMin, aboveMin, nowMin, parts }): WindowTimes => {
    const p50At = Math.round((p10Min + belowMin) * MIN_MS) + 1;
    return {
      mixedAt: 0,
      p10At: Math.round(p10Min * MIN_MS),
      p50At,
      p90At: p50At + Math.round(aboveMin * MIN_MS),
      nowAt: nowMin * MIN_MS,
      kickedAt: null,
      buildAt: parts === null ? null : parts.buildMin * MIN_MS,
      edgeAt: parts === null ? null : parts.edgeMin * MIN_MS,
    };
  });

describe('the labels of any window', () => {
  it('never meet and never leave the box, however narrow or wide the axis', () => {
    fc.assert(
      fc.property(anyTimes, fc.double({ min: 1, max: 4, noNaN: true }), (random, widerBy) => {
        const band = bandOf(random);
        expectTidy(placeBandClocks(band, clockTextsOf(random)), widerBy);
        expectTidy(placeBandWords(band, words), widerBy);
        expectTidy(placeBandWords(band, longWords), widerBy);
      }),
      { numRuns: 2000 },
    );
  });

  it('always tell when the window ends', () => {
    fc.assert(
      fc.property(anyTimes, (random) => {
        const names = placeBandClocks(bandOf(random), clockTextsOf(random)).map(({ name }) => name);
        expect(names.some((name) => name === 'p90' || name === 'span')).toBe(true);
      }),
    );
  });
});

describe('the clock times below the band', () => {
  it('are mixing, both ends and the middle where there is room', () => {
    expect(clocksOf({ p10At: 18 * MIN_MS, p50At: 28 * MIN_MS, p90At: 40 * MIN_MS })).toEqual([
      '00:00',
      '00:18',
      '00:28',
      '00:40',
    ]);
  });

  it('are mixing and both ends where the middle has no room', () => {
    expect(clocksOf({ p10At: 23 * MIN_MS })).toEqual(['00:00', '00:23', '00:33']);
  });

  it('join into one span for a window of two minutes', () => {
    const narrow = { p10At: 16 * MIN_MS, p50At: 17 * MIN_MS, p90At: 18 * MIN_MS };
    expect(clocksOf(narrow)).toEqual(['00:00', '00:16–00:18']);
  });

  it('are one time for a window within a minute', () => {
    const narrow = { p10At: 16 * MIN_MS, p50At: 16.2 * MIN_MS, p90At: 16.4 * MIN_MS };
    expect(clocksOf(narrow)).toEqual(['00:00', '00:16']);
  });

  it('leave out the beginning of a window that begins at mixing', () => {
    expect(clocksOf({ p10At: 0.5 * MIN_MS, p50At: 20 * MIN_MS })).toEqual(['00:00', '00:33']);
  });
});

describe('the words above the band', () => {
  const wordsOf = (changes: Partial<WindowTimes> = {}) => placeBandWords(bandOf(changes), words);

  it('stand apart when build and edge are close', () => {
    const [, build, edge] = wordsOf({ buildAt: 24 * MIN_MS });
    expect([build?.name, edge?.name]).toEqual(['build', 'edge']);
    expect(build?.anchorFraction).toBeGreaterThan(0.6);
    expect(edge?.anchorFraction).toBeLessThan(0.4);
  });

  it('leave out now where it has no room', () => {
    expect(wordsOf({ nowAt: 22 * MIN_MS, buildAt: 21.5 * MIN_MS }).map(({ name }) => name)).toEqual([
      'build',
      'edge',
    ]);
  });

  it('are only now where nothing is known of build and edge', () => {
    expect(wordsOf({ buildAt: null, edgeAt: null, nowAt: 0 })).toEqual([
      { name: 'now', text: 'now', fraction: 0, anchorFraction: 0 },
    ]);
  });
});

describe('labels that share a mark', () => {
  it('hang on it from both sides', () => {
    const marks = [
      { name: 'one', text: 'one', fraction: 0.5 },
      { name: 'other', text: 'other', fraction: 0.5 },
    ];
    const [one, other] = placeLabels(marks) ?? [];
    expect([one?.anchorFraction, other?.anchorFraction]).toEqual([1, 0]);
    expectTidy(placeLabels(marks) ?? [], 1);
  });

  it('have no place when one would be pushed off its mark', () => {
    const text = 'x'.repeat(Math.floor(NARROWEST_AXIS_PX / 32));
    const marks = ['a', 'b', 'c'].map((name) => ({ name, text, fraction: 1 }));
    expect(placeLabels(marks)).toBeNull();
  });
});
