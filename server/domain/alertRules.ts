// Which alerts a batch should have open now: pure rules, compared with those that are open.
import type { AlertKind, Instant } from '../contract/index.ts';
import type { BatchState } from './batch.ts';
import type { Card } from './card.ts';
import type { Estimate, Phase } from './facts.ts';
import { instantAfter } from './minutes.ts';
import { kickedAtFrom } from './phase.ts';

export interface AlertSettings {
  readonly spreadByS: number;
  readonly waitingMin: number;
}

/** What the rules look at. */
export interface AlertQuestion {
  readonly estimate: Estimate;
  readonly phase: Phase;
  readonly card: Card;
  readonly nowAt: Instant;
  readonly settings: AlertSettings;
}

/** The kinds that have a reason now. */
export function dueAlerts(state: BatchState, question: AlertQuestion): AlertKind[] {
  const { phase, nowAt } = question;
  const due: AlertKind[] = [];
  if (phase === 'wet' && state.spreadAt === null && nowAt >= spreadByFrom(state, question))
    due.push('spreadBy');
  if (phase === 'test') due.push('test');
  if (phase === 'test' && nowAt >= waitingFrom(question)) due.push('waiting');
  return due;
}

/** Instants at which a rule or the phase may turn, in no order; the clock is set to the next of them. */
export function turningInstants(
  state: BatchState,
  question: Omit<AlertQuestion, 'phase' | 'nowAt'>,
): Instant[] {
  const turns: Instant[] = [kickedAtFrom(state, question)];
  if (state.spreadAt === null) turns.push(spreadByFrom(state, question));
  if (question.estimate.testFromAt !== null) turns.push(question.estimate.testFromAt, waitingFrom(question));
  return turns;
}

function spreadByFrom(
  state: BatchState,
  { estimate, card, settings }: Pick<AlertQuestion, 'estimate' | 'card' | 'settings'>,
): Instant {
  return instantAfter(kickedAtFrom(state, { estimate, card }), -settings.spreadByS / 60);
}

function waitingFrom({ estimate, settings }: Pick<AlertQuestion, 'estimate' | 'settings'>): Instant {
  return instantAfter(estimate.testFromAt as Instant, settings.waitingMin);
}
