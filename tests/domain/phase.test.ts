// Where time alone has brought a batch, and how probable it is that it can be tested.
import { describe, expect, it } from 'vitest';
import type { Instant } from '../../server/contract/index.ts';
import { kickedAtFrom, phaseAt, probabilityAt } from '../../server/domain/phase.ts';
import { BODY_FILLER, estimateOf, MIXED_AT, minute, NO_TIMES, stateOf } from '../support/domainFixtures.ts';

const state = stateOf();

describe('the phase', () => {
  const full = estimateOf();
  const stalled = estimateOf({ ...NO_TIMES, kickedAt: minute(9) });
  it.each([
    { how: 'as estimated', estimate: full, nowMin: 0, phase: 'wet' },
    { how: 'as estimated', estimate: full, nowMin: 5.999, phase: 'wet' },
    { how: 'as estimated', estimate: full, nowMin: 6, phase: 'kicked' },
    { how: 'as estimated', estimate: full, nowMin: 21.999, phase: 'kicked' },
    { how: 'as estimated', estimate: full, nowMin: 22, phase: 'test' },
    { how: 'as estimated', estimate: full, nowMin: 1000, phase: 'test' },
    { how: 'without an estimate', estimate: null, nowMin: 4.999, phase: 'wet' },
    { how: 'without an estimate', estimate: null, nowMin: 5, phase: 'kicked' },
    { how: 'without an estimate', estimate: null, nowMin: 1000, phase: 'kicked' },
    { how: 'without times', estimate: estimateOf(NO_TIMES), nowMin: 4.999, phase: 'wet' },
    { how: 'without times', estimate: estimateOf(NO_TIMES), nowMin: 5, phase: 'kicked' },
    { how: 'without a test time', estimate: stalled, nowMin: 8.999, phase: 'wet' },
    { how: 'without a test time', estimate: stalled, nowMin: 1000, phase: 'kicked' },
  ] as const)('$how at minute $nowMin is $phase', ({ estimate, nowMin, phase }) => {
    expect(phaseAt(state, { estimate, card: BODY_FILLER, nowAt: minute(nowMin) })).toBe(phase);
  });

  it('leaves wet at the estimated instant, else after the tin’s working time', () => {
    expect(kickedAtFrom(state, { estimate: full, card: BODY_FILLER })).toBe(minute(6));
    expect(kickedAtFrom(state, { estimate: null, card: BODY_FILLER })).toBe(minute(5));
  });
});

describe('the probability', () => {
  /** Absolute error of the formula, as its source states it. */
  const ERROR = 7.5e-8;
  const estimate = estimateOf();
  const at = (nowMin: number): number =>
    Number(probabilityAt(state, estimate, (MIXED_AT + nowMin * 60_000) as Instant));

  it.each([
    [16, 0.1],
    [20, 0.5],
    [25, 0.9],
  ])('at %d min, a quantile of the window, is its %d', (nowMin, probability) => {
    expect(Math.abs(at(nowMin) - probability)).toBeLessThan(ERROR);
  });

  // Abramowitz & Stegun, table 26.1: the normal probability function (from memory).
  it.each([
    [0.1, 0.539_827_837_3],
    [0.5, 0.691_462_461_3],
    [1, 0.841_344_746_1],
    [1.5, 0.933_192_798_7],
    [2, 0.977_249_868_1],
    [2.5, 0.993_790_334_7],
    [3, 0.998_650_102],
  ])(
    'at %d standard deviations of log time is the tabled value, on either side',
    (deviation, probability) => {
      const share = deviation / 1.281_551_565_544_600_4;
      expect(Math.abs(at(20 * (25 / 20) ** share) - probability)).toBeLessThan(ERROR);
      expect(Math.abs(at(20 * (16 / 20) ** share) - (1 - probability))).toBeLessThan(ERROR);
    },
  );

  it('rises from nothing at mixing to certainty', () => {
    expect([at(-1), at(0)]).toEqual([0, 0]);
    const values = Array.from({ length: 60 }, (_, index) => at(1 + index));
    expect(values).toEqual(values.toSorted((a, b) => a - b));
    expect(at(0.01)).toBeLessThan(1e-12);
    expect(at(10_000)).toBe(1);
  });

  it.each([
    ['there is no estimate', null],
    ['there is no P10', estimateOf({ p10At: null })],
    ['there is no P50', estimateOf({ p50At: null })],
    ['there is no P90', estimateOf({ p90At: null })],
  ])('is unknown while %s', (_, unknown) => {
    expect(probabilityAt(state, unknown, minute(20))).toBeNull();
  });

  it('is all or nothing where a film only cools and its window is one instant', () => {
    const cooling = estimateOf({ p10At: minute(48), p50At: minute(48), p90At: minute(48) });
    const values = [47.999, 48, 48.001].map((nowMin) => probabilityAt(state, cooling, minute(nowMin)));
    expect(values).toEqual([0, 1, 1]);
  });

  it('is a number even where the window begins at mixing', () => {
    const odd = estimateOf({ p10At: MIXED_AT });
    expect(probabilityAt(state, odd, minute(10))).toBeCloseTo(0.5, 2);
  });
});
