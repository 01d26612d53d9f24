// The facts that warnings are made of: a batch's own line, a line of the shop, its silent changes and its end.
import type { AlertKind, Instant } from '../contract/index.ts';
import type { ShopAlert } from './alertBook.ts';
import type { WarningKind } from './alertSigns.ts';
import type { Alert, BatchState } from './batch.ts';
import type { AlertSubject, Estimate, FactDraft, Watch } from './facts.ts';

/** An open line of the shop, with those of its subjects that stay. */
export interface HeldLine {
  readonly alert: ShopAlert;
  readonly subjects: readonly AlertSubject[];
}

/** What a line of the shop takes its name from: how many of its kind there were. */
export interface Round {
  readonly kind: WarningKind;
  readonly counts: Readonly<Partial<Record<AlertKind, number>>>;
  readonly nowAt: Instant;
}

/** Raises a line of a batch's own; one that slows says from when to when its window moved. */
export function raiseOwn(kind: WarningKind, batch: BatchState, nowAt: Instant): FactDraft {
  const round = batch.alerts.filter((alert) => alert.kind === kind).length + 1;
  const alertId = `${batch.id}.${kind}.${round}`;
  const moved =
    kind === 'slowing'
      ? { movedFromAt: (batch.watch as Watch).toldP50At, movedToAt: (batch.estimate as Estimate).p50At }
      : {};
  return { type: 'AlertRaised', ...placeOf(batch, nowAt), body: { alertId, kind, ...moved } };
}

/** Withdraws a line of a batch's own. */
export function withdrawOwn(batch: BatchState, { id: alertId }: Alert, nowAt: Instant): FactDraft {
  return { type: 'AlertWithdrawn', ...placeOf(batch, nowAt), body: { alertId } };
}

/** Raises a line of the shop; it is folded when it has more than one subject. */
export function raiseLine(subjects: readonly AlertSubject[], { kind, counts, nowAt }: Round): FactDraft {
  const body = { alertId: `shop.${kind}.${(counts[kind] ?? 0) + 1}`, kind, subjects };
  return { type: 'AlertRaised', ...shopPlace(subjects, nowAt), body };
}

/** What its subjects make of a line of the shop: nothing, a silent change, or its end. */
export function endLine({ alert, subjects }: HeldLine, nowAt: Instant): FactDraft[] {
  const { id: alertId } = alert;
  const place = shopPlace(alert.subjects, nowAt);
  if (subjects.length === 0) return [{ type: 'AlertWithdrawn', ...place, body: { alertId } }];
  const isSame =
    subjects.length === alert.subjects.length &&
    subjects.every((one, index) => one === alert.subjects[index]);
  return isSame ? [] : [{ type: 'AlertSubjectsChanged', ...place, body: { alertId, subjects } }];
}

/** A batch as a line of the shop speaks of it. */
export function subjectOf({ id: batchId, panel, bayId, by }: BatchState, sinceAt: Instant): AlertSubject {
  return { batchId, panel, sensorId: null, bayId, by, sinceAt };
}

type Place = Pick<FactDraft, 'version' | 'at' | 'by' | 'batchId' | 'bayId'>;

function placeOf({ id: batchId, bayId }: BatchState, nowAt: Instant): Place {
  return { version: 1, at: nowAt, by: null, batchId, bayId };
}

function shopPlace(subjects: readonly AlertSubject[], nowAt: Instant): Place {
  const bayId = subjects.length === 1 ? (subjects[0] as AlertSubject).bayId : null;
  return { version: 1, at: nowAt, by: null, batchId: null, bayId };
}
