// What is wrong with a field, told in the reader's language and units: every reason that the contract can give.
import { describe, expect, it } from 'vitest';
import { formatRefusal } from '../../../dashboard/format/refusalText.ts';
import { METRIC, US_CUSTOMARY } from '../../../dashboard/format/units.ts';
import { wordsEn } from '../../../dashboard/format/wholeWords.en.ts';
import { wordsEs } from '../../../dashboard/format/words.es.ts';
import { OWN_REASONS, rejectionText } from '../../../dashboard/state/rejection.ts';
import type { FieldError } from '../../../dashboard/state/sources.ts';
import { calibrateCard } from '../../../server/engine/index.ts';
import {
  batchCommandBody,
  parseWith,
  previewCardBody,
  putSettingsBody,
  REFUSAL_CODES,
  startBatchBody,
} from '../../../server/contract/index.ts';

const english = { words: wordsEn, place: { locale: 'en-GB', timeZone: 'UTC', units: METRIC } };
const spanish = { words: wordsEs, place: { locale: 'es-419', timeZone: 'UTC', units: METRIC } };
const american = { words: wordsEs, place: { ...spanish.place, units: US_CUSTOMARY } };

const good = { cardId: 'c', panel: 'Roof', bayId: 'b', thicknessMm: 2, substrate: 'steel' };

/** What the contract says of a body with one field changed. */
function rejectionsOf(change: Readonly<Record<string, unknown>>): readonly FieldError[] {
  const parsed = parseWith(startBatchBody, { ...good, ...change });
  return parsed.kind === 'rejected' ? parsed.rejections : [];
}

const cardOf = (workingMin: number) => ({
  fill: 'regular' as const,
  atC: 20,
  thicknessMm: 1,
  hardenerPct: 2,
  workingMin,
  sandMin: 18,
  lowestC: 10,
  thicknessMaxMm: 6,
  activationKJPerMol: 46,
  inductionActivationKJPerMol: 50,
  humidityEffectPer10Pct: 0,
});

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

