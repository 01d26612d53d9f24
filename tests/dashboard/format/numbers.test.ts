// Numbers, clock times and amounts as they stand on the screen.
import { describe, expect, it } from 'vitest';
import {
  formatClock,
  formatClockSpan,
  formatDayClock,
  formatMinutesSeconds,
} from '../../../dashboard/format/clock.ts';
import { mixAmountOf } from '../../../dashboard/format/mixAmount.ts';
import {
  formatMass,
  formatPct,
  formatPlain,
  formatTemperature,
  formatThickness,
  formatWholeTemperature,
} from '../../../dashboard/format/numbers.ts';
import { METRIC } from '../../../dashboard/format/units.ts';

const metric = { locale: 'en-GB', units: METRIC };
const spanish = { locale: 'es', units: METRIC };
const summerAt = Date.parse('2026-07-01T12:05:00Z');

describe('a number', () => {
  it.each([
    [formatTemperature(13.06, metric), '13.1\u00a0°C'],
    [formatTemperature(-0.04, metric), '0.0\u00a0°C'],
    [formatTemperature(-4.5, metric), '−4.5\u00a0°C'],
    [formatTemperature(13.4, spanish), '13,4\u00a0°C'],
    [formatWholeTemperature(12.6, metric), '13\u00a0°C'],
    [formatPct(54.6, 'en-GB'), '55\u00a0%'],
    [formatThickness(0.5, metric), '0.5 mm'],
    [formatThickness(2, metric), '2 mm'],
    [formatMass(0.72, metric), '0.7 g'],
    [formatMass(36.4, metric), '36 g'],
    [formatPlain(17.5, 'en-GB'), '17.5'],
    [formatMinutesSeconds(160), '2:40'],
    [formatMinutesSeconds(-3), '0:00'],
    [formatMinutesSeconds(3605), '60:05'],
  ])('reads %s', (text, expected) => {
    expect(text).toBe(expected);
  });
});

describe('a clock time', () => {
  it('is told in the zone of the shop, across midnight and summer time', () => {
    const at = (timeZone: string): string =>
      formatClock(summerAt, { locale: 'en-GB', timeZone, units: METRIC });
    expect([at('UTC'), at('Europe/Madrid'), at('Asia/Tokyo')]).toEqual(['12:05', '14:05', '21:05']);
    expect(
      formatClock(Date.parse('2026-01-01T00:00:00Z'), { locale: 'en-US', timeZone: 'UTC', units: METRIC }),
    ).toBe('00:00');
  });

  it('is one time when both ends fall into one minute', () => {
    const place = { locale: 'en-GB', timeZone: 'UTC', units: METRIC };
    expect(formatClockSpan({ fromAt: summerAt, untilAt: summerAt + 21 * 60_000 }, place)).toBe('12:05–12:26');
    expect(formatClockSpan({ fromAt: summerAt, untilAt: summerAt + 20_000 }, place)).toBe('12:05');
    expect(formatDayClock(summerAt, place)).toBe('1 Jul 12:05');
  });
});

describe('the amount to mix', () => {
  const spot = { lengthCm: 10, widthCm: 10, thicknessMm: 2, hardenerPct: 2, fill: 'regular' } as const;

  it('is volume times density, and hardener its share', () => {
    const amount = mixAmountOf(spot);
    expect(amount?.fillerG).toBeCloseTo(36, 9);
    expect(amount?.hardenerG).toBeCloseTo(0.72, 9);
    expect(mixAmountOf({ ...spot, fill: 'light' })?.fillerG).toBeCloseTo(25.4, 9);
  });

  it.each([{ lengthCm: 0 }, { widthCm: -1 }, { hardenerPct: Number.NaN }])('is unknown for %o', (change) => {
    expect(mixAmountOf({ ...spot, ...change })).toBeNull();
  });
});
