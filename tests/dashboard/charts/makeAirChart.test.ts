// The air chart as plain data, without a canvas.
import { describe, expect, it } from 'vitest';
import { makeAirChart, type AirChartOptions } from '../../../dashboard/charts/makeAirChart.ts';
import { METRIC } from '../../../dashboard/format/units.ts';
import type { AirColumnsWire } from '../../../server/contract/index.ts';
import { minutesIn, MIXED_AT } from '../fixtures.ts';

const columns: AirColumnsWire = {
  at: [minutesIn(0), minutesIn(1), minutesIn(2)],
  sensorId: ['s', 's', 's'],
  airTemperatureC: [13, null, 14],
  relativeHumidityPct: [55, 56, 57],
  panelTemperatureC: [null, null, null],
  trust: ['good', 'good', 'good'],
};

const options: AirChartOptions = {
  look: { ink: '#111', line: '#222', air: '#333', panel: '#444', humidity: '#555' },
  formatTick: (instantAt) => `t${instantAt}`,
  names: { air: 'Air', panel: 'Panel', humidity: 'Humidity' },
  units: METRIC,
};

describe('the air chart', () => {
  it('has epoch milliseconds along x and keeps gaps as null', () => {
    const { data } = makeAirChart(columns, options);
    expect(data.datasets[0]?.data).toEqual([
      { x: MIXED_AT, y: 13 },
      { x: MIXED_AT + 60_000, y: null },
      { x: MIXED_AT + 120_000, y: 14 },
    ]);
  });

  it('draws humidity on its own axis, in the colours of the page', () => {
    const { data } = makeAirChart(columns, options);
    expect(data.datasets.map(({ label, yAxisID, borderColor }) => [label, yAxisID, borderColor])).toEqual([
      ['Air', 'y', '#333'],
      ['Humidity', 'humidity', '#555'],
    ]);
  });

  it('adds the panel where a sensor measures it', () => {
    const { data } = makeAirChart({ ...columns, panelTemperatureC: [null, 12, null] }, options);
    expect(data.datasets.map(({ label }) => label)).toEqual(['Air', 'Panel', 'Humidity']);
  });

  it('neither parses nor animates, and tells ticks by the page’s own clock', () => {
    const config = makeAirChart(columns, options);
    expect(config.options).toMatchObject({ parsing: false, animation: false });
    const x = config.options?.scales?.['x'];
    expect(x?.type).toBe('linear');
    const callback = x?.ticks?.callback as ((value: number) => string) | undefined;
    expect(callback?.(42)).toBe('t42');
  });
});
