// What people ask, answered with facts or with a refusal: the rules of a batch's life.
import type { BatchCommand, Instant, Refusal, RefusalCode } from '../contract/index.ts';
import { type BatchState, isCuring, isOpen } from './batch.ts';
import type { Card } from './card.ts';
import { isAct, undoneSequences } from './evolveBatch.ts';
import type { Fact, FactBodies, FactDraft, FactType, Sequence } from './facts.ts';
import { type Lamp, lampFluxAt } from './lamp.ts';
import { AHEAD_MAX_MIN, instantAfter, minutesBetween } from './minutes.ts';
import { phaseAt } from './phase.ts';

export interface CommandInputs {
  readonly card: Card;
  readonly nowAt: Instant;
  readonly bayIds: readonly string[];
  readonly lamps: readonly Lamp[];
  /** The batch's own facts, in order. */
  readonly facts: readonly Fact[];
}

export type Decision =
  | { readonly kind: 'accepted'; readonly facts: readonly FactDraft[] }
  | { readonly kind: 'refused'; readonly refusal: Refusal };

/** Undo reaches this far back. */
const UNDO_MAX_MIN = 10;

/** Decides on a command to a batch that exists. */
export function decideCommand(state: BatchState, command: BatchCommand, inputs: CommandInputs): Decision {
  if (command.expectedVersion !== undefined && command.expectedVersion !== state.version) {
    return refuse('version-stale', `This batch has moved on: it is at version ${state.version}.`);
  }
  const at = command.at ?? inputs.nowAt;
  const untimely = judgeTime(state, at, inputs.nowAt);
  if (untimely !== null) return untimely;
  const act = { state, inputs, at: Math.min(at, inputs.nowAt) as Instant, by: command.by ?? null };
  switch (command.type) {
    case 'markSpread':
      return markSpread(act);
    case 'recordCheck':
      return recordCheck(act, { outcome: command.outcome, firstTry: command.firstTry ?? null });
    case 'finishSanding':
      return finishSanding(act);
    case 'scrap':
      return scrap(act);
    case 'moveToBay':
      return moveToBay(act, command.bayId);
    case 'switchLamp':
      return switchLamp(act, command);
    case 'undo':
      return undo(act, command.factSequence as Sequence);
  }
}

interface Act {
  readonly state: BatchState;
  readonly inputs: CommandInputs;
  readonly at: Instant;
  readonly by: string | null;
}

function judgeTime(state: BatchState, at: Instant, nowAt: Instant): Decision | null {
  if (at > instantAfter(nowAt, AHEAD_MAX_MIN))
    return refuse('in-the-future', 'That time is still to come.', 'at');
  if (at < state.mixedAt) return refuse('before-mixing', 'That is before the batch was mixed.', 'at');
  return null;
}

function markSpread(act: Act): Decision {
  const { state } = act;
  if (!isCuring(state)) return refuseClosed(state);
  if (state.spreadAt !== null) return refuse('already-spread', 'This mix is marked as spread already.');
  return accept(act, 'BatchSpread', {});
}

function recordCheck(act: Act, body: FactBodies['CheckRecorded']): Decision {
  const { state, inputs } = act;
  if (!isCuring(state)) return refuseClosed(state);
  const isWet = phaseAt(state, { estimate: state.estimate, card: inputs.card, nowAt: act.at }) === 'wet';
  // What has kicked does not get wet again because the air turned colder; an act dated back may still fall into it.
  if (isWet && (state.stage === 'wet' || act.at < inputs.nowAt)) {
    return refuse('stage-wet', 'This mix was still wet then: there is nothing to test before it kicks.');
  }
  if ((state.checks.at(-1)?.at ?? act.at) > act.at) {
    return refuse('out-of-order', 'A later test is on record already.', 'at');
  }
  const check = fact(act, 'CheckRecorded', body);
  if (body.outcome === 'gums') return { kind: 'accepted', facts: [check] };
  return { kind: 'accepted', facts: [check, fact(act, 'SandingStarted', {})] };
}

