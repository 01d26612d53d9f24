// A chart on its canvas, in the colours that the page uses now.
import type { Chart } from 'chart.js';
import type { RefObject } from 'preact';
import { useEffect } from 'preact/hooks';

/** Draws a chart, and draws it anew when `draw` is another (useCallback) or the page turns light or dark, by choice or by itself. */
export function useChart(
  canvas: RefObject<HTMLCanvasElement | null>,
  draw: (element: HTMLCanvasElement) => Chart<'line'>,
  look = '',
): void {
  useEffect(() => {
    const element = canvas.current;
    if (element === null) return undefined;
    let chart = draw(element);
    const scheme = matchMedia('(prefers-color-scheme: dark)');
    const redraw = (): void => {
      chart.destroy();
      chart = draw(element);
    };
    scheme.addEventListener('change', redraw);
    return () => {
      scheme.removeEventListener('change', redraw);
      chart.destroy();
    };
  }, [canvas, draw, look]);
}

/** The tokens of what every chart of air shows. */
export const AIR_TOKENS = {
  ink: '--ink-soft',
  line: '--line',
  air: '--ink',
  panel: '--putty-chart',
  humidity: '--ink-faint',
} as const;

/** A token holds both its colours; what the canvas paints with is the one the page uses now. */
export function coloursOf<Name extends string>(
  canvas: HTMLElement,
  tokens: Readonly<Record<Name, string>>,
): Record<Name, string> {
  const colours = Object.entries<string>(tokens).map(([name, token]) => {
    canvas.style.color = `var(${token})`;
    return [name, getComputedStyle(canvas).color];
  });
  return Object.fromEntries(colours) as Record<Name, string>;
}
