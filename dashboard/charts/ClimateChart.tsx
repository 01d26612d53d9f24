// Draws a bay's climate; a chunk of its own, loaded with the Air screen's first chart.
import { Chart, LinearScale, LineController, LineElement, PointElement } from 'chart.js';
import { useCallback, useRef } from 'preact/hooks';
import type { CostWire } from '../../server/contract/index.ts';
import { type ClimateChartOptions, makeClimateChart } from './makeClimateChart.ts';
import { AIR_TOKENS, coloursOf, useChart } from './useChart.ts';

Chart.register(LineController, LineElement, PointElement, LinearScale);

export interface ClimateChartProps extends Omit<ClimateChartOptions, 'look'> {
  readonly cost: Pick<CostWire, 'climate' | 'batches'>;
  readonly label: string;
  /** Light or dark as chosen; another one draws anew. */
  readonly look: string;
}

/** The chart on its canvas, in the colours of the page. */
export function ClimateChart({ cost, label, look, ...options }: ClimateChartProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const { names, units, formatTick, fromAt, untilAt, tickEveryMs } = options;
  const draw = useCallback(
    (element: HTMLCanvasElement) =>
      new Chart(
        element,
        makeClimateChart(cost, {
          look: coloursOf(element, TOKENS),
          names,
          units,
          formatTick,
          fromAt,
          untilAt,
          tickEveryMs,
        }),
      ),
    [cost, names, units, formatTick, fromAt, untilAt, tickEveryMs],
  );
  useChart(canvas, draw, look);
  return (
    <div class="climate-chart">
      <canvas ref={canvas} role="img" aria-label={label} />
    </div>
  );
}

const TOKENS = {
  ...AIR_TOKENS,
  distance: '--putty-chart',
  hold: '--soon-ink',
  film: '--putty-wet',
} as const;
