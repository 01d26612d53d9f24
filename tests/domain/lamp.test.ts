// The flux of a lamp: as measured, straight between two distances, unknown outside them.
import { describe, expect, it } from 'vitest';
import { lampFluxAt } from '../../server/domain/lamp.ts';
import { LAMP } from '../support/domainFixtures.ts';

describe('the flux of a lamp', () => {
  it.each([
    [null, 900],
    [60, 900],
    [70, 750],
    [80, 600],
    [90, 525],
    [120, 300],
    [59, null],
    [121, null],
    [0, null],
  ])('at %s cm is %s W/m²', (distanceCm, fluxWPerM2) => {
    expect(lampFluxAt(LAMP, distanceCm)).toBe(fluxWPerM2);
  });

  it('is known at its one distance only when there is one', () => {
    const lamp = { ...LAMP, distances: [{ distanceCm: 80, fluxWPerM2: 600 }] };
    expect([null, 80, 79, 81].map((distanceCm) => lampFluxAt(lamp, distanceCm))).toEqual([
      600,
      600,
      null,
      null,
    ]);
  });

  it('is unknown while none was measured', () => {
    const lamp = { ...LAMP, distances: [] };
    expect([null, 80].map((distanceCm) => lampFluxAt(lamp, distanceCm))).toEqual([null, null]);
  });
});
