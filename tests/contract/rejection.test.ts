// Every issue that a schema can raise becomes path, reason and what is allowed, in words for people.
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { parseWith } from '../../server/contract/index.ts';

const SEE_PAGE = 'see the API page';

/** What is told of an input, as rows of path, reason and what is allowed. */
function told(schema: z.ZodType, input: unknown): [string, string, string][] {
  const parsed = parseWith(schema, input);
  if (parsed.kind === 'parsed') throw new Error(`taken: ${JSON.stringify(parsed.value)}`);
  return parsed.rejections.map(({ path, reason, allowed }) => [path, reason, allowed]);
}

const field = (schema: z.ZodType) => z.strictObject({ film: z.object({ part: schema }) });
const withPart = (part?: unknown) => ({ film: part === undefined ? {} : { part } });
const even = (params?: { allowed: string }) =>
  z.number().refine((value) => value % 2 === 0, { error: 'is odd', ...(params ? { params } : {}) });

describe('a rejection', () => {
  it.each([
    ['a text that is a number', z.string(), 7, 'is not a text', 'a text'],
    ['a number that is a text', z.number(), '7', 'is not a number', 'a number'],
    ['a number that is null', z.number(), null, 'is not a number', 'a number'],
    ['a number that is none', z.number(), Number.NaN, 'is not a number', 'a number'],
    ['a whole number with a fraction', z.int(), 1.5, 'is not a whole number', 'a whole number'],
    ['a flag that is a text', z.boolean(), 'yes', 'is not true or false', 'true or false'],
    ['an object that is a list', z.object({}), [], 'is not an object', 'an object'],
    ['a list that is an object', z.array(z.string()), {}, 'is not a list', 'a list'],
    ['a type that JSON does not have', z.date(), '7', 'is not a date', 'a date'],
    ['a text that is missing', z.string(), undefined, 'is missing', 'a text'],
    ['a choice that is missing', z.enum(['a', 'b']), undefined, 'is missing', 'a, b'],
    ['another choice', z.enum(['a', 'b']), 'c', 'is not one of the choices', 'a, b'],
    ['another literal', z.literal('a'), 'b', 'is not one of the choices', 'a'],
    ['a number that is too small', z.number().min(2), 1, 'is too small', 'at least 2'],
    ['a number that is too large', z.number().max(2), 3, 'is too large', 'at most 2'],
    ['an empty text', z.string().min(1), '', 'is too short', 'at least 1 character'],
    ['a short text', z.string().min(3), 'ab', 'is too short', 'at least 3 characters'],
    ['a long text', z.string().max(2), 'abc', 'is too long', 'at most 2 characters'],
    ['a short list', z.array(z.int()).min(2), [1], 'is too short', 'at least 2 in the list'],
    ['a long list', z.array(z.int()).max(1), [1, 2], 'is too long', 'at most 1 in the list'],
    [
      'a time of the wrong form',
      z.iso.datetime(),
      '7 o’clock',
      'has the wrong form',
      'ISO 8601 with a zone, such as 2026-01-12T07:00:00Z',
    ],
    ['another form', z.email(), 'nobody', 'has the wrong form', 'email'],
    ['a rule of its own', even({ allowed: 'an even number' }), 3, 'is odd', 'an even number'],
    ['a rule that does not say what it allows', even(), 3, 'is odd', SEE_PAGE],
    [
      'a step that is not met',
      z.number().multipleOf(2),
      3,
      'Invalid number: must be a multiple of 2',
      SEE_PAGE,
    ],
    ['none of two shapes', z.union([z.string(), z.int()]), true, 'is not one of the choices', SEE_PAGE],
  ])('tells of %s', (_, schema, part, reason, allowed) => {
    expect(told(field(schema), withPart(part))).toContainEqual(['film.part', reason, allowed]);
  });

  it('tells of a key or an element that may not be', () => {
    expect(told(z.record(z.string().min(2), z.int()), { c: 1 })).toEqual([
      ['c', 'Invalid key in record', SEE_PAGE],
    ]);
    const map = new Map([['a', 1]]);
    expect(told(z.map(z.string(), z.string()), map)).toEqual([['a', 'is not a text', 'a text']]);
    const keyed = new Map([[{}, 1]]);
    expect(told(z.map(z.object({}), z.string()), keyed)).toEqual([['', 'Invalid value in map', SEE_PAGE]]);
  });

  it('tells of the kinds there are when a body names none of them', () => {
    const schema = z.discriminatedUnion('type', [
      z.object({ type: z.literal('spread') }),
      z.object({ type: z.literal('scrap') }),
    ]);
    for (const input of [{}, { type: 'paint' }, { type: 7 }]) {
      expect(told(schema, input)).toEqual([['type', 'is not one of the choices', 'spread, scrap']]);
    }
  });

  it('tells of each unknown field by itself, wherever it stands', () => {
    const schema = z.strictObject({ film: z.strictObject({}) });
    expect(told(schema, { film: { hue: 1, tint: 2 }, gloss: 3 })).toEqual([
      ['film.hue', 'is not a field of this body', 'leave it out'],
      ['film.tint', 'is not a field of this body', 'leave it out'],
      ['gloss', 'is not a field of this body', 'leave it out'],
    ]);
  });

  it('gives a limited field its bounds and an instant its form, whatever is wrong with them', () => {
    const schema = z.object({ thicknessMm: z.number().min(0.1), mixedAt: z.iso.datetime() });
    expect(told(schema, { thicknessMm: 0, mixedAt: 0 })).toEqual([
      ['thicknessMm', 'is too small', '0.1 … 12 mm'],
      ['mixedAt', 'is not a text', 'ISO 8601 with a zone, such as 2026-01-12T07:00:00Z'],
    ]);
    expect(told(z.object({ at: z.string() }), {})).toEqual([
      ['at', 'is missing', 'ISO 8601 with a zone, such as 2026-01-12T07:00:00Z'],
    ]);
  });

  it('has an empty path where the whole body is wrong', () => {
    expect(told(z.object({}), 7)).toEqual([['', 'is not an object', 'an object']]);
  });

  it('is not made of what a schema takes', () => {
    expect(parseWith(z.coerce.number(), '7')).toEqual({ kind: 'parsed', value: 7 });
  });
});
