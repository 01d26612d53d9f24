// Units: conversions against their definitions, sentences in American units, typed values that come back as they were.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  formatBareDegrees,
  formatBareTemperature,
  formatDegrees,
  formatDose,
  formatLength,
  formatMass,
  formatTemperature,
  formatThickness,
  formatWholeTemperature,
} from '../../../dashboard/format/numbers.ts';
import {
  fieldTextOf,
  fieldUnit,
  numberOf,
  type Quantity,
  storedTextOf,
} from '../../../dashboard/format/typedNumber.ts';
import {
  celsiusFromShown,
  cmFromShown,
  kelvinFromShownDifference,
  METRIC,
  mmFromShown,
  shownDifference,
  shownLength,
  shownMass,
  shownTemperature,
  shownThickness,
  US_CUSTOMARY,
} from '../../../dashboard/format/units.ts';
import { formatReason } from '../../../dashboard/format/reason.ts';
import { formatCauseRule } from '../../../dashboard/format/airText.ts';
import { wordsEn } from '../../../dashboard/format/wholeWords.en.ts';
import { wordsEs } from '../../../dashboard/format/words.es.ts';
import { THICKNESS_CHOICES_MM } from '../../../dashboard/state/mixDraft.ts';
import { makeBatch, makeEstimate } from '../fixtures.ts';

const american = { locale: 'en-US', units: US_CUSTOMARY };
const SEED = 20260112;

describe('a value in American units', () => {
  // NIST SP 811, Appendix B, from memory: °C = (°F − 32)/1.8; 1 in = 25.4 mm; 1 oz (avoirdupois) = 28.349 52 g.
  it('is turned over as NIST SP 811 has it', () => {
    expect(shownTemperature(100, US_CUSTOMARY)).toBeCloseTo(212, 9);
    expect(shownTemperature(-40, US_CUSTOMARY)).toBeCloseTo(-40, 9);
    expect(shownThickness(25.4, US_CUSTOMARY)).toBeCloseTo(1, 12);
    expect(shownLength(2.54, US_CUSTOMARY)).toBeCloseTo(1, 12);
    expect(shownMass(28.34952, US_CUSTOMARY)).toBeCloseTo(1, 6);
  });

  it('of a difference has no offset: a kelvin is 1.8 °F', () => {
    expect(shownDifference(1, US_CUSTOMARY)).toBeCloseTo(1.8, 12);
    expect(shownDifference(0, US_CUSTOMARY)).toBe(0);
    fc.assert(
      fc.property(
        fc.double({ min: -40, max: 60, noNaN: true }),
        fc.double({ min: 0, max: 20, noNaN: true }),
        (airC, warmerK) => {
          const ends = shownTemperature(airC + warmerK, US_CUSTOMARY) - shownTemperature(airC, US_CUSTOMARY);
          expect(shownDifference(warmerK, US_CUSTOMARY)).toBeCloseTo(ends, 6);
        },
      ),
      { seed: SEED },
    );
  });

  it('stays itself in metric ones', () => {
    for (const turn of [shownTemperature, shownDifference, shownThickness, shownLength, shownMass]) {
      expect(turn(12.34, METRIC)).toBe(12.34);
    }
  });

  it('comes back from the reader’s unit', () => {
    fc.assert(
      fc.property(fc.double({ min: -40, max: 120, noNaN: true }), (value) => {
        expect(celsiusFromShown(shownTemperature(value, US_CUSTOMARY), US_CUSTOMARY)).toBeCloseTo(value, 9);
        expect(kelvinFromShownDifference(shownDifference(value, US_CUSTOMARY), US_CUSTOMARY)).toBeCloseTo(
          value,
          9,
        );
        expect(mmFromShown(shownThickness(value, US_CUSTOMARY), US_CUSTOMARY)).toBeCloseTo(value, 9);
        expect(cmFromShown(shownLength(value, US_CUSTOMARY), US_CUSTOMARY)).toBeCloseTo(value, 9);
      }),
      { seed: SEED },
    );
  });
});

