// The rules of one batch's alerts: which calls it raises by itself, how long a warning must last, whom each is for.
import type { AlertKind, AlertPlace, Instant } from '../contract/index.ts';
import { hasMeaning, type SlowingSettings, type WarningKind } from './alertSigns.ts';
import { type BatchState, isCuring } from './batch.ts';
import type { Card } from './card.ts';
import type { Estimate, Phase, SignKind } from './facts.ts';
import { instantAfter } from './minutes.ts';
import { kickedAtFrom } from './phase.ts';

export interface AlertSettings extends SlowingSettings {
  /** How long before the mix kicks "spread by" is said. */
  readonly spreadByS: number;
  /** How long a "test" may go unanswered. */
  readonly waitingMin: number;
  /** How long a sensor that spoke before may say nothing. */
  readonly sensorQuietMin: number;
}

/** Called by the batch itself, at once and never folded: what its technician waits for. */
export type CallKind = 'spreadBy' | 'test';

/** What the rules look at. */
export interface AlertQuestion {
  readonly estimate: Estimate;
  readonly phase: Phase;
  readonly card: Card;
  readonly nowAt: Instant;
  readonly settings: AlertSettings;
}

/** How long the reason of a warning must last before people hear of it, and be gone before the warning goes. */
export interface Hold {
  readonly raiseMin: number;
  readonly withdrawMin: number;
}

/** Calls that are due now and may be made: the same one at most once a minute, whatever taps and air do in between. */
export function dueCalls(state: BatchState, question: AlertQuestion): CallKind[] {
  const { phase, nowAt } = question;
  const due: CallKind[] = [];
  if (isUnspread(state, phase) && nowAt >= spreadByFrom(state, question)) due.push('spreadBy');
  if (phase === 'test') due.push('test');
  return due.filter((kind) => nowAt >= (againFrom(state, kind) ?? nowAt));
}

/**
 * Whether an open alert of a batch stays: its reason is there, or was not gone for long.
 * "Spread by" also stays while its time moved later by no more than a minute.
 */
export function isKept(state: BatchState, kind: AlertKind, question: AlertQuestion): boolean {
  const { phase, nowAt } = question;
  if (kind === 'spreadBy')
    return isUnspread(state, phase) && nowAt >= instantAfter(spreadByFrom(state, question), -AGAIN_MIN);
  return kind === 'test' ? phase === 'test' : isWarningKept(state, kind, nowAt);
}

/** The same for warnings, which need no more than the state as it is held. */
export function isWarningKept(state: BatchState, kind: WarningKind, nowAt: Instant): boolean {
  if (!isCuring(state)) return false;
  if (kind === 'waiting') return state.stage === 'test';
  const sign = state.watch?.signs[kind as SignKind];
  if (
    sign === undefined ||
    !hasMeaning(kind as SignKind, { phase: state.stage as Phase, spreadAt: state.spreadAt })
  )
    return false;
  return sign.isPresent || nowAt < instantAfter(sign.sinceAt, HOLDS[kind].withdrawMin);
}

/** Instants at which a call, a phase or a stay may turn, in no order; the clock is set to the next of them. */
export function turningInstants(
  state: BatchState,
  question: Omit<AlertQuestion, 'phase' | 'nowAt'>,
): Instant[] {
  const { estimate } = question;
  const turns: Instant[] = [kickedAtFrom(state, question)];
  if (state.spreadAt === null) turns.push(spreadByFrom(state, question));
  if (estimate.testFromAt !== null) turns.push(estimate.testFromAt);
  for (const kind of ['spreadBy', 'test'] as const) turns.push(...listOf(againFrom(state, kind)));
  for (const kind of ['slowing', 'condensation', 'tooCold', 'tooHot'] as const) {
    const sign = state.watch?.signs[kind];
    if (sign?.isPresent === false) turns.push(instantAfter(sign.sinceAt, HOLDS[kind].withdrawMin));
  }
  return turns;
}

function isUnspread(state: BatchState, phase: Phase): boolean {
  return phase === 'wet' && state.spreadAt === null;
}

function spreadByFrom(
  state: BatchState,
  { estimate, card, settings }: Pick<AlertQuestion, 'estimate' | 'card' | 'settings'>,
): Instant {
  return instantAfter(kickedAtFrom(state, { estimate, card }), -settings.spreadByS / 60);
}

/** From when on a call that was made and withdrawn may be made again; null for any other. */
function againFrom(state: BatchState, kind: CallKind): Instant | null {
  const last = state.alerts.findLast((alert) => alert.kind === kind);
  return last === undefined || last.withdrawnAt === null ? null : instantAfter(last.raisedAt, AGAIN_MIN);
}

function listOf(instantAt: Instant | null): Instant[] {
  return instantAt === null ? [] : [instantAt];
}

/** The same alert (its kind and what it is about) is never raised twice within this time [min] (design PRODUCT §4). */
export const AGAIN_MIN = 1;

/**
 * Hold times, all chosen. Sensors speak about once a minute, so two minutes are two readings that agree and half a minute
 * is none: a wet panel or a hot lamp cannot wait. Withdrawals are slower than raises, so that a reason that comes and goes
 * stays one line. A test that waits and a sensor that is quiet have their hold in the settings, and the first act or
 * reading ends them; that a sensor is back waits a minute for the others, and is shown for ten.
 */
export const HOLDS: Readonly<Record<WarningKind | 'slowingMore', Hold>> = {
  waiting: { raiseMin: 0, withdrawMin: 0 },
  slowing: { raiseMin: 2, withdrawMin: 5 },
  slowingMore: { raiseMin: 2, withdrawMin: 0 },
  condensation: { raiseMin: 0.5, withdrawMin: 5 },
  tooCold: { raiseMin: 2, withdrawMin: 10 },
  tooHot: { raiseMin: 0.5, withdrawMin: 2 },
  sensorQuiet: { raiseMin: 0, withdrawMin: 0 },
  sensorBack: { raiseMin: 1, withdrawMin: 10 },
};

/** Whom each kind is for (design PRODUCT §4). */
export const AUDIENCES: Readonly<Record<AlertKind, readonly AlertPlace[]>> = {
  spreadBy: ['bench'],
  test: ['bench'],
  waiting: ['floor'],
  slowing: ['bench', 'floor'],
  condensation: ['bench', 'floor'],
  tooCold: ['bench', 'floor'],
  tooHot: ['bench', 'floor'],
  sensorQuiet: ['floor', 'setup'],
  sensorBack: ['floor', 'setup'],
};
