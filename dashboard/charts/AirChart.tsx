// Draws the air chart; a chunk of its own, loaded when somebody opens it.
import { Chart, Legend, LinearScale, LineController, LineElement, PointElement } from 'chart.js';
import { useCallback, useRef } from 'preact/hooks';
import type { AirColumnsWire } from '../../server/contract/index.ts';
import { makeAirChart, type AirChartOptions } from './makeAirChart.ts';
import { AIR_TOKENS, coloursOf, useChart } from './useChart.ts';

Chart.register(LineController, LineElement, PointElement, LinearScale, Legend);

export interface AirChartProps {
  readonly columns: AirColumnsWire;
  readonly label: string;
  readonly names: AirChartOptions['names'];
  readonly units: AirChartOptions['units'];
  readonly formatTick: (instantAt: number) => string;
}

/** The chart on its canvas, in the colours of the page. */
export function AirChart({ columns, label, names, units, formatTick }: AirChartProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const draw = useCallback(
    (element: HTMLCanvasElement) =>
      new Chart(
        element,
        makeAirChart(columns, { look: coloursOf(element, AIR_TOKENS), names, units, formatTick }),
      ),
    [columns, names, units, formatTick],
  );
  useChart(canvas, draw);
  return (
    <div class="air-chart">
      <canvas ref={canvas} role="img" aria-label={label} />
    </div>
  );
}
