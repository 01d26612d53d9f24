// The length of a bead as it is measured: halves of a centimetre, millimetres where it is short, inches where they are read.
import { describe, expect, it } from 'vitest';
import { formatBead } from '../../../dashboard/format/mixAmount.ts';
import { METRIC, US_CUSTOMARY } from '../../../dashboard/format/units.ts';

describe('a bead', () => {
  it.each([
    [1.234, '1.2 cm', '0.5 in'],
    [2.96, '3 cm', '1.2 in'],
    [5.14, '5 cm', '2.0 in'],
    [5.3, '5.5 cm', '2.1 in'],
    [40.1, '40 cm', '16 in'],
  ])('of %d cm reads %s, or %s', (lengthCm, metric, inches) => {
    expect(formatBead(lengthCm, { locale: 'en-GB', units: METRIC })).toBe(metric);
    expect(formatBead(lengthCm, { locale: 'en-US', units: US_CUSTOMARY })).toBe(inches);
  });

  it('has a comma where the reader writes one', () => {
    expect(formatBead(5.3, { locale: 'es-ES', units: METRIC })).toBe('5,5 cm');
  });
});
