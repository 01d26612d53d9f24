// Minutes and instants: there and back without loss.
import { describe, expect, it } from 'vitest';
import { instantAfter, instantAfterOrNull, minutesBetween } from '../../server/domain/minutes.ts';
import { MIXED_AT } from '../support/domainFixtures.ts';

describe('minutes', () => {
  it.each([
    [0, 0],
    [1, 60_000],
    [-1.5, -90_000],
    [0.000_01, 1],
    [0.000_005, 0],
  ])('%d after an instant are a whole number of milliseconds: %d', (durationMin, ms) => {
    expect(instantAfter(MIXED_AT, durationMin) - MIXED_AT).toBe(ms);
    expect(instantAfterOrNull(MIXED_AT, durationMin)).toBe(MIXED_AT + ms);
  });

  it('between two instants have a sign', () => {
    const laterAt = instantAfter(MIXED_AT, 7.25);
    expect([minutesBetween(MIXED_AT, laterAt), minutesBetween(laterAt, MIXED_AT)]).toEqual([7.25, -7.25]);
  });

  it('that are unknown lead to no instant', () => {
    expect(instantAfterOrNull(MIXED_AT, null)).toBeNull();
  });
});
