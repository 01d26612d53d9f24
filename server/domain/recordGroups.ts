// Which batches somebody asked for, and how records lie together: by repair order, else by panel and day, newest first.
import type { Instant, Stage } from '../contract/index.ts';
import type { BatchState } from './batch.ts';

/** An end of the asked span: a whole day of the shop, or an instant. */
export type RecordBound =
  { readonly kind: 'day'; readonly day: string } | { readonly kind: 'instant'; readonly at: Instant };

/** Null asks for everything. */
export interface RecordFilter {
  readonly from: RecordBound | null;
  readonly to: RecordBound | null;
  readonly cardId: string | null;
  readonly by: string | null;
  readonly bayId: string | null;
  readonly stage: Stage | null;
  /** Any part of panel, repair order, product, bay or initials. */
  readonly text: string | null;
}

/** How the shop calls things, and its days. */
export interface RecordNames {
  readonly cardName: (cardId: string) => string;
  readonly bayName: (bayId: string) => string;
  /** The local day of an instant: "2026-01-12". */
  readonly dayOf: (instantAt: Instant) => string;
}

export interface RecordGroup {
  /** Null: no repair order was given, and panel and day keep them together. */
  readonly repairOrder: string | null;
  readonly panel: string;
  readonly day: string;
  readonly newestAt: Instant;
  /** Newest first. */
  readonly states: readonly BatchState[];
}

export interface GroupPage {
  readonly groups: readonly RecordGroup[];
  /** Where the next page begins; null on the last one. */
  readonly nextBeforeAt: Instant | null;
}

/** Whether a batch ever was: one whose start was undone is no record. */
export function wasStarted({ lastAct }: BatchState): boolean {
  return lastAct !== null;
}

/** Whether somebody who asks so wants to see a batch. */
export function isAskedFor(state: BatchState, filter: RecordFilter, names: RecordNames): boolean {
  const { from, to, cardId, by, bayId, stage, text } = filter;
  return (
    (cardId === null || state.cardId === cardId) &&
    (bayId === null || state.stays.some((stay) => stay.bayId === bayId)) &&
    (stage === null || state.stage === stage) &&
    (by === null || initialsOf(state).some((initials) => isSameText(initials, by))) &&
    (from === null || !isBefore(state.mixedAt, from, names)) &&
    (to === null || !isAfter(state.mixedAt, to, names)) &&
    (text === null || searchedOf(state, names).some((field) => folded(field).includes(folded(text))))
  );
}

/** Batches by what keeps them together, the group with the newest batch first. */
export function groupRecords(states: readonly BatchState[], { dayOf }: RecordNames): RecordGroup[] {
  const groups = new Map<string, RecordGroup>();
  for (const state of newestFirst(states)) {
    const { repairOrder, panel, mixedAt } = state;
    const day = dayOf(mixedAt);
    const key = JSON.stringify(repairOrder === null ? [panel, day] : [repairOrder]);
    const group = groups.get(key) ?? { repairOrder, panel, day, newestAt: mixedAt, states: [] };
    groups.set(key, { ...group, states: [...group.states, state] });
  }
  return [...groups.values()];
}

/** A page of groups, those older than an instant. Groups of the same instant are never parted, so that none is lost. */
export function pageGroups(
  groups: readonly RecordGroup[],
  { limit, beforeAt }: { readonly limit: number; readonly beforeAt: Instant | null },
): GroupPage {
  const older = beforeAt === null ? groups : groups.filter(({ newestAt }) => newestAt < beforeAt);
  const last = older[Math.min(limit, older.length) - 1];
  const page = last === undefined ? [] : older.filter(({ newestAt }) => newestAt >= last.newestAt);
  return {
    groups: page,
    nextBeforeAt: last === undefined || page.length === older.length ? null : last.newestAt,
  };
}

/** Newest first; what was mixed at the same instant keeps the order of its names. */
export function newestFirst(states: readonly BatchState[]): BatchState[] {
  return states.toSorted((a, b) => b.mixedAt - a.mixedAt || (a.id < b.id ? -1 : 1));
}

function isBefore(instantAt: Instant, bound: RecordBound, { dayOf }: RecordNames): boolean {
  return bound.kind === 'instant' ? instantAt < bound.at : dayOf(instantAt) < bound.day;
}

function isAfter(instantAt: Instant, bound: RecordBound, { dayOf }: RecordNames): boolean {
  return bound.kind === 'instant' ? instantAt > bound.at : dayOf(instantAt) > bound.day;
}

/** Who mixed it, tested it, or did the last thing to it. */
function initialsOf({ by, checks, lastAct }: BatchState): string[] {
  return [by, ...checks.map((check) => check.by), lastAct?.by ?? null].filter((one) => one !== null);
}

function searchedOf(state: BatchState, { cardName, bayName }: RecordNames): string[] {
  const { panel, repairOrder, cardId, bayId } = state;
  return [panel, repairOrder ?? '', cardName(cardId), bayName(bayId), ...initialsOf(state)];
}

function isSameText(a: string, b: string): boolean {
  return folded(a) === folded(b);
}

/** Letters without case and accents, so that "balle" finds "Bällé". */
function folded(text: string): string {
  return text
    .normalize('NFD')
    .replaceAll(/\p{Diacritic}/gu, '')
    .toLowerCase();
}
