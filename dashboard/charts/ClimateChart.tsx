// Draws a bay's climate; a chunk of its own, loaded with the Air screen's first chart.
import { Chart, LinearScale, LineController, LineElement, PointElement } from 'chart.js';
import { useEffect, useRef } from 'preact/hooks';
import type { CostWire } from '../../server/contract/index.ts';
import { type ClimateChartOptions, type ClimateLook, makeClimateChart } from './makeClimateChart.ts';

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
  useEffect(() => {
    const element = canvas.current;
    if (element === null) return;
    const draw = (): Chart<'line'> =>
      new Chart(
        element,
        makeClimateChart(cost, {
          look: lookOf(element),
          names,
          units,
          formatTick,
          fromAt,
          untilAt,
          tickEveryMs,
        }),
      );
    let chart = draw();
    const scheme = matchMedia('(prefers-color-scheme: dark)');
    const redraw = (): void => {
      chart.destroy();
      chart = draw();
    };
    scheme.addEventListener('change', redraw);
    return () => {
      scheme.removeEventListener('change', redraw);
      chart.destroy();
    };
  }, [cost, names, units, formatTick, fromAt, untilAt, tickEveryMs, look]);
  return (
    <div class="climate-chart">
      <canvas ref={canvas} role="img" aria-label={label} />
    </div>
  );
}

/** A token holds both its colours; what the canvas paints with is the one the page uses now. */
function lookOf(canvas: HTMLElement): ClimateLook {
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
    distance: colour('--putty-chart'),
    hold: colour('--soon-ink'),
    film: colour('--putty-wet'),
  };
}
