// Asks what a mix would be estimated at, once its choices have rested for a moment.
import type { EstimateWire, StartBatchWire } from '../../server/contract/index.ts';
import { postJson } from './http.ts';

const REST_MS = 250;

const NOT_FOUND_STATUS = 404;

let latestIndex = 0;
/** An older program without previews is asked once. */
let isMissing = false;

/** The estimate of a mix that is not started; null when there is none, or when newer choices have overtaken it. */
export async function readPreview(start: StartBatchWire): Promise<EstimateWire | null> {
  latestIndex += 1;
  const ownIndex = latestIndex;
  await new Promise((resolve) => {
    setTimeout(resolve, REST_MS);
  });
  if (ownIndex !== latestIndex || isMissing) return null;
  const answer = await postJson('/previews', start);
  isMissing = answer.kind === 'refused' && answer.status === NOT_FOUND_STATUS;
  if (ownIndex !== latestIndex || answer.kind !== 'answered') return null;
  return isEstimate(answer.body) ? answer.body : null;
}

function isEstimate(value: unknown): value is EstimateWire {
  return typeof value === 'object' && value !== null && 'spreadUntilAt' in value && 'testFromAt' in value;
}
