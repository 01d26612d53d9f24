// GET /metrics, and the list of figures for the API's page: both from the one table.
import type { RequestHandler } from 'express';
import { METRICS } from '../../application/ports/counters.ts';

/** The text format's own media type: https://prometheus.io/docs/instrumenting/exposition_formats/ */
const METRICS_TYPE = 'text/plain; version=0.0.4; charset=utf-8';

/** Answers with every figure as text. */
export function makeMetricsRoute(readMetrics: () => Promise<string>): RequestHandler {
  return async (_request, response) => {
    const text = await readMetrics();
    response.set('Content-Type', METRICS_TYPE).send(text);
  };
}

/** Every figure with its labels and what it means, for the API's page. */
export function listMetrics(): string {
  const rows = METRICS.map(
    ({ name, type, labels, help }) =>
      `<tr><td><code>${name}</code></td><td>${type}</td><td>${labels.join(', ')}</td><td>${help}</td></tr>`,
  );
  return `<h2 id="metrics">Figures</h2><p><a href="/metrics"><code>GET /metrics</code></a> in the Prometheus text format.</p>
<div class="wide"><table><thead><tr><th>Name</th><th>Type</th><th>Labels</th><th>Meaning</th></tr></thead><tbody>
${rows.join('\n')}</tbody></table></div>`;
}