describe('a field that was turned down', () => {
  it.each([
    [{ thicknessMm: 20 }, 'This is too large (0.1 … 12 mm).', 'Es demasiado (de 0.1 a 12 mm).'],
    [{ hardenerPct: 0.1 }, 'This is too small (0.5 … 5 %).', 'Es demasiado poco (de 0.5 a 5 %).'],
    [{ outdoorTemperatureC: 99 }, 'This is too large (−40 … 60 °C).', 'Es demasiado (de −40 a 60 °C).'],
    [
      { remainingWorkMin: -1 },
      'This is too small (0 … 10,080 min).',
      'Es demasiado poco (de 0 a 10,080 min).',
    ],
    [
      { by: 'ABCDEFGHIJ' },
      'This is too long (at most 8 characters).',
      'Es demasiado largo (8 caracteres como máximo).',
    ],
    [
      { mixedAt: 'yesterday' },
      'This has the wrong form (a date and time).',
      'No tiene la forma correcta (una fecha con hora).',
    ],
    [
      { substrate: 'wood' },
      'This is not one of the choices (steel, aluminium, plastic).',
      'No es una de las opciones.',
    ],
  ])('%j is told in both languages', (change, inEnglish, inSpanish) => {
    const [error] = rejectionsOf(change);
    if (error === undefined) throw new Error('the contract took it');
    expect(plain(rejectionText(error, english))).toBe(inEnglish);
    expect(plain(rejectionText(error, spanish))).toBe(inSpanish);
  });

  it('has its bounds in the reader’s units', () => {
    const text = (change: Readonly<Record<string, unknown>>): string =>
      rejectionsOf(change)
        .map((error) => plain(rejectionText(error, american)))
        .join();
    expect(text({ thicknessMm: 20 })).toBe('Es demasiado (de 0.004 a 0.47 in).');
    expect(text({ outdoorTemperatureC: 99 })).toBe('Es demasiado (de −40 a 140 °F).');
    expect(text({ underlayMm: 228.6 })).toBe('Es demasiado (de 0 a 0.47 in).');
  });

  it.each([
    ...['cardId', 'panel', 'bayId', 'thicknessMm', 'substrate'].map((path) => ({ [path]: undefined })),
    ...['cardId', 'panel', 'repairOrder', 'by', 'mixedAt'].map((path) => ({ [path]: 7 })),
    ...['thicknessMm', 'hardenerPct', 'underlayMm'].map((path) => ({ [path]: 'two' })),
    { panel: '' },
    { panel: 'a\u0007b' },
    { panel: 'x'.repeat(200) },
    { bayId: 'bay 1' },
    { rolledInAt: '2026' },
    { mood: 'good' },
  ])('is told in Spanish words that the catalogue has: %j', (change) => {
    const errors = rejectionsOf(change);
    expect(errors.length).toBeGreaterThan(0);
    for (const error of errors) {
      const text = rejectionText(error, spanish);
      expect(text).not.toContain(wordsEs.rejection.other);
      expect(text).not.toMatch(/\b(is|the|not|has|least|most|such|characters|leave)\b/);
    }
  });

  it('is told where this device found it by itself', () => {
    const own = (path: string, reason: string): string =>
      rejectionText({ path, reason, allowed: '' }, english);
    expect(own('panel', OWN_REASONS.missing)).toBe('This is missing (choose one).');
    expect(own('hardenerPct', OWN_REASONS.notNumber)).toBe('This is not a number (a number such as 2.5).');
    const place = { ...spanish.place, locale: 'es-AR' };
    const error = { path: 'underlayMm', reason: OWN_REASONS.notNumber, allowed: '' };
    expect(rejectionText(error, { words: wordsEs, place })).toBe('No es un número (un número como 2,5).');
  });

  it('keeps the wire’s word where the catalogue has none, and says so much in Spanish', () => {
    const error = { path: 'x', reason: 'is odd', allowed: 'even ones' };
    expect(rejectionText(error, english)).toBe('This is odd (even ones).');
    expect(rejectionText(error, spanish)).toBe('No se aceptó.');
  });

  it('is the refusal’s sentence where the domain speaks of a field', () => {
    const error = { path: 'mixedAt', reason: 'in-the-future', allowed: 'That time is still to come.' };
    expect(rejectionText(error, english)).toBe('That time is still to come.');
    expect(rejectionText(error, spanish)).toBe('Esa hora aún no llega.');
  });

  it('of Setup has the unit of what it measures: a difference no offset, a bead its mass', () => {
    const text = (path: string): string =>
      plain(rejectionText({ path, reason: 'is too large', allowed: 'as the wire says' }, american));
    expect(text('airTemperatureOffsetK')).toBe('Es demasiado (de −18 a 18 °F).');
    expect(text('beadGramsPer10Cm')).toMatch(/^Es demasiado \(de [\d.]+ a [\d.]+ oz\)\.$/);
  });

  it.each([
    [{ atC: 99 }, 'Queda fuera de lo posible (de 23 a 113 °F).'],
    [{ sandMin: 0 }, 'Queda fuera de lo posible (de 1 a 600 min).'],
    [{ humidityEffectPer10Pct: 1 }, 'Queda fuera de lo posible (de −20 a 20 %).'],
    [{ activationKJPerMol: 500 }, 'Queda fuera de lo posible (de 10 a 150 kJ/mol).'],
  ])('of a product has the bounds of its own table in the reader’s units: %j', (change, said) => {
    const { inductionActivationKJPerMol: _, ...stated } = cardOf(5);
    const parsed = parseWith(previewCardBody, { ...stated, ...change });
    const texts =
      parsed.kind === 'parsed' ? [] : parsed.rejections.map((one) => rejectionText(one, american));
    expect(texts.map(plain)).toEqual([said]);
  });

  it('of a zone or of a product that no chemistry fits is known as well', () => {
    const parsed = parseWith(putSettingsBody, { shop: { timeZone: 'Mars/Base' } });
    const [zone] = parsed.kind === 'rejected' ? parsed.rejections : [];
    if (zone === undefined) throw new Error('the contract took it');
    expect(rejectionText(zone, spanish)).toBe('No es una zona horaria.');
    for (const workingMin of [0.5, 17.9, 18]) {
      const stated = { id: 'a', name: 'A', ...cardOf(workingMin) };
      const calibrated = calibrateCard(stated);
      const [error] = calibrated.kind === 'rejected' ? calibrated.rejections : [];
      if (error === undefined) throw new Error('it calibrated');
      expect(rejectionText(error, spanish)).toMatch(/tiempo de lijado/);
    }
  });

  it('of a command is known as well', () => {
    const parsed = parseWith(batchCommandBody, { type: 'switchLamp', lampId: 'l', forMin: 900 });
    const [error] = parsed.kind === 'rejected' ? parsed.rejections : [];
    if (error === undefined) throw new Error('the contract took it');
    expect(rejectionText(error, spanish)).toBe('Es demasiado (de 0 a 240 min).');
  });
});

describe('an act that was refused', () => {
  it.each(REFUSAL_CODES)('is told in Spanish by its code: %s', (code) => {
    const said = formatRefusal({ code, detail: 'The sentence of the wire.' }, wordsEs);
    expect(said).toBe(wordsEs.refusal[code]);
    expect(formatRefusal({ code, detail: 'The sentence of the wire.' }, wordsEn)).toBe(
      'The sentence of the wire.',
    );
    expect(formatRefusal({ code }, wordsEn)).toBe(wordsEn.refusal[code]);
  });

  it('is null where nothing is known of it', () => {
    expect(formatRefusal({ code: 'key-reused', detail: 'Used.' }, wordsEs)).toBeNull();
    expect(formatRefusal({}, wordsEn)).toBeNull();
  });
});
