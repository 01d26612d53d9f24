// Figures as Prometheus reads them: the text format 0.0.4, https://prometheus.io/docs/instrumenting/exposition_formats/
import type { MetricRow } from '../../application/ports/counters.ts';

/** One number of a figure. */
export interface Sample {
  /** What stands behind the figure's name: of a histogram _bucket, _sum and _count. */
  readonly suffix: string;
  readonly labels: readonly (readonly [name: string, value: string])[];
  /** In the unit that the figure's name says. */
  readonly measurement: number;
}

/** Writes figures in the order of their table; one without a number is left out. */
export function renderMetrics(
  table: readonly MetricRow[],
  samplesOf: (name: string) => readonly Sample[],
): string {
  const lines: string[] = [];
  for (const { name, type, help } of table) {
    const samples = samplesOf(name);
    if (samples.length === 0) continue;
    lines.push(`# HELP ${name} ${escapeHelp(help)}`, `# TYPE ${name} ${type}`);
    for (const sample of samples) lines.push(lineOf(name, sample));
  }
  return `${lines.join('\n')}\n`;
}

function lineOf(name: string, { suffix, labels, measurement }: Sample): string {
  const texts = labels.map(([label, value]) => `${label}="${escapeLabel(value)}"`);
  const braced = texts.length === 0 ? '' : `{${texts.join(',')}}`;
  return `${name}${suffix}${braced} ${formatNumber(measurement)}`;
}

function escapeHelp(text: string): string {
  return text.replaceAll('\\', '\\\\').replaceAll('\n', '\\n');
}

function escapeLabel(text: string): string {
  return escapeHelp(text).replaceAll('"', '\\"');
}

function formatNumber(measurement: number): string {
  if (measurement === Infinity) return '+Inf';
  return measurement === -Infinity ? '-Inf' : String(measurement);
}
