// SenML packs resolve as RFC 8428 says, and what is wrong with one is told by record and label.
import { describe, expect, it } from 'vitest';
import { resolveSenml, type SenmlRecord } from '../../server/contract/index.ts';
import reference from '../fixtures/senml/senml-vectors.json' with { type: 'json' };

interface Vector {
  readonly id: string;
  readonly now?: number;
  readonly pack: readonly unknown[];
  readonly resolved?: readonly Resolved[];
  readonly error?: string;
}

type Resolved = Omit<SenmlRecord, 'index' | 'baseName'>;

const NOW_S = 1_764_000_000;
const vectors = reference.vectors as readonly Vector[];
const resolvable = vectors.filter((vector) => vector.error === undefined);
const erroneous = vectors.filter((vector) => vector.error !== undefined);

/** The records of a pack that must resolve, with the time rounded to a microsecond. */
function resolve(pack: readonly unknown[], nowS = NOW_S): Resolved[] {
  const parsed = resolveSenml(pack, nowS);
  if (parsed.kind === 'rejected') throw new Error(JSON.stringify(parsed.rejections));
  return parsed.value.map(({ index: _index, baseName: _baseName, ...record }) => toMicrosecond(record));
}

function toMicrosecond(record: Resolved): Resolved {
  return { ...record, t: Math.round(record.t * 1e6) / 1e6 };
}

/** What is wrong with a pack that must not resolve, as "path: reason". */
function wrongs(pack: readonly unknown[]): string[] {
  const parsed = resolveSenml(pack, NOW_S);
  if (parsed.kind === 'parsed') throw new Error(`resolved: ${JSON.stringify(parsed.value)}`);
  return parsed.rejections.map(({ path, reason }) => `${path}: ${reason}`);
}

const byText = (records: readonly Resolved[]): string[] =>
  records.map(({ n, u, t, v }) => JSON.stringify([n, u, t, v])).toSorted();

describe('the reference vectors', () => {
  it('are the sixteen packs that resolve and the seven that do not', () => {
    expect([resolvable.length, erroneous.length]).toEqual([16, 7]);
  });

  it.each(resolvable.map((vector) => [vector.id, vector] as const))(
    'resolve to the same records in %s',
    (id, vector) => {
      const records = resolve(vector.pack, vector.now);
      const expected = (vector.resolved ?? []).map(toMicrosecond);
      // The file of example 3 keeps the pack's own order, although the text asks for order of time.
      if (id === 'rfc-ex3') expect(byText(records)).toEqual(byText(expected));
      else expect(records).toEqual(expected);
    },
  );

  it.each(resolvable.map((vector) => [vector.id, vector] as const))(
    'come in order of time in %s',
    (_, vector) => {
      const times = resolve(vector.pack, vector.now).map((record) => record.t);
      expect(times).toEqual(times.toSorted((a, b) => a - b));
    },
  );

  it.each(erroneous.map((vector) => [vector.id, vector] as const))('are refused in %s', (_, vector) => {
    const [wrong, ...more] = wrongs(vector.pack);
    expect(wrong).toContain(vector.error);
    expect(more).toEqual([]);
  });
});

describe('a record', () => {
  it('keeps its place in the pack and the base name in force there', () => {
    const pack = [
      { bn: 'a:', n: 't', v: 1, t: 2 },
      { bn: 'b:', n: 't', v: 2, t: 1 },
    ];
    const parsed = resolveSenml(pack, NOW_S);
    expect(parsed).toMatchObject({
      kind: 'parsed',
      value: [
        { n: 'b:t', index: 1, baseName: 'b:' },
        { n: 'a:t', index: 0, baseName: 'a:' },
      ],
    });
  });

  it.each([
    ['no unit at all', [{ n: 't', v: 1 }], [{ n: 't', v: 1, t: NOW_S }]],
    ['a base version that is known', [{ bver: 10, n: 't', v: 1 }], [{ n: 't', v: 1, t: NOW_S }]],
    ['a label that nobody must know', [{ n: 't', v: 1, ut: 60, hue: {} }], [{ n: 't', v: 1, t: NOW_S }]],
    [
      'a label named like a member of every object',
      [JSON.parse('{"n":"t","v":1,"constructor":1,"toString":2}')],
      [{ n: 't', v: 1, t: NOW_S }],
    ],
    ['a value beside a sum', [{ n: 'e', v: 1, s: 3 }], [{ n: 'e', v: 1, s: 3, t: NOW_S }]],
    ['a base sum but no sum', [{ bs: 3, n: 'e', v: 1 }], [{ n: 'e', v: 1, s: 3, t: NOW_S }]],
    ['a base value that texts ignore', [{ bv: 3, n: 'e', vs: 'a' }], [{ n: 'e', vs: 'a', t: NOW_S }]],
    ['a truth of false', [{ n: 'open', vb: false }], [{ n: 'open', vb: false, t: NOW_S }]],
  ] as const)('resolves with %s', (_, pack, records) => {
    expect(resolve(pack)).toEqual(records);
  });

  it.each([
    ['a text as value', [{ n: 't', v: '21' }], '0.v: is not a number'],
    ['no number as value', [{ n: 't', v: Number.NaN }], '0.v: is not a number'],
    ['an infinite value', [{ n: 't', v: Number.POSITIVE_INFINITY }], '0.v: is not a number'],
    ['null as value', [{ n: 't', v: null }], '0.v: is not a number'],
    ['a text as time', [{ n: 't', v: 1, t: 'now' }], '0.t: is not a number'],
    ['an infinite base time', [{ bt: Number.NEGATIVE_INFINITY, n: 't', v: 1 }], '0.bt: is not a number'],
    ['a number as name', [{ n: 7, v: 1 }], '0.n: is not a string'],
    ['a number as unit', [{ n: 't', u: 7, v: 1 }], '0.u: is not a string'],
    ['a number as truth', [{ n: 't', vb: 1 }], '0.vb: is not a boolean'],
    ['a text as version', [{ bver: '10', n: 't', v: 1 }], '0.bver: is not a number'],
    [
      'a version just too new',
      [
        { n: 't', v: 1 },
        { bver: 10.5, n: 't', v: 1 },
      ],
      '1.bver: unknown version',
    ],
    ['three values', [{ n: 't', v: 1, vs: 'a', vb: true }], '0.vs: more than one value'],
    ['nothing in it', [{ bn: 'a:t' }, {}], '1.v: no value'],
    ['a list in its place', [[]], '0: is not a SenML record'],
    ['null in its place', [null], '0: is not a SenML record'],
    ['a number in its place', [{ n: 't', v: 1 }, 7], '1: is not a SenML record'],
  ] as const)('is refused with %s', (_, pack, wrong) => {
    expect(wrongs(pack)).toEqual([wrong]);
  });

  it('is told of beside every other wrong one', () => {
    expect(wrongs([{ n: '-' }, { n: 't', v: 1 }, { n: 't' }, 7])).toEqual([
      '0.n: name is missing or has a wrong character',
      '2.v: no value',
      '3: is not a SenML record',
    ]);
  });

  it('is nothing where the pack is empty', () => {
    expect(resolve([])).toEqual([]);
  });
});
