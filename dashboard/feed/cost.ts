// Reads what a bay's air cost.
import type { CostWire } from '../../server/contract/index.ts';
import type { CostRead, CostRequest } from '../state/air.ts';
import { getJson } from './http.ts';

/** What the cold cost a bay between two instants. */
export async function readCost({ bayId, fromAt, untilAt, cardId, ...heat }: CostRequest): Promise<CostRead> {
  const query = new URLSearchParams({
    from: new Date(fromAt).toISOString(),
    to: new Date(untilAt).toISOString(),
    heatFrom: heat.heatFrom,
    heatTo: heat.heatTo,
    heatC: String(heat.heatC),
    ...(cardId === null ? {} : { cardId }),
  });
  const answer = await getJson(`/bays/${encodeURIComponent(bayId)}/cost?${query.toString()}`);
  if (answer.kind !== 'answered') {
    return { kind: 'unread', why: answer.kind === 'unanswered' ? answer.why : 'server' };
  }
  return isCost(answer.body) ? { kind: 'read', cost: answer.body } : { kind: 'unread', why: 'server' };
}

function isCost(value: unknown): value is CostWire {
  return typeof value === 'object' && value !== null && 'addedMin' in value && 'climate' in value;
}
