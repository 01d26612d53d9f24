// Draws the air chart; a chunk of its own, loaded when somebody opens it.
import { Chart, Legend, LinearScale, LineController, LineElement, PointElement } from 'chart.js';
import { useEffect, useRef } from 'preact/hooks';
import type { AirColumnsWire } from '../../server/contract/index.ts';
import { makeAirChart, type AirChartLook, type AirChartOptions } from './makeAirChart.ts';

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
  useEffect(() => {
    if (canvas.current === null) return;
    const config = makeAirChart(columns, { look: lookOf(canvas.current), names, units, formatTick });
    const chart = new Chart(canvas.current, config);
    return () => chart.destroy();
  }, [columns, names, units, formatTick]);
  return (
    <div class="air-chart">
      <canvas ref={canvas} role="img" aria-label={label} />
    </div>
  );
}

/** A token holds both its colours; what the canvas paints with is the one the page uses now. */
function lookOf(canvas: HTMLElement): AirChartLook {
  const colour = (token: string): string => {
    canvas.style.color = `var(${token})`;
    return getComputedStyle(canvas).color;
  };
  return {
    ink: colour('--ink-soft'),
    line: colour('--line'),
    air: colour('--ink'),
    panel: colour('--putty-chart'),
    humidity: colour('--ink-faint'),
  };
}
