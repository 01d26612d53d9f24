// The one way out: decided facts get their places, the views they change are folded, all is appended, then told.
import type { BatchState } from '../domain/batch.ts';
import { isOpen } from '../domain/batch.ts';
import { evolveBatch, foldBatch } from '../domain/evolveBatch.ts';
import type { BatchId, Fact, FactBodies, FactDraft, Sequence } from '../domain/facts.ts';
import type { KeptAnswer, ViewChange } from './ports/ledger.ts';
import { viewOfBatchAlert } from './present.ts';
import { publishChange } from './publishChange.ts';
import { noteLearned } from './heldEstimates.ts';
import { lessonViews } from './lessonViews.ts';
import type { Shop } from './shop.ts';

/** Most facts that one batch may gather; a batch that needs more is a defect somewhere. */
const BATCH_FACTS_MAX = 10_000;

/** What is known of a batch before a decision. */
export interface BatchHistory {
  readonly state: BatchState | null;
  readonly facts: readonly Fact[];
}

/** Reads a batch's facts and folds them; the state is null for one that never was. */
export async function readHistory(shop: Shop, batchId: BatchId): Promise<BatchHistory> {
  const facts = await shop.ledger.readFacts({
    afterSequence: 0 as Sequence,
    batchId,
    limit: BATCH_FACTS_MAX,
  });
  return { state: foldBatch(facts), facts };
}

/** Gives drafts their places after a head. */
export function placeFacts(shop: Pick<Shop, 'clock'>, drafts: readonly FactDraft[], head: Sequence): Fact[] {
  const recordedAt = shop.clock.nowAt();
  return drafts.map((draft, index) => ({ ...draft, sequence: (head + 1 + index) as Sequence, recordedAt }));
}

/** The history with these facts behind it. An undo folds everything again; all else moves on from the state. */
export function extendHistory(history: BatchHistory, added: readonly Fact[]): BatchHistory {
  const facts = [...history.facts, ...added];
  const { state } = history;
  if (state === null || added.some((fact) => fact.type === 'FactUndone'))
    return { state: foldBatch(facts), facts };
  return { state: added.reduce(evolveBatch, state), facts };
}

/** Appends facts of one batch with the views they change, and tells every screen. */
export async function appendFacts(
  shop: Shop,
  {
    head,
    state,
    facts,
    answer,
  }: { head: Sequence; state: BatchState; facts: readonly Fact[]; answer?: KeptAnswer },
): Promise<'appended' | 'conflict'> {
  const learned = await lessonViews(shop, state.cardId, facts);
  const views = [...viewsOf(state), ...learned];
  const appended = await shop.ledger.append({
    afterSequence: head,
    facts,
    views,
    ...(answer === undefined ? {} : { answer }),
  });
  if (appended.kind === 'conflict') return 'conflict';
  if (learned.length > 0) noteLearned(shop, state.cardId);
  if (facts.length > 0) publishChange(shop, { afterSequence: head, sequence: appended.sequence, state });
  return 'appended';
}

/** Open batches as their views stand. */
export async function readOpenBatches({ ledger }: Pick<Shop, 'ledger'>): Promise<BatchState[]> {
  const views = await ledger.readViews('batch', { openOnly: true });
  return views.map((view) => view.body as BatchState);
}

/** The view of a card: its statement with the constants found from it. */
export function cardViewFrom(body: FactBodies['CardCalibrated']): ViewChange {
  return { kind: 'card', id: body.cardId, isOpen: true, body };
}

/** The views that a batch's state stands behind: itself and its alerts. */
export function viewsOf(state: BatchState): ViewChange[] {
  const alerts = state.alerts.map((alert) => ({
    kind: 'alert' as const,
    id: alert.id,
    isOpen: alert.withdrawnAt === null && alert.acknowledgedAt === null,
    body: viewOfBatchAlert(state, alert),
  }));
  return [{ kind: 'batch', id: state.id, isOpen: isOpen(state), body: state }, ...alerts];
}
