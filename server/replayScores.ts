// What a replay can be judged by: for each batch whose true instant is told, what was said of it and when.
import type { Card } from './domain/card.ts';
import type { BatchInputs, Estimate, Fact, Sequence } from './domain/facts.ts';
import type { Instant } from './contract/index.ts';
import { minutesBetween } from './domain/minutes.ts';

/** A window as it was said, in minutes from mixing; null where there was no time. */
export interface WindowSaid {
  readonly p10Min: number | null;
  readonly p50Min: number | null;
  readonly p90Min: number | null;
  readonly testFromMin: number | null;
}

/** One batch whose truth was told. Minutes count from mixing. */
export interface ReplayedBatch {
  readonly label: string;
  readonly cardId: string;
  readonly mixedAt: Instant;
  /** When it was really ready; null when it never was. */
  readonly truthMin: number | null;
  /** The tin's own statement, and the temperature it holds at. */
  readonly cardSandMin: number;
  readonly cardAtC: number;
  /** The newest reading of its bay when it was started; null where there was none. */
  readonly airAtMixingC: number | null;
  /** The first window of all; null when none was ever said. */
  readonly atMixing: WindowSaid | null;
  /** The window in force when it was spread, and when it was first tested; null when it never was. */
  readonly atSpreading: WindowSaid | null;
  readonly atFirstCheck: WindowSaid | null;
  readonly firstCheckMin: number | null;
  /** The first call to go and test; null when none came. */
  readonly testAlertMin: number | null;
}

export interface ScoreKeeper {
  /** Facts in the ledger's order, each with the label of its batch. */
  takeFact(fact: Fact, label: string | null): void;
  takeTruth(truth: { readonly label: string; readonly readyAt: Instant | null }): void;
  /** In order of their mixing's facts; only batches with a truth that stayed started. */
  list(): ReplayedBatch[];
}

interface Kept {
  readonly startSequence: Sequence;
  readonly inputs: BatchInputs;
  isStartUndone: boolean;
  latest: Estimate | null;
  first: Estimate | null;
  testAlertAt: Instant | null;
  spread: Moment | null;
  firstCheck: Moment | null;
}

/** An act and the estimate that was in force when it was recorded. */
interface Moment {
  readonly sequence: Sequence;
  readonly at: Instant;
  readonly estimate: Estimate | null;
}

/** Collects from facts alone what the batches of a replay are judged by. */
export function makeScoreKeeper(cards: ReadonlyMap<string, Card>): ScoreKeeper {
  const keptByLabel = new Map<string, Kept>();
  const truths = new Map<string, Instant | null>();
  return {
    takeFact(fact, label) {
      if (label === null) return;
      if (fact.type === 'BatchStarted') keptByLabel.set(label, keptFrom(fact.body, fact.sequence));
      const kept = keptByLabel.get(label);
      if (kept !== undefined) keepFact(kept, fact);
    },
    takeTruth({ label, readyAt }) {
      truths.set(label, readyAt);
    },
    list: () =>
      [...keptByLabel].flatMap(([label, kept]) => {
        const readyAt = truths.get(label);
        const card = cards.get(kept.inputs.cardId);
        if (readyAt === undefined || card === undefined || kept.isStartUndone) return [];
        return [batchFrom(kept, { label, readyAt, card })];
      }),
  };
}

function keptFrom(inputs: BatchInputs, startSequence: Sequence): Kept {
  return {
    startSequence,
    inputs,
    isStartUndone: false,
    latest: null,
    first: null,
    testAlertAt: null,
    spread: null,
    firstCheck: null,
  };
}

function keepFact(kept: Kept, fact: Fact): void {
  switch (fact.type) {
    case 'EstimateChanged':
      kept.latest = fact.body.estimate;
      kept.first ??= fact.body.estimate;
      return;
    case 'BatchSpread':
      kept.spread = momentOf(fact, kept.latest);
      return;
    case 'CheckRecorded':
      kept.firstCheck ??= momentOf(fact, kept.latest);
      return;
    case 'AlertRaised':
      if (fact.body.kind === 'test') kept.testAlertAt ??= fact.at;
      return;
    case 'FactUndone':
      forget(kept, fact.body.factSequence);
      return;
    default:
      return;
  }
}

/** What was taken back counts as if it had not been; what was called stays called. */
function forget(kept: Kept, sequence: Sequence): void {
  if (kept.startSequence === sequence) kept.isStartUndone = true;
  if (kept.spread?.sequence === sequence) kept.spread = null;
  if (kept.firstCheck?.sequence === sequence) kept.firstCheck = null;
}

function momentOf({ sequence, at }: Fact, estimate: Estimate | null): Moment {
  return { sequence, at, estimate };
}

function batchFrom(
  { inputs, first, spread, firstCheck, testAlertAt }: Kept,
  { label, readyAt, card }: { label: string; readyAt: Instant | null; card: Card },
): ReplayedBatch {
  const { mixedAt, cardId } = inputs;
  const minuteOf = (instantAt: Instant | null): number | null =>
    instantAt === null ? null : minutesBetween(mixedAt, instantAt);
  const said = (estimate: Estimate | null | undefined): WindowSaid | null =>
    estimate === null || estimate === undefined
      ? null
      : {
          p10Min: minuteOf(estimate.p10At),
          p50Min: minuteOf(estimate.p50At),
          p90Min: minuteOf(estimate.p90At),
          testFromMin: minuteOf(estimate.testFromAt),
        };
  return {
    label,
    cardId,
    mixedAt,
    truthMin: minuteOf(readyAt),
    cardSandMin: card.sandMin,
    cardAtC: card.atC,
    airAtMixingC: first?.airTemperatureC ?? null,
    atMixing: said(first),
    atSpreading: said(spread?.estimate),
    atFirstCheck: said(firstCheck?.estimate),
    firstCheckMin: minuteOf(firstCheck?.at ?? null),
    testAlertMin: minuteOf(testAlertAt),
  };
}
