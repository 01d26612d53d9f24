// Instants: ISO 8601 outside, whole milliseconds inside, and never a time that is none.
import { describe, expect, it } from 'vitest';
import {
  type Instant,
  instantFromIso,
  instantFromMs,
  isoFromInstant,
  isoFromInstantOrNull,
  parseWith,
} from '../../server/contract/index.ts';
import { instantField } from '../../server/contract/fields.ts';

const AT = 1_768_201_200_000 as Instant;

describe('instants', () => {
  it.each([
    ['2026-01-12T07:00:00Z', AT],
    ['2026-01-12T08:00:00+01:00', AT],
    ['2026-01-12T07:00:00.250Z', AT + 250],
    ['', null],
    ['yesterday', null],
  ])('are read from %s', (text, instantAt) => {
    expect(instantFromIso(text)).toBe(instantAt);
  });

  it('are written in UTC and to the millisecond', () => {
    expect(isoFromInstant(AT)).toBe('2026-01-12T07:00:00.000Z');
    expect(isoFromInstantOrNull(AT)).toBe('2026-01-12T07:00:00.000Z');
  });

  it.each([null, undefined])('are written as null where there is %s', (missing) => {
    expect(isoFromInstantOrNull(missing)).toBeNull();
  });

  it('are rounded to a whole millisecond', () => {
    expect(instantFromMs(AT + 0.6)).toBe(AT + 1);
  });

  it.each([
    '0000-01-01T00:00:00Z',
    '2024-02-29T23:59:59.999999999Z',
    '2026-01-12T07:00:00-23:59',
    '9999-12-31T23:59:59Z',
  ])('are finite for every text that the field takes, such as %s', (text) => {
    const parsed = parseWith(instantField, text);
    expect(parsed).toEqual({ kind: 'parsed', value: Math.trunc(Date.parse(text)) });
  });
});
