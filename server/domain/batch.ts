// The state of one batch: the fold of its facts. Each field is copied from facts, nothing is computed here.
import type { AlertKind, Instant, Stage } from '../contract/index.ts';
import type { BatchId, BatchInputs, Estimate, FactType, Sequence, Watch } from './facts.ts';

/** From an instant on the batch stands in a bay. */
export interface Stay {
  readonly bayId: string;
  readonly fromAt: Instant;
}

export interface LampSpell {
  readonly lampId: string;
  readonly fromAt: Instant;
  readonly untilAt: Instant;
  readonly distanceCm: number | null;
  readonly fluxWPerM2: number;
}

export interface Check {
  readonly at: Instant;
  readonly outcome: 'gums' | 'powders';
  readonly firstTry: boolean | null;
  readonly by: string | null;
}

export interface Alert {
  readonly id: string;
  readonly kind: AlertKind;
  /** P50 of a window that moved: as it was told, and as it is. */
  readonly movedFromAt: Instant | null;
  readonly movedToAt: Instant | null;
  readonly raisedAt: Instant;
  readonly acknowledgedAt: Instant | null;
  readonly withdrawnAt: Instant | null;
}

/** The act that undo would take back. */
export interface LastAct {
  readonly factSequence: Sequence;
  readonly type: FactType;
  readonly recordedAt: Instant;
  readonly by: string | null;
}

export interface BatchState extends BatchInputs {
  readonly id: BatchId;
  /** Counts people's acts; an estimate that moves leaves it alone, so a tap is not refused because the air changed. */
  readonly version: number;
  readonly stage: Stage;
  readonly by: string | null;
  readonly spreadAt: Instant | null;
  readonly sandingAt: Instant | null;
  readonly closedAt: Instant | null;
  /** In order of time; the last one is where the batch stands now. */
  readonly stays: readonly Stay[];
  readonly lamps: readonly LampSpell[];
  readonly checks: readonly Check[];
  readonly alerts: readonly Alert[];
  readonly lastAct: LastAct | null;
  readonly estimate: Estimate | null;
  /** The last act that moves the estimate. */
  readonly steeringSequence: Sequence;
  /** What the alert rules remember beside the estimate; null before the first one. */
  readonly watch: Watch | null;
}

/** Whether the film still cures: only then is it estimated. */
export function isCuring(state: BatchState): boolean {
  return state.stage === 'wet' || state.stage === 'kicked' || state.stage === 'test';
}

/** Whether a person still has something to do on it. */
export function isOpen(state: BatchState): boolean {
  return isCuring(state) || state.stage === 'sanding';
}
