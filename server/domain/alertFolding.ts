// Folding: many warnings of a kind within a short time are one line that grows in silence, so that a storm is seen once.
import type { Instant } from '../contract/index.ts';
import type { ShopAlert } from './alertBook.ts';
import { type Candidate, isSubjectKept, openOf, ownOf, type ShopQuestion } from './alertCandidates.ts';
import { endLine, type HeldLine, raiseLine, raiseOwn, subjectOf, withdrawOwn } from './alertFacts.ts';
import { AGAIN_MIN, isWarningKept } from './alertRules.ts';
import type { WarningKind } from './alertSigns.ts';
import type { Alert, BatchState } from './batch.ts';
import type { FactDraft } from './facts.ts';
import { instantAfter } from './minutes.ts';

export interface LinesQuestion extends ShopQuestion {
  /** Those of the kind that nobody was told of. */
  readonly fresh: readonly Candidate[];
}

export interface Lines {
  readonly facts: readonly FactDraft[];
  /** When lines that wait are to be looked at again, beside the instants at which others fall due. */
  readonly turnsAt: readonly Instant[];
}

/**
 * What becomes of the lines of one kind. A folded line that nobody has seen takes in, silently, all that falls due within
 * 10 min of its last growth. Otherwise, when what is due, the open unseen lines of the last 10 min and what falls due
 * within a minute of the first are 3 or more (of sensors 2), that minute is waited for and all become one folded line; a
 * single one is never held up. Subjects whose reason is gone leave a line silently, and with the last of them it goes.
 * "Spread by" and "test" are never folded.
 */
export function planLines(kind: WarningKind, question: LinesQuestion): Lines {
  const { fresh, book, nowAt } = question;
  const due = fresh.filter(({ dueAt }) => dueAt <= nowAt);
  const held = openOf(book, kind).map((alert) => holdLine(alert, question));
  const growing = held.find((line) => isGrowing(line, nowAt));
  if (growing === undefined && due.length > 0) return raiseDue(kind, { ...question, due, held });
  const facts = held.flatMap((line) => endLine(line === growing ? join(line, due) : line, nowAt));
  return { facts: [...replacedBy(due, nowAt), ...facts], turnsAt: [] };
}

interface DueQuestion extends LinesQuestion {
  readonly due: readonly Candidate[];
  readonly held: readonly HeldLine[];
}

/** Something is due and no line takes it in: lines of their own, one folded line, or a short wait for the others. */
function raiseDue(kind: WarningKind, question: DueQuestion): Lines {
  const { due, held, fresh, nowAt } = question;
  const soonUntilAt = instantAfter(Math.min(...due.map(({ dueAt }) => dueAt)) as Instant, GATHER_MIN);
  const soon = fresh.filter(({ dueAt }) => dueAt > nowAt && dueAt <= soonUntilAt);
  const shared = held.filter(
    ({ alert, subjects }) => !alert.isFolded && subjects.length > 0 && isRecent(alert, nowAt),
  );
  const own = recentOwn(kind, question);
  const ended = held.filter((line) => !shared.includes(line)).flatMap((line) => endLine(line, nowAt));
  const round = { kind, counts: question.book.raisedCounts, nowAt };
  if (due.length + shared.length + own.length + soon.length < foldCountOf(kind)) {
    const raised = due.map(({ batch, subject }) =>
      batch === null ? raiseLine([subject], round) : raiseOwn(kind, batch, nowAt),
    );
    return { facts: [...ended, ...replacedBy(due, nowAt), ...raised], turnsAt: [] };
  }
  const againAt = foldAgainFrom(kind, question);
  if (soon.length > 0 || nowAt < againAt) return { facts: ended, turnsAt: [againAt] };
  const subjects = [
    ...shared.flatMap((line) => line.subjects),
    ...own.map(({ batch, alert }) => subjectOf(batch, alert.raisedAt)),
    ...due.map(({ subject }) => subject),
  ];
  const takenIn = [
    ...shared.flatMap(({ alert }) => endLine({ alert, subjects: [] }, nowAt)),
    ...own.map(({ batch, alert }) => withdrawOwn(batch, alert, nowAt)),
    ...replacedBy(due, nowAt),
  ];
  return { facts: [...ended, ...takenIn, raiseLine(subjects, round)], turnsAt: [] };
}

function holdLine(alert: ShopAlert, question: ShopQuestion): HeldLine {
  return { alert, subjects: alert.subjects.filter((one) => isSubjectKept(alert.kind, one, question)) };
}

/** Whether a storm goes on under this line, as far as somebody still has to see it. */
function isGrowing({ alert, subjects }: HeldLine, nowAt: Instant): boolean {
  const grownAt = Math.max(alert.raisedAt, ...subjects.map(({ sinceAt }) => sinceAt)) as Instant;
  return alert.isFolded && subjects.length > 0 && isRecent({ ...alert, raisedAt: grownAt }, nowAt);
}

function isRecent({ acknowledgedAt, raisedAt }: Alert, nowAt: Instant): boolean {
  return acknowledgedAt === null && nowAt < instantAfter(raisedAt, FOLD_SPAN_MIN);
}

function join({ alert, subjects }: HeldLine, due: readonly Candidate[]): HeldLine {
  return { alert, subjects: [...subjects, ...due.map(({ subject }) => subject)] };
}

/** Lines of batches' own that a folded one would take in; those that are replaced anyway are counted as due. */
function recentOwn(
  kind: WarningKind,
  { batches, due, nowAt }: DueQuestion,
): { readonly batch: BatchState; readonly alert: Alert }[] {
  return batches.flatMap((batch) => {
    const alert = ownOf(batch, kind);
    if (alert === null || !isRecent(alert, nowAt) || !isWarningKept(batch, kind, nowAt)) return [];
    return due.some(({ replaced }) => replaced === alert) ? [] : [{ batch, alert }];
  });
}

/** The line that a batch had of the same kind goes when it is told anew. */
function replacedBy(due: readonly Candidate[], nowAt: Instant): FactDraft[] {
  return due.flatMap(({ batch, replaced }) =>
    batch === null || replaced === null ? [] : [withdrawOwn(batch, replaced, nowAt)],
  );
}

/** A folded line, too, is not raised twice in a minute. */
function foldAgainFrom(kind: WarningKind, { book, nowAt }: DueQuestion): Instant {
  const last = book.alerts.findLast((alert) => alert.kind === kind && alert.isFolded);
  return last === undefined ? nowAt : instantAfter(last.raisedAt, AGAIN_MIN);
}

/** Two sensors at once are a cable or a broker; two panels at once are two panels. */
function foldCountOf(kind: WarningKind): number {
  return kind === 'sensorQuiet' || kind === 'sensorBack' ? 2 : 3;
}

/** Chosen as the span over which a flood of alarms is counted (REFERENCES AL-2), with far fewer of them. */
const FOLD_SPAN_MIN = 10;
/** Sensors that stop together speak about once a minute each: the last of them falls due a minute after the first. */
const GATHER_MIN = 1;
