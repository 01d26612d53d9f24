// A new batch: the person's few words and the shop's defaults become a fact, or a refusal.
import type { Instant, StartBatch } from '../contract/index.ts';
import type { Card } from './card.ts';
import { type Decision, refuse } from './decideCommand.ts';
import type { BatchId } from './facts.ts';
import { AHEAD_MAX_MIN, instantAfter } from './minutes.ts';

export interface StartInputs {
  readonly batchId: BatchId;
  readonly card: Card | null;
  readonly bayIds: readonly string[];
  readonly nowAt: Instant;
}

/** A mix may be dated back this far: a full working day. */
const DATED_BACK_MAX_MIN = 24 * 60;

/** Decides on a start; hardener is the card's and the mix is from now unless told otherwise. */
export function decideStart(body: StartBatch, { batchId, card, bayIds, nowAt }: StartInputs): Decision {
  if (card === null) return refuse('unknown-card', `There is no product "${body.cardId}" in this shop.`);
  if (!bayIds.includes(body.bayId))
    return refuse('unknown-bay', `There is no bay "${body.bayId}" in this shop.`);
  const mixedAt = body.mixedAt ?? nowAt;
  if (mixedAt > instantAfter(nowAt, AHEAD_MAX_MIN)) {
    return refuse('in-the-future', 'That time is still to come.', 'mixedAt');
  }
  if (mixedAt < instantAfter(nowAt, -DATED_BACK_MAX_MIN)) {
    return refuse('too-long-ago', 'A batch can be dated back by a day at most.', 'mixedAt');
  }
  const { rolledInAt = mixedAt } = body;
  if (rolledInAt > mixedAt)
    return refuse('in-the-future', 'The car rolls in before the mix is made.', 'rolledInAt');
  if (rolledInAt < instantAfter(mixedAt, -DATED_BACK_MAX_MIN)) {
    return refuse(
      'too-long-ago',
      'A car that came in more than a day ago is as warm as the bay.',
      'rolledInAt',
    );
  }
  return {
    kind: 'accepted',
    facts: [
      {
        type: 'BatchStarted',
        version: 1,
        at: Math.min(mixedAt, nowAt) as Instant,
        by: body.by ?? null,
        batchId,
        bayId: body.bayId,
        body: {
          cardId: card.id,
          panel: body.panel,
          repairOrder: body.repairOrder ?? null,
          promisedAt: body.promisedAt ?? null,
          remainingWorkMin: body.remainingWorkMin ?? null,
          bayId: body.bayId,
          thicknessMm: body.thicknessMm,
          substrate: body.substrate,
          hardenerPct: body.hardenerPct ?? card.hardenerPct,
          weighed: body.weighed ?? false,
          underlayMm: body.underlayMm ?? 0,
          mixedAt: Math.min(mixedAt, nowAt) as Instant,
          rolledInAt: body.rolledInAt ?? null,
          outdoorTemperatureC: body.outdoorTemperatureC ?? null,
          panelTemperatureC: body.panelTemperatureC ?? null,
        },
      },
    ],
  };
}
