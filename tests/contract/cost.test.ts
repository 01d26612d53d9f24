// What may be asked of a bay's cost: times of day, temperatures and spans inside their bounds, anything else told why.
import { describe, expect, it } from 'vitest';
import {
  COST_SPAN_MAX_DAYS,
  costQuery,
  type Instant,
  isCostSpan,
  minutesOf,
  parseWith,
} from '../../server/contract/index.ts';

describe('the question of a cost', () => {
  it.each([
    ['nothing', {}],
    ['a span', { from: '2026-01-05T00:00:00+01:00', to: '2026-01-12T00:00:00Z' }],
    ['heating in hours', { heatFrom: '6', heatTo: '24', heatC: '18.5' }],
    ['heating in minutes', { heatFrom: '06:30', heatTo: '9:45', heatC: '5' }],
  ])('takes %s', (_, query) => {
    expect(parseWith(costQuery, query).kind).toBe('parsed');
  });

  it.each([
    ['from', { from: 'yesterday' }, /ISO 8601/],
    ['heatFrom', { heatFrom: '25' }, /0 … 24/],
    ['heatFrom', { heatFrom: '24:30' }, /0 … 24/],
    ['heatTo', { heatTo: '9:75' }, /0 … 24/],
    ['heatC', { heatC: '31' }, /5 … 30 °C/],
    ['heatC', { heatC: '1e1' }, /5 … 30 °C/],
    ['heatC', { heatC: ['18', '20'] }, /./],
    ['stepMin', { stepMin: '5' }, /leave it out/],
  ])('refuses %s as in %j and says what is allowed', (path, query, allowed) => {
    const parsed = parseWith(costQuery, query);
    if (parsed.kind === 'parsed') throw new Error('was taken');
    expect(parsed.rejections.map((rejection) => rejection.path)).toEqual([path]);
    expect(parsed.rejections[0]?.allowed).toMatch(allowed);
  });
});

describe('a time of day', () => {
  it.each([
    ['6', 360],
    ['06:30', 390],
    ['24', 1440],
  ])('%s is minute %i', (clock, minute) => {
    expect(minutesOf(clock)).toBe(minute);
  });
});

describe('a span', () => {
  const hours = (count: number): boolean =>
    isCostSpan({ fromAt: 0 as Instant, toAt: (count * 3_600_000) as Instant });

  it('is at most a quarter of a year, an hour more where the clocks go back, and never empty', () => {
    expect(hours(COST_SPAN_MAX_DAYS * 24 + 1)).toBe(true);
    expect(hours(COST_SPAN_MAX_DAYS * 24 + 1.1)).toBe(false);
    expect(hours(0)).toBe(false);
  });
});
