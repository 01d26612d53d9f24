// When the next copy is due, in zones and on days where the clock is changed.
import { describe, expect, it } from 'vitest';
import { type Instant, instantFromIso } from '../../server/contract/index.ts';
import { type CopyPlan, newestFirst, nextCopyAt, quietTimeFrom } from '../../server/domain/copyPlan.ts';

const NIGHTLY: CopyPlan = { everyMin: 1440, quietMin: 150, keepCount: 14 };
const at = (text: string): Instant => instantFromIso(text) as Instant;
const iso = (instantAt: Instant): string => new Date(instantAt).toISOString();

interface Row {
  readonly name: string;
  readonly plan?: Partial<CopyPlan>;
  readonly timeZone?: string;
  readonly made: readonly string[];
  readonly now: string;
  readonly next: string;
}

const rows: readonly Row[] = [
  {
    name: 'at once where there is none yet',
    made: [],
    now: '2026-01-12T10:00:00Z',
    next: '2026-01-12T10:00:00.000Z',
  },
  {
    name: 'the night after one of last night',
    made: ['2026-01-12T02:30:04Z'],
    now: '2026-01-12T10:00:00Z',
    next: '2026-01-13T02:30:00.000Z',
  },
  {
    name: 'the coming night after one by hand in the afternoon',
    made: ['2026-01-12T02:30:00Z', '2026-01-12T15:00:00Z'],
    now: '2026-01-12T16:00:00Z',
    next: '2026-01-13T02:30:00.000Z',
  },
  {
    name: 'no second one for a night right after one by hand',
    made: ['2026-01-12T02:00:00Z'],
    now: '2026-01-12T02:10:00Z',
    next: '2026-01-13T02:30:00.000Z',
  },
  {
    name: 'in the past where nights were missed, whatever the order of those there are',
    made: ['2026-01-02T02:30:00Z', '2026-01-08T02:30:00Z', '2026-01-05T02:30:00Z'],
    now: '2026-01-12T10:00:00Z',
    next: '2026-01-09T02:30:00.000Z',
  },
  {
    name: 'by the shop’s own clock',
    timeZone: 'America/Mexico_City',
    made: ['2026-01-12T08:30:00Z'],
    now: '2026-01-12T20:00:00Z',
    next: '2026-01-13T08:30:00.000Z',
  },
  {
    name: 'once a week at the quiet time',
    plan: { everyMin: 7 * 1440 },
    made: ['2026-01-12T02:30:00Z'],
    now: '2026-01-12T10:00:00Z',
    next: '2026-01-19T02:30:00.000Z',
  },
  {
    name: 'some hours on, at any time, where it is less than a day',
    plan: { everyMin: 240 },
    made: ['2026-01-12T09:00:00Z'],
    now: '2026-01-12T10:00:00Z',
    next: '2026-01-12T13:00:00.000Z',
  },
  {
    name: 'as if a copy from a clock that ran ahead were not there',
    made: ['2031-01-01T00:00:00Z', '2026-01-12T02:30:00Z'],
    now: '2026-01-12T10:00:00Z',
    next: '2026-01-13T02:30:00.000Z',
  },
  {
    name: 'at once where all there is comes from a clock that ran ahead',
    made: ['2031-01-01T00:00:00Z'],
    now: '2026-01-12T10:00:00Z',
    next: '2026-01-12T10:00:00.000Z',
  },
];

describe('the next copy is due', () => {
  it.each(rows)('$name', ({ plan = {}, timeZone = 'UTC', made, now, next }) => {
    const question = { copies: made.map((madeAt) => ({ madeAt: at(madeAt) })), nowAt: at(now), timeZone };
    expect(iso(nextCopyAt({ ...NIGHTLY, ...plan }, question))).toBe(next);
  });
});

describe('copies by age', () => {
  it('stand newest first, those from a clock that ran ahead after all others, clocks a minute apart aside', () => {
    const made = [
      '2026-01-11T02:30:00Z',
      '2031-01-01T00:00:00Z',
      '2026-01-12T10:01:01Z',
      '2026-01-12T02:30:00Z',
      '2026-01-12T10:01:00Z',
    ];
    const sorted = newestFirst(
      made.map((madeAt) => ({ madeAt: at(madeAt) })),
      at('2026-01-12T10:00:00Z'),
    );
    expect(sorted.map(({ madeAt }) => iso(madeAt))).toEqual([
      '2026-01-12T10:01:00.000Z',
      '2026-01-12T02:30:00.000Z',
      '2026-01-11T02:30:00.000Z',
      '2031-01-01T00:00:00.000Z',
      '2026-01-12T10:01:01.000Z',
    ]);
  });
});

describe('the quiet time', () => {
  it.each([
    // Clocks of Madrid: forward on 2026-03-29 at 02:00, back on 2026-10-25 at 03:00 (tz database, rule EU).
    [
      'the moment after the jump, where the clock jumps over it',
      '2026-03-28T12:00:00Z',
      '2026-03-29T01:00:00.000Z',
    ],
    ['as ever on the day after', '2026-03-29T12:00:00Z', '2026-03-30T00:30:00.000Z'],
    ['the first of the two, where an hour comes twice', '2026-10-24T12:00:00Z', '2026-10-25T00:30:00.000Z'],
    ['not the second of the two', '2026-10-25T00:31:00Z', '2026-10-26T01:30:00.000Z'],
    ['itself, asked for at its very instant', '2026-01-12T01:30:00Z', '2026-01-12T01:30:00.000Z'],
  ])('is %s', (_name, from, quiet) => {
    expect(iso(quietTimeFrom(at(from), 150, 'Europe/Madrid'))).toBe(quiet);
  });

  it('that no day has is a fault', () => {
    expect(() => quietTimeFrom(at('2026-01-12T00:00:00Z'), 24 * 60, 'UTC')).toThrow('without a quiet time');
  });
});