describe('a number in American units', () => {
  it.each([
    [formatTemperature(13.4, american), '56.1 °F'],
    [formatTemperature(-18, american), '−0.4 °F'],
    [formatWholeTemperature(20, american), '68 °F'],
    [formatDegrees(9.4, american), '16.9 °F'],
    [formatDegrees(3, american), '5.4 °F'],
    [formatDegrees(5, american), '9 °F'],
    [formatBareTemperature(0, american), '32'],
    [formatBareDegrees(0.5, american), '0.9'],
    [formatLength(60, american), '24 in'],
    [formatLength(8.3, american), '3.3 in'],
    [formatMass(36, american), '1.27 oz'],
    [formatMass(0.72, american), '0.025 oz'],
    [formatMass(900, american), '31.7 oz'],
    [formatThickness(0.1, american), '0.004 in'],
    [formatDose(2.5, 'es-ES'), '2,5 %'],
  ])('reads %s', (text, expected) => {
    expect(text.replaceAll('\u00a0', ' ')).toBe(expected);
  });

  it('tells the thicknesses that are offered apart', () => {
    const names = THICKNESS_CHOICES_MM.map((thicknessMm) => formatThickness(thicknessMm, american));
    expect(names).toEqual(['0.02 in', '0.04 in', '0.08 in', '0.16 in', '0.24 in']);
    expect(
      THICKNESS_CHOICES_MM.map((thicknessMm) =>
        formatThickness(thicknessMm, { locale: 'en-GB', units: METRIC }),
      ),
    ).toEqual(['0.5 mm', '1 mm', '2 mm', '4 mm', '6 mm']);
  });

  it('stands in the sentences, in either language', () => {
    const reasons = [{ code: 'bay-cold' as const, minutes: 9.2, airTemperatureC: 13.1 }];
    const batch = makeBatch({ estimate: makeEstimate({ reasons }) });
    const place = { ...american, timeZone: 'America/Chicago' };
    const sentence = (words: typeof wordsEn) =>
      formatReason(batch, { words, place, bayName: () => 'Bay 2', card: null })?.replaceAll('\u00a0', ' ');
    expect(sentence(wordsEn)).toBe('Bay 2 is 56 °F: 9 minutes slower than the card');
    expect(sentence(wordsEs)).toBe('Bay 2 está a 56 °F: 9 minutos más lento que la ficha');
    expect(formatCauseRule('heating-off', { words: wordsEn, place })).toMatch(/more than 3\.6\s°F warmer/);
    expect(formatCauseRule('door', { words: wordsEs, place })).toMatch(/más de 2\.2\s°F/);
  });
});

/** How far apart a stored value and what comes back of it may lie: half the last digit that is shown, in metric. */
const FIELDS = [
  { quantity: 'temperature', least: -40, most: 120, within: 0.05 / 1.8 },
  { quantity: 'thickness', least: 0, most: 12, within: 0.0005 * 25.4 },
  { quantity: 'length', least: 0, most: 200, within: 0.005 * 2.54 },
  { quantity: 'difference', least: -10, most: 10, within: 0.05 / 1.8 },
  { quantity: 'mass', least: 0, most: 30, within: 0.0005 * 28.3495 },
] as const satisfies readonly { quantity: Quantity; least: number; most: number; within: number }[];

describe.each(FIELDS)('a field of $quantity', ({ quantity, least, most, within }) => {
  const inches = { quantity, reader: american };
  const hundredths = fc.integer({ min: least * 100, max: most * 100 }).map((count) => String(count / 100));

  it('shows a stored value and reads it back within the last digit shown, and then for good', () => {
    fc.assert(
      fc.property(hundredths, (stored) => {
        const shown = fieldTextOf(stored, inches);
        const back = storedTextOf(shown, inches);
        expect(Math.abs(Number(back) - Number(stored))).toBeLessThanOrEqual(within + 1e-6);
        expect(fieldTextOf(back, inches)).toBe(shown);
        expect(storedTextOf(fieldTextOf(back, inches), inches)).toBe(back);
      }),
      { seed: SEED },
    );
  });

  it.each(['en-GB', 'es-419', 'es-ES'])('keeps every digit in metric units, written as in %s', (locale) => {
    const metric = { quantity, reader: { locale, units: METRIC } };
    fc.assert(
      fc.property(hundredths, (stored) => {
        expect(numberOf(storedTextOf(fieldTextOf(stored, metric), metric))).toBe(Number(stored));
      }),
      { seed: SEED },
    );
  });

  it('leaves alone what is no number', () => {
    for (const text of ['', ' ', '2 mm', 'two', '1e999']) {
      expect(storedTextOf(text, inches)).toBe(text);
      expect(fieldTextOf(text, inches)).toBe(text);
    }
  });
});

describe('a typed number', () => {
  it.each([
    ['2', 2],
    [' 2,5 ', 2.5],
    ['-4', -4],
    ['', null],
    ['2 %', null],
    ['1e999', null],
  ])('reads "%s" as %s', (text, value) => {
    expect(numberOf(text)).toBe(value);
  });

  it('is stored in metric, and shown with the sign of its language', () => {
    expect(storedTextOf('50', { quantity: 'temperature', reader: american })).toBe('10');
    expect(storedTextOf('1/4', { quantity: 'thickness', reader: american })).toBe('1/4');
    expect(storedTextOf('0,25', { quantity: 'thickness', reader: american })).toBe('6.35');
    expect(fieldTextOf('2.5', { quantity: 'plain', reader: { locale: 'es-ES', units: METRIC } })).toBe('2,5');
    expect(fieldUnit({ quantity: 'length', reader: american })).toBe('in');
    expect(fieldUnit({ quantity: 'length', reader: { ...american, units: METRIC } })).toBe('cm');
    expect(fieldUnit({ quantity: 'plain', reader: american })).toBe('');
  });
});
