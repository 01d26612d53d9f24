// A bay's climate as a chart of three panes over one time axis, with the times in which batches were open behind them.
import type { Chart, ChartConfiguration, Plugin } from 'chart.js';
import type { CostWire } from '../../server/contract/index.ts';
import { shownDifference, shownTemperature, type Units } from '../format/units.ts';

export interface ClimateLook {
  readonly ink: string;
  readonly line: string;
  readonly air: string;
  readonly panel: string;
  readonly humidity: string;
  readonly distance: string;
  readonly hold: string;
  readonly film: string;
}

export interface ClimateChartOptions {
  readonly look: ClimateLook;
  readonly formatTick: (instantAt: number) => string;
  readonly names: Readonly<Record<'air' | 'panel' | 'humidity' | 'distance' | 'hold' | 'open', string>>;
  readonly units: Units;
  readonly fromAt: number;
  readonly untilAt: number;
  /** Ticks of the time axis lie on whole multiples of this after the start. */
  readonly tickEveryMs: number;
}

export interface ClimatePoint {
  readonly x: number;
  readonly y: number | null;
}

export type ClimateChartConfig = ChartConfiguration<'line', ClimatePoint[]>;

/** A time in which a batch was open. */
export interface OpenSpan {
  readonly fromAt: number;
  readonly untilAt: number;
}

/** Within this of the dew point nothing may be spread (design MODEL §6). */
const HOLD_K = 3;
/** A dry bay's distance: the axis reaches at least so far. */
const USUAL_DISTANCE_K = 6;
/** Spans of batches are faint, so that several at once show as more. */
const FILM_SHARE = 0.3;

/** The chart of a climate; plain data but for the plugin that paints the batches. */
export function makeClimateChart(
  { climate, batches }: Pick<CostWire, 'climate' | 'batches'>,
  options: ClimateChartOptions,
): ClimateChartConfig {
  return {
    type: 'line',
    data: { datasets: [...linesOf(climate, options), boundOf(options)] },
    options: {
      animation: false,
      parsing: false,
      normalized: true,
      responsive: true,
      maintainAspectRatio: false,
      scales: scalesOf(options),
      plugins: { legend: { display: false } },
    },
    plugins: [paintSpans(spansOf(batches), options.look.film)],
  };
}

function linesOf(climate: CostWire['climate'], { look, names, units }: ClimateChartOptions) {
  const atEpochs = climate.at.map((text) => Date.parse(text));
  const line = (
    name: 'air' | 'panel' | 'distance' | 'humidity',
    {
      values,
      yAxisID,
      borderDash,
    }: { values: readonly (number | null)[]; yAxisID: string; borderDash: number[] },
  ) => ({
    label: names[name],
    yAxisID,
    data: atEpochs.map((x, index): ClimatePoint => ({ x, y: values[index] ?? null })),
    borderColor: look[name],
    backgroundColor: look[name],
    borderWidth: 2,
    borderDash,
    pointRadius: 0,
    spanGaps: false,
  });
  const { airTemperatureC, panelTemperatureC, dewDistanceK, relativeHumidityPct } = climate;
  const temperatures = (valuesC: readonly (number | null)[]) =>
    valuesC.map((valueC) => (valueC === null ? null : shownTemperature(valueC, units)));
  const distances = dewDistanceK.map((valueK) => (valueK === null ? null : shownDifference(valueK, units)));
  return [
    line('air', { values: temperatures(airTemperatureC), yAxisID: 'y', borderDash: [] }),
    line('panel', { values: temperatures(panelTemperatureC), yAxisID: 'y', borderDash: [2, 3] }),
    line('distance', { values: distances, yAxisID: 'distance', borderDash: [] }),
    line('humidity', { values: relativeHumidityPct, yAxisID: 'humidity', borderDash: [6, 4] }),
  ];
}

/** Below this line nothing may be spread. */
function boundOf({ look, names, units, fromAt, untilAt }: ClimateChartOptions) {
  const y = shownDifference(HOLD_K, units);
  return {
    label: names.hold,
    yAxisID: 'distance',
    data: [
      { x: fromAt, y },
      { x: untilAt, y },
    ],
    borderColor: look.hold,
    backgroundColor: look.hold,
    borderWidth: 1.5,
    pointRadius: 0,
  };
}

/** When batches were open. */
export function spansOf(batches: CostWire['batches']): OpenSpan[] {
  return batches.map(({ mixedAt, untilAt }) => ({
    fromAt: Date.parse(mixedAt),
    untilAt: Date.parse(untilAt),
  }));
}

function scalesOf({ look, formatTick, units, fromAt, untilAt, tickEveryMs }: ClimateChartOptions) {
  const grid = { color: look.line, tickLength: 4 };
  const pane = (stackWeight: number) => ({
    stack: 'panes',
    stackWeight,
    offset: true,
    grid,
    border: { color: look.line },
    ticks: { color: look.ink, maxTicksLimit: 4, precision: 0 },
  });
  return {
    x: {
      type: 'linear' as const,
      min: fromAt,
      max: untilAt,
      grid,
      ticks: {
        color: look.ink,
        stepSize: tickEveryMs,
        maxRotation: 0,
        autoSkipPadding: 12,
        callback: (value: number | string) => formatTick(Number(value)),
      },
    },
    // The last pane of a stack stands on top.
    humidity: { ...pane(2), suggestedMin: 40, suggestedMax: 80 },
    distance: { ...pane(2), suggestedMin: 0, suggestedMax: shownDifference(USUAL_DISTANCE_K, units) },
    y: { ...pane(4), grace: '8%' as const },
  };
}

/** Paints each span over the full height, thinning out at both ends like spread filler. */
function paintSpans(spans: readonly OpenSpan[], film: string): Plugin<'line'> {
  return {
    id: 'openSpans',
    beforeDatasetsDraw({ ctx, chartArea, scales }: Chart<'line'>) {
      const axis = scales['x'];
      if (axis === undefined) return;
      ctx.save();
      ctx.globalAlpha = FILM_SHARE;
      for (const { fromAt, untilAt } of spans) {
        const left = Math.max(chartArea.left, axis.getPixelForValue(fromAt));
        const right = Math.min(chartArea.right, Math.max(left + 2, axis.getPixelForValue(untilAt)));
        if (right <= left) continue;
        ctx.fillStyle = film;
        ctx.fillRect(left, chartArea.top, right - left, chartArea.bottom - chartArea.top);
      }
      ctx.restore();
    },
  };
}
