// Inputs that are wrong: valid ones with one thing broken, JSON of any shape, and bytes of no shape at all.
import * as fc from 'fast-check';

/** What to do with one place of a valid value. */
interface Break {
  /** Draws which place. */
  readonly place: number;
  readonly how: 'leave out' | 'replace' | 'add' | 'wrap' | 'double';
  readonly odd: unknown;
}

/** Values that no field expects, or not so. */
const ODD_VALUES: readonly unknown[] = [
  null,
  true,
  -1,
  0,
  1e308,
  -0,
  5e-324,
  Number.MAX_SAFE_INTEGER + 2,
  '',
  ' ',
  '2',
  'NaN',
  '\u0000',
  '\ud800',
  '\u202e',
  'x'.repeat(5000),
  '2026-02-30T00:00:00Z',
  '+275760-09-13T00:00:00.001Z',
  '-271821-04-19T23:59:59.999Z',
  '2026-01-12T07:00:00+99:99',
  '../../etc/passwd',
  '=1+1',
  [],
  {},
  [[[[[[[[]]]]]]]],
  { $ref: '#' },
  { constructor: { prototype: { isAdmin: true } } },
];

const oddValue = fc.oneof(
  { weight: 3, arbitrary: fc.constantFrom(...ODD_VALUES) },
  { weight: 1, arbitrary: fc.jsonValue({ maxDepth: 2 }) },
  { weight: 1, arbitrary: fc.double() },
);

const oneBreak: fc.Arbitrary<Break> = fc.record({
  place: fc.nat(1000),
  how: fc.constantFrom('leave out', 'replace', 'replace', 'replace', 'add', 'wrap', 'double'),
  odd: oddValue,
});

/** A valid value with one or two of its places broken; now and then it is still valid. */
export function broken(valid: unknown): fc.Arbitrary<unknown> {
  return fc.array(oneBreak, { minLength: 1, maxLength: 2 }).map((breaks) => breaks.reduce(breakOnce, valid));
}

/** The text of a body: a broken valid one mostly, cut short at times, or nothing that is JSON. */
export function malformedText(valid: unknown): fc.Arbitrary<string> {
  const text = broken(valid).map((value) => JSON.stringify(value) ?? '');
  return fc.oneof(
    { weight: 8, arbitrary: text },
    { weight: 1, arbitrary: fc.tuple(text, fc.nat(200)).map(([whole, end]) => whole.slice(0, end)) },
    { weight: 1, arbitrary: fc.json({ maxDepth: 4 }) },
    { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 60 }) },
    { weight: 1, arbitrary: fc.nat(20_000).map((depth) => '['.repeat(depth)) },
    { weight: 1, arbitrary: fc.constantFrom(...ODD_TEXTS) },
  );
}

/** The same as bytes, which need not be UTF-8. */
export function malformedBytes(valid: unknown): fc.Arbitrary<Buffer> {
  return fc.oneof(
    { weight: 4, arbitrary: malformedText(valid).map((text) => Buffer.from(text)) },
    { weight: 1, arbitrary: fc.uint8Array({ maxLength: 80 }).map((bytes) => Buffer.from(bytes)) },
  );
}

const ODD_TEXTS = [
  '',
  'null',
  '"',
  '{"__proto__": {"thicknessMm": 2}}',
  '{"thicknessMm": 2, "thicknessMm": 3}',
  '{"a": 1e999}',
  '\ufeff{}',
  '{} {}',
  "{'a': 1}",
  'Infinity',
  '\u0000',
];

function breakOnce(value: unknown, { place, how, odd }: Break): unknown {
  const places = placesOf(value);
  const path = places[place % places.length] ?? [];
  if (how === 'wrap') return [value];
  return changeAt(value, path, { how, odd });
}

/** Every place inside a value, the whole of it first. */
function placesOf(value: unknown): (readonly string[])[] {
  if (typeof value !== 'object' || value === null) return [[]];
  const inner = Object.entries(value).flatMap(([key, one]) => placesOf(one).map((path) => [key, ...path]));
  return [[], ...inner];
}

function changeAt(value: unknown, path: readonly string[], change: Pick<Break, 'how' | 'odd'>): unknown {
  const [key, ...rest] = path;
  if (key === undefined) {
    if (change.how === 'add' && typeof value === 'object' && value !== null && !Array.isArray(value))
      return { ...value, unheardOf: change.odd };
    return change.how === 'double' ? [value, value] : change.odd;
  }
  if (Array.isArray(value)) {
    const items = value as unknown[];
    if (rest.length === 0 && change.how === 'leave out')
      return items.filter((_, index) => String(index) !== key);
    return items.map((one, index) => (String(index) === key ? changeAt(one, rest, change) : one));
  }
  const fields = { ...(value as Record<string, unknown>) };
  if (rest.length === 0 && change.how === 'leave out') delete fields[key];
  else fields[key] = changeAt(fields[key], rest, change);
  return fields;
}
