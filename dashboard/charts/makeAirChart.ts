// The air of a bay as a chart: plain data for chart.js, so that it is tested without a canvas.
import type { ChartConfiguration } from 'chart.js';
import type { AirColumnsWire } from '../../server/contract/index.ts';
import { shownTemperature, type Units } from '../format/units.ts';

export interface AirChartLook {
  readonly ink: string;
  readonly line: string;
  readonly air: string;
  readonly panel: string;
  readonly humidity: string;
}

export interface AirChartOptions {
  readonly look: AirChartLook;
  readonly formatTick: (instantAt: number) => string;
  readonly names: { readonly air: string; readonly panel: string; readonly humidity: string };
  readonly units: Units;
}

/** A point with epoch ms along x; null leaves a gap. */
export interface AirPoint {
  readonly x: number;
  readonly y: number | null;
}

export type AirChartConfig = ChartConfiguration<'line', AirPoint[]>;

/** The chart of a bay's air: temperature left, humidity right, the panel's own temperature where it is known. */
export function makeAirChart(columns: AirColumnsWire, options: AirChartOptions): AirChartConfig {
  const { look, names, units } = options;
  const atEpochs = columns.at.map((text) => Date.parse(text));
  const pointsOf = (values: readonly (number | null)[]): AirPoint[] =>
    atEpochs.map((x, index) => ({ x, y: values[index] ?? null }));
  const temperatures = (valuesC: readonly (number | null)[]): AirPoint[] =>
    pointsOf(valuesC.map((valueC) => (valueC === null ? null : shownTemperature(valueC, units))));
  const hasPanel = columns.panelTemperatureC.some((value) => value !== null);
  const dataset = (label: string, color: string, data: AirPoint[], yAxisID: string) => ({
    label,
    data,
    yAxisID,
    borderColor: color,
    backgroundColor: color,
    borderWidth: 2,
    pointRadius: 0,
    spanGaps: false,
  });
  return {
    type: 'line',
    data: {
      datasets: [
        dataset(names.air, look.air, temperatures(columns.airTemperatureC), 'y'),
        ...(hasPanel ? [dataset(names.panel, look.panel, temperatures(columns.panelTemperatureC), 'y')] : []),
        {
          ...dataset(names.humidity, look.humidity, pointsOf(columns.relativeHumidityPct), 'humidity'),
          borderDash: [5, 4],
        },
      ],
    },
    options: {
      animation: false,
      parsing: false,
      normalized: true,
      responsive: true,
      maintainAspectRatio: false,
      scales: scalesOf(options),
      plugins: { legend: { labels: { color: look.ink, boxHeight: 2, boxWidth: 22 } } },
    },
  };
}

function scalesOf({ look, formatTick, names }: AirChartOptions) {
  const ticks = { color: look.ink, maxTicksLimit: 5 };
  const grid = { color: look.line };
  return {
    x: {
      type: 'linear' as const,
      grid,
      ticks: { ...ticks, maxRotation: 0, callback: (value: number | string) => formatTick(Number(value)) },
    },
    y: { grid, ticks, title: { display: true, text: names.air, color: look.ink }, grace: '10%' },
    humidity: {
      position: 'right' as const,
      grid: { drawOnChartArea: false },
      ticks,
      title: { display: true, text: names.humidity, color: look.ink },
      suggestedMin: 30,
      suggestedMax: 70,
    },
  };
}
