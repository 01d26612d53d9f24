// The climate chart as plain data, and the range of a what-if as a feather edge.
import { describe, expect, it } from 'vitest';
import { makeClimateChart, spansOf } from '../../../dashboard/charts/makeClimateChart.ts';
import { makeRangeBand } from '../../../dashboard/charts/rangeBand.ts';
import { BAND_WIDTH_PX } from '../../../dashboard/charts/windowBand.ts';
import { METRIC } from '../../../dashboard/format/units.ts';
import { minutesIn, MIXED_AT } from '../fixtures.ts';

const look = {
  ink: '#1',
  line: '#2',
  air: '#3',
  panel: '#4',
  humidity: '#5',
  distance: '#6',
  hold: '#7',
  film: '#8',
};
const names = {
  air: 'Air',
  panel: 'Panel',
  humidity: 'Humidity',
  distance: 'Distance',
  hold: 'Hold',
  open: 'Open',
};
const climate = {
  stepMin: 5,
  at: [minutesIn(0), minutesIn(5)],
  airTemperatureC: [12, null],
  relativeHumidityPct: [60, 61],
  panelTemperatureC: [11, 11.5],
  dewDistanceK: [6.5, 6.9],
};
const batches = [
  { id: 'b', panel: 'Sill', cardId: 'c', mixedAt: minutesIn(0), untilAt: minutesIn(30), addedMin: 4 },
];
const options = {
  look,
  names,
  units: METRIC,
  formatTick: (instantAt: number) => `t${instantAt}`,
  fromAt: MIXED_AT,
  untilAt: MIXED_AT + 600_000,
  tickEveryMs: 60_000,
};

describe('the climate chart', () => {
  const config = makeClimateChart({ climate, batches }, options);

  it('has a pane each for temperatures, distance and humidity, with gaps kept', () => {
    expect(config.data.datasets.map(({ label, yAxisID }) => [label, yAxisID])).toEqual([
      ['Air', 'y'],
      ['Panel', 'y'],
      ['Distance', 'distance'],
      ['Humidity', 'humidity'],
      ['Hold', 'distance'],
    ]);
    expect(config.data.datasets[0]?.data).toEqual([
      { x: MIXED_AT, y: 12 },
      { x: MIXED_AT + 300_000, y: null },
    ]);
  });

  it('draws the bound of the dew point over the whole span, three degrees up', () => {
    expect(config.data.datasets[4]?.data).toEqual([
      { x: MIXED_AT, y: 3 },
      { x: MIXED_AT + 600_000, y: 3 },
    ]);
  });

  it('neither moves nor parses, and its axis is the span', () => {
    expect(config.options).toMatchObject({ animation: false, parsing: false });
    expect(config.options?.scales?.['x']).toMatchObject({ min: MIXED_AT, max: MIXED_AT + 600_000 });
    expect(spansOf(batches)).toEqual([{ fromAt: MIXED_AT, untilAt: MIXED_AT + 1_800_000 }]);
  });
});

describe('the range of a what-if', () => {
  it('stands on an axis from nothing to the whole, its ends marked', () => {
    const band = makeRangeBand({ low: 20, middleValue: 30, high: 45, wholeValue: 100 });
    expect(band).toMatchObject({ lowFraction: 0.2, middleFraction: 0.3, highFraction: 0.45 });
    const points = [...(band?.outline ?? '').matchAll(/([\d.]+),([\d.]+)/g)].map(([, x, y]) => [
      Number(x),
      Number(y),
    ]);
    const [topX = NaN] = points.toSorted((a, b) => Number(a[1]) - Number(b[1]))[0] ?? [];
    expect(Math.abs(topX - 0.3 * BAND_WIDTH_PX)).toBeLessThan(BAND_WIDTH_PX / 100);
  });

  it('makes room where the range reaches past the whole, and is none of nothing', () => {
    expect(
      makeRangeBand({ low: 60, middleValue: 90, high: 120, wholeValue: 100 })?.highFraction,
    ).toBeLessThan(1);
    expect(makeRangeBand({ low: 0, middleValue: 0, high: 0, wholeValue: 100 })).toBeNull();
  });
});
