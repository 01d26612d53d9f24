// Signs: what an estimate says that people must hear of once it lasts. Which are there, and since when, is decided with each
// estimate that people see and stored with it, so that hold times need no timer and survive a restart.
import type { AlertKind, Instant, NoteCode } from '../contract/index.ts';
import type { Alert, BatchState } from './batch.ts';
import type { Estimate, Phase, Sign, SignKind, Watch } from './facts.ts';
import { minutesBetween } from './minutes.ts';

/** Raised for the whole shop, so that many of a kind become one line. */
export type WarningKind = Exclude<AlertKind, 'spreadBy' | 'test'>;

/** A window that moved later by more than both of these is slowing: minutes, and per cent of its own minutes. */
export interface SlowingSettings {
  readonly slowingMin: number;
  readonly slowingPct: number;
}

export interface WatchInputs {
  readonly estimate: Estimate;
  readonly phase: Phase;
  readonly nowAt: Instant;
  readonly settings: SlowingSettings;
}

/**
 * What to remember beside an estimate that people will see. An act that moves the window starts anew: what people saw
 * after their own tap is told, and a sign that it ended is gone at once.
 */
export function watchEstimate(state: BatchState, inputs: WatchInputs): Watch {
  const { steeringSequence } = state;
  const held = state.watch?.steeringSequence === steeringSequence ? state.watch : null;
  const toldP50At = held?.toldP50At ?? inputs.estimate.p50At;
  const signs: Partial<Record<SignKind, Sign>> = {};
  for (const kind of SIGN_KINDS) {
    if (!hasMeaning(kind, { phase: inputs.phase, spreadAt: state.spreadAt })) continue;
    const isPresent = isSignPresent(kind, { ...inputs, state, toldP50At });
    const before = isOfOldLine(kind, state, held?.signs[kind]) ? undefined : held?.signs[kind];
    if (before?.isPresent === isPresent) signs[kind] = before;
    else if (before !== undefined || isPresent) signs[kind] = { isPresent, sinceAt: inputs.nowAt };
  }
  return { steeringSequence, toldP50At, signs };
}

/** A wet panel matters while the mix is not spread on it, a later window until it is time to test. */
export function hasMeaning(
  kind: SignKind,
  { phase, spreadAt }: { phase: Phase; spreadAt: Instant | null },
): boolean {
  if (kind === 'condensation') return phase === 'wet' && spreadAt === null;
  return kind === 'slowing' || kind === 'slowingMore' ? phase !== 'test' : true;
}

interface SignQuestion extends WatchInputs {
  readonly state: BatchState;
  readonly toldP50At: Instant | null;
}

function isSignPresent(kind: SignKind, question: SignQuestion): boolean {
  const { state, estimate, toldP50At } = question;
  if (kind === 'slowing') return isLater(question, toldP50At);
  if (kind !== 'slowingMore') return estimate.notes.includes(NOTES[kind]);
  return isLater(question, slowingLine(state)?.movedToAt ?? null);
}

/** A window is later than it was told to be in the line that is open now, not in the one before. */
function isOfOldLine(kind: SignKind, state: BatchState, sign: Sign | undefined): boolean {
  const raisedAt = slowingLine(state)?.raisedAt;
  return kind === 'slowingMore' && sign !== undefined && raisedAt !== undefined && sign.sinceAt <= raisedAt;
}

function slowingLine({ alerts }: BatchState): Alert | undefined {
  return alerts.findLast((alert) => alert.kind === 'slowing' && alert.withdrawnAt === null);
}

/** Whether P50 lies later than it was told by more than the settings allow; a film that stalls is later than any time. */
function isLater({ state, estimate, settings }: SignQuestion, toldAt: Instant | null): boolean {
  if (toldAt === null) return false;
  if (estimate.p50At === null) return true;
  const { slowingMin, slowingPct } = settings;
  const allowedMin = Math.max(slowingMin, (slowingPct / 100) * minutesBetween(state.mixedAt, toldAt));
  return minutesBetween(toldAt, estimate.p50At) > allowedMin;
}

const SIGN_KINDS: readonly SignKind[] = ['slowing', 'slowingMore', 'condensation', 'tooCold', 'tooHot'];

const NOTES: Readonly<Record<Exclude<SignKind, 'slowing' | 'slowingMore'>, NoteCode>> = {
  condensation: 'condensation-hold',
  tooCold: 'too-cold',
  tooHot: 'too-hot',
};