function finishSanding(act: Act): Decision {
  if (act.state.stage === 'sanding' && act.at < (act.state.sandingAt as Instant)) {
    return refuse('out-of-order', 'That is before sanding began.', 'at');
  }
  if (act.state.stage === 'sanding') return accept(act, 'BatchSanded', {});
  if (!isOpen(act.state)) return refuseClosed(act.state);
  return refuse('stage-not-sanding', 'Nobody has started sanding this one: say "powders" first.');
}

function scrap(act: Act): Decision {
  return isOpen(act.state) ? accept(act, 'BatchScrapped', {}) : refuseClosed(act.state);
}

function moveToBay(act: Act, bayId: string): Decision {
  const { state, inputs } = act;
  if (!isCuring(state)) return refuseClosed(state);
  if (!inputs.bayIds.includes(bayId))
    return refuse('unknown-bay', `There is no bay "${bayId}" in this shop.`);
  if (bayId === state.bayId) return refuse('same-bay', 'This batch is in that bay already.');
  return accept(act, 'BatchMoved', { bayId });
}

function switchLamp(act: Act, command: Extract<BatchCommand, { type: 'switchLamp' }>): Decision {
  const { state, inputs } = act;
  if (!isCuring(state)) return refuseClosed(state);
  const lamp = inputs.lamps.find((one) => one.id === command.lampId);
  if (lamp === undefined) return refuse('unknown-lamp', `There is no lamp "${command.lampId}" in this shop.`);
  const distanceCm = command.distanceCm ?? null;
  // Switching off needs no distance that was measured.
  const fluxWPerM2 = command.forMin === 0 ? 0 : lampFluxAt(lamp, distanceCm);
  if (fluxWPerM2 === null) {
    return refuse(
      'unknown-distance',
      `This lamp is known at ${lamp.distances.map((d) => d.distanceCm).join(', ')} cm.`,
      'distanceCm',
    );
  }
  return accept(act, 'LampSwitched', { lampId: lamp.id, distanceCm, forMin: command.forMin, fluxWPerM2 });
}

/** Takes back the latest act; naming the sanding that "powders" started takes back both. */
function undo(act: Act, factSequence: Sequence): Decision {
  const { facts, nowAt } = act.inputs;
  const undone = undoneSequences(facts);
  const acts = facts.filter((one) => isAct(one) && !undone.has(one.sequence));
  const latest = acts.at(-1);
  if (latest === undefined) return refuse('nothing-to-undo', 'There is nothing left to take back.');
  const before = acts.at(-2);
  const isPair = latest.type === 'SandingStarted' && before?.type === 'CheckRecorded';
  const targets = isPair && before !== undefined ? [latest, before] : [latest];
  if (!targets.some((target) => target.sequence === factSequence)) {
    return refuse('undo-not-latest', 'Only the latest act can be taken back.');
  }
  if (minutesBetween(latest.recordedAt, nowAt) > UNDO_MAX_MIN) {
    return refuse('undo-too-late', `An act can be taken back for ${UNDO_MAX_MIN} minutes.`);
  }
  return {
    kind: 'accepted',
    facts: targets.map((target) =>
      fact({ ...act, at: nowAt }, 'FactUndone', { factSequence: target.sequence }),
    ),
  };
}

function refuseClosed(state: BatchState): Decision {
  return state.stage === 'sanding'
    ? refuse('stage-not-curing', 'This one is being sanded already.')
    : refuse('batch-closed', `This batch is ${state.stage}.`);
}

/** A refusal with one plain sentence, and the field that it speaks of. */
export function refuse(
  code: RefusalCode,
  sentence: string,
  path?: string,
): Extract<Decision, { kind: 'refused' }> {
  return { kind: 'refused', refusal: { code, sentence, ...(path === undefined ? {} : { path }) } };
}

function accept<T extends FactType>(act: Act, type: T, body: FactBodies[T]): Decision {
  return { kind: 'accepted', facts: [fact(act, type, body)] };
}

function fact<T extends FactType>(act: Act, type: T, body: FactBodies[T]): FactDraft {
  const { state, at, by } = act;
  return { type, version: 1, at, by, batchId: state.id, bayId: state.bayId, body } as FactDraft;
}
