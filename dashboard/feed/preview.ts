// Asks what an estimate would be, once the choices behind the question have rested for a moment. Nothing is stored.
import type { EstimateWire, PreviewBatch, StartBatchWire } from '../../server/contract/index.ts';
import type { Previewed } from '../state/previewed.ts';
import { postJson } from './http.ts';

const REST_MS = 250;

/** What would be; null when the question was dropped meanwhile. */
export async function readPreview(
  body: StartBatchWire | PreviewBatch,
  signal: AbortSignal,
): Promise<Previewed | null> {
  await new Promise((resolve) => {
    setTimeout(resolve, REST_MS);
  });
  if (signal.aborted) return null;
  const answer = await postJson('/previews', body);
  if (signal.aborted) return null;
  if (answer.kind !== 'answered') return answer;
  return isEstimate(answer.body)
    ? { kind: 'estimate', estimate: answer.body }
    : { kind: 'unanswered', why: 'server' };
}

function isEstimate(value: unknown): value is EstimateWire {
  return typeof value === 'object' && value !== null && 'spreadUntilAt' in value && 'testFromAt' in value;
}
