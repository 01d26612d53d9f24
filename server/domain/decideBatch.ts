// What a new estimate means for a batch: whether people must see it, where the batch stands, which alerts come and go.
import type { Instant } from '../contract/index.ts';
import { type AlertSettings, dueCalls, isKept } from './alertRules.ts';
import { watchEstimate } from './alertSigns.ts';
import { type Alert, type BatchState, isCuring } from './batch.ts';
import type { Card } from './card.ts';
import type { Estimate, FactBodies, FactDraft, FactType, Phase } from './facts.ts';
import { phaseAt } from './phase.ts';

export interface DecideInputs {
  readonly card: Card;
  readonly nowAt: Instant;
  readonly alerts: AlertSettings;
}

const PHASES: readonly Phase[] = ['wet', 'kicked', 'test'];
/** A time that moved by no more than this is the same to people. */
const VISIBLE_MS = 15_000;

/**
 * Decides on a batch; estimate is null when it no longer cures, and then only its alerts are looked after.
 * Warnings are raised for the whole shop (decideAlerts); here they only end.
 */
export function decideBatch(state: BatchState, estimate: Estimate | null, inputs: DecideInputs): FactDraft[] {
  const { card, nowAt, alerts: settings } = inputs;
  if (estimate === null || !isCuring(state)) return withdrawAlerts(state, { isKept: () => false, nowAt });
  const phase = laterPhase(state.stage as Phase, phaseAt(state, { estimate, card, nowAt }));
  const facts: FactDraft[] = [];
  let seen = state;
  if (phase !== state.stage || isVisiblyNew(state.estimate, estimate) || isSteered(state)) {
    const watch = watchEstimate(state, { estimate, phase, nowAt, settings });
    facts.push(decided(state, 'EstimateChanged', { body: { estimate, phase, watch }, nowAt }));
    seen = { ...state, estimate, stage: phase, watch };
  }
  const question = { estimate, phase, card, nowAt, settings };
  for (const kind of dueCalls(seen, question)) {
    const earlier = state.alerts.filter((alert) => alert.kind === kind);
    if (earlier.some((alert) => alert.withdrawnAt === null)) continue;
    const alertId = `${state.id}.${kind}.${earlier.length + 1}`;
    facts.push(decided(state, 'AlertRaised', { body: { alertId, kind }, nowAt }));
  }
  const ended = withdrawAlerts(seen, { isKept: ({ kind }) => isKept(seen, kind, question), nowAt });
  return [...facts, ...ended];
}

/** Whether somebody has acted on the window since it was told: what they see after their own tap is told anew. */
function isSteered({ watch, steeringSequence }: BatchState): boolean {
  return watch !== null && watch.steeringSequence !== steeringSequence;
}

function withdrawAlerts(
  state: BatchState,
  { isKept: stays, nowAt }: { isKept: (alert: Alert) => boolean; nowAt: Instant },
): FactDraft[] {
  return state.alerts
    .filter((alert) => alert.withdrawnAt === null && !stays(alert))
    .map((alert) => decided(state, 'AlertWithdrawn', { body: { alertId: alert.id }, nowAt }));
}

/** Time never takes a phase back, however the air changes: that only a person's "gums" or undo does. */
function laterPhase(held: Phase, reached: Phase): Phase {
  return PHASES.indexOf(held) > PHASES.indexOf(reached) ? held : reached;
}

/** Whether people would see a difference: a time by more than 15 s, a leading reason, a note, a support lost or found. */
export function isVisiblyNew(held: Estimate | null, fresh: Estimate): boolean {
  if (held === null) return true;
  return (
    hasMoved(held.kickedAt, fresh.kickedAt) ||
    hasMoved(held.p10At, fresh.p10At) ||
    hasMoved(held.p50At, fresh.p50At) ||
    hasMoved(held.p90At, fresh.p90At) ||
    hasMoved(held.buildP50At, fresh.buildP50At) ||
    hasMoved(held.edgeP50At, fresh.edgeP50At) ||
    hasMoved(held.testFromAt, fresh.testFromAt) ||
    held.supported !== fresh.supported ||
    held.modelVersion !== fresh.modelVersion ||
    held.reasons[0]?.code !== fresh.reasons[0]?.code ||
    held.notes.join() !== fresh.notes.join()
  );
}

function hasMoved(heldAt: Instant | null, freshAt: Instant | null): boolean {
  if (heldAt === null || freshAt === null) return heldAt !== freshAt;
  return Math.abs(freshAt - heldAt) > VISIBLE_MS;
}

function decided<T extends FactType>(
  state: BatchState,
  type: T,
  { body, nowAt }: { body: FactBodies[T]; nowAt: Instant },
): FactDraft {
  return { type, version: 1, at: nowAt, by: null, batchId: state.id, bayId: state.bayId, body } as FactDraft;
}
