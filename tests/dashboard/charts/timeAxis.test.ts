// The time axis: where things stand, how far the film is shifted, and that time passing moves nothing but the shift.
import { describe, expect, it } from 'vitest';
import {
  AHEAD_MIN,
  anchorOf,
  NOW_FRACTION,
  PAST_MIN,
  placeOf,
  shiftOf,
  ticksOf,
} from '../../../dashboard/charts/timeAxis.ts';

const NOON_AT = Date.parse('2026-01-12T12:00:00Z');
const MS_PER_MIN = 60_000;

describe('the axis', () => {
  it('shows half an hour behind and two hours ahead of now', () => {
    const nowAt = NOON_AT + 17 * MS_PER_MIN;
    const axis = { anchorAt: anchorOf(nowAt) };
    const shownAt = (instantAt: number): number => placeOf(instantAt, axis) - shiftOf(nowAt, axis);
    expect(shownAt(nowAt)).toBeCloseTo(NOW_FRACTION, 3);
    expect(shownAt(nowAt - PAST_MIN * MS_PER_MIN)).toBeCloseTo(0, 3);
    expect(shownAt(nowAt + AHEAD_MIN * MS_PER_MIN)).toBeCloseTo(1, 3);
    expect(PAST_MIN / (PAST_MIN + AHEAD_MIN)).toBe(0.2);
  });

  it('keeps every place for hours and moves the film in steps too small to see', () => {
    const laterAt = NOON_AT + 5 * 60 * MS_PER_MIN;
    expect(anchorOf(laterAt)).toBe(anchorOf(NOON_AT));
    const axis = { anchorAt: anchorOf(NOON_AT) };
    expect(shiftOf(NOON_AT + 1000, axis)).toBe(shiftOf(NOON_AT, axis));
    const stepMs = Array.from({ length: 60 }, (_, index) => index * 1000).find(
      (ms) => shiftOf(NOON_AT + ms, axis) !== shiftOf(NOON_AT, axis),
    );
    expect(stepMs).toBeLessThan(10_000);
  });

  it('stays within small numbers for a week without a new start of the page', () => {
    for (let day = 0; day < 7; day += 1) {
      const nowAt = NOON_AT + day * 24 * 60 * MS_PER_MIN;
      expect(Math.abs(shiftOf(nowAt, { anchorAt: anchorOf(nowAt) }))).toBeLessThan(3);
    }
  });
});

describe('the ticks', () => {
  it('stand at each quarter of an hour that is shown, and know the whole hours', () => {
    const nowAt = NOON_AT + 7 * MS_PER_MIN;
    const axis = { anchorAt: anchorOf(nowAt) };
    const ticks = ticksOf(nowAt, axis);
    expect(ticks[0]?.at).toBe(NOON_AT - 30 * MS_PER_MIN);
    expect(ticks.every(({ at }, index) => at === NOON_AT + (index * 15 - 30) * MS_PER_MIN)).toBe(true);
    expect(ticks.at(-1)?.at ?? 0).toBeGreaterThanOrEqual(nowAt + AHEAD_MIN * MS_PER_MIN);
    expect(ticks.filter(({ isHour }) => isHour).map(({ at }) => at)).toEqual([
      NOON_AT,
      NOON_AT + 60 * MS_PER_MIN,
      NOON_AT + 120 * MS_PER_MIN,
    ]);
  });
});
