// What of the records is asked for: queries, paths that any repair order survives, days in order.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  countAsked,
  isSpanInOrder,
  noFilter,
  orderOfPath,
  pathOfOrder,
  queryOf,
  tablePathOf,
} from '../../../dashboard/state/records.ts';

describe('the query of a filter', () => {
  it('names only what is asked for, spaces around it taken off', () => {
    expect(queryOf(noFilter)).toBe('');
    expect(queryOf({ ...noFilter, from: '2026-01-12', text: ' left door ', by: '  ' })).toBe(
      'from=2026-01-12&text=left+door',
    );
  });

  it('asks for the page before an instant', () => {
    expect(queryOf({ ...noFilter, by: 'AB' }, '2026-01-12T07:00:00.000Z')).toBe(
      'by=AB&before=2026-01-12T07%3A00%3A00.000Z',
    );
  });

  it('is the same for the table', () => {
    expect(tablePathOf(noFilter)).toBe('/api/v1/records.csv');
    expect(tablePathOf({ ...noFilter, bayId: 'bay-1' })).toBe('/api/v1/records.csv?bayId=bay-1');
  });

  it('counts the fields in use', () => {
    expect(countAsked(noFilter)).toBe(0);
    expect(countAsked({ ...noFilter, by: 'AB', text: ' ', to: '2026-01-12' })).toBe(2);
  });
});

describe('a span of days', () => {
  it.each([
    ['', '', true],
    ['2026-01-12', '', true],
    ['', '2026-01-12', true],
    ['2026-01-12', '2026-01-12', true],
    ['2026-01-13', '2026-01-12', false],
  ])('from "%s" to "%s" is in order: %s', (from, to, isInOrder) => {
    expect(isSpanInOrder({ ...noFilter, from, to })).toBe(isInOrder);
  });
});

describe('the path of a repair order', () => {
  it('gives it back, whatever is in it', () => {
    fc.assert(
      fc.property(fc.string({ minLength: 1, maxLength: 20, unit: 'binary' }), (order) => {
        expect(orderOfPath(pathOfOrder(order))).toBe(order);
      }),
      { seed: 20260112, numRuns: 200 },
    );
  });

  it.each([
    ['/records', null],
    ['/records/', null],
    ['/recordings/4711', null],
    ['/records/4711', '4711'],
    ['/records/4711/', '4711'],
    ['/records/RO%2047%2F11', 'RO 47/11'],
    // A per cent sign that somebody typed by hand.
    ['/records/50%', '50%'],
  ])('%s names %j', (path, order) => {
    expect(orderOfPath(path)).toBe(order);
  });
});
