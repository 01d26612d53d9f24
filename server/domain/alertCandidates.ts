// What a warning could be about just now: every batch and sensor with a reason that nobody has been told of, and from when on.
import type { AlertKind, Instant } from '../contract/index.ts';
import { type AlertBook, REMEMBERED_MIN, type ShopAlert } from './alertBook.ts';
import { AGAIN_MIN, type AlertSettings, HOLDS, isWarningKept } from './alertRules.ts';
import type { WarningKind } from './alertSigns.ts';
import type { Alert, BatchState } from './batch.ts';
import type { AlertSubject } from './facts.ts';
import { instantAfter } from './minutes.ts';

/** A known sensor that spoke before. */
export interface SensorHeard {
  readonly sensorId: string;
  readonly bayId: string;
  /** Its newest reading; where it has said nothing since the program began, when that was. */
  readonly heardAt: Instant;
  readonly isRead: boolean;
}

export interface ShopQuestion {
  /** Open ones. */
  readonly batches: readonly BatchState[];
  readonly book: AlertBook;
  readonly sensors: readonly SensorHeard[];
  readonly nowAt: Instant;
  readonly settings: AlertSettings;
}

/** Something that people are to hear of, once it is due. */
export interface Candidate {
  readonly subject: AlertSubject;
  /** Null for a sensor. */
  readonly batch: BatchState | null;
  readonly dueAt: Instant;
  /** The batch's own line that it takes the place of. */
  readonly replaced: Alert | null;
}

/**
 * The candidates of a kind, due or not yet: each not before its hold is over, a minute after it was last told, and not
 * a third time within an hour: what keeps coming and going is seen on the slip.
 */
export function findCandidates(kind: WarningKind, question: ShopQuestion): Candidate[] {
  const fresh =
    kind === 'sensorQuiet' || kind === 'sensorBack'
      ? question.sensors.flatMap((sensor) => ofSensor(kind, sensor, question))
      : question.batches.flatMap((batch) => ofBatch(kind, batch, question));
  return fresh.map((one) => ({ ...one, dueAt: notTooOften(one, toldAtOf(kind, one, question.book)) }));
}

/** Whether a warning about this is still true, or its reason was not gone for long. */
export function isSubjectKept(kind: AlertKind, subject: AlertSubject, question: ShopQuestion): boolean {
  const { batches, book, sensors, nowAt } = question;
  if (subject.sensorId === null) {
    const batch = batches.find(({ id }) => id === subject.batchId);
    return batch !== undefined && isWarningKept(batch, kind as WarningKind, nowAt);
  }
  const silence = book.silences[subject.sensorId];
  if (silence === undefined || !sensors.some(({ sensorId }) => sensorId === subject.sensorId)) return false;
  if (kind === 'sensorQuiet') return silence.isQuiet;
  return !silence.isQuiet && silence.backAt !== null && nowAt < backUntil(silence.backAt);
}

/** Open alerts of a kind that belong to no batch. */
export function openOf(book: AlertBook, kind: WarningKind): ShopAlert[] {
  return book.alerts.filter((alert) => alert.kind === kind && alert.withdrawnAt === null);
}

/** Open alerts of a kind that belong to a batch. */
export function ownOf({ alerts }: BatchState, kind: WarningKind): Alert | null {
  return alerts.findLast((alert) => alert.kind === kind && alert.withdrawnAt === null) ?? null;
}

function ofBatch(
  kind: Exclude<WarningKind, 'sensorQuiet' | 'sensorBack'>,
  batch: BatchState,
  { book, nowAt, settings }: ShopQuestion,
): Candidate[] {
  const { id: batchId, panel, bayId, by } = batch;
  if (openOf(book, kind).some(({ subjects }) => subjects.some((one) => one.batchId === batchId))) return [];
  const own = ownOf(batch, kind);
  const sinceAt = own === null ? reasonSince(kind, batch) : movedOnSince(kind, batch, own);
  // A reason that only lingers is none to begin with.
  if (sinceAt === null || !isWarningKept(batch, kind, nowAt)) return [];
  const raiseMin = kind === 'waiting' ? settings.waitingMin : HOLDS[kind].raiseMin;
  const subject = { batchId, panel, sensorId: null, bayId, by, sinceAt: nowAt };
  return [{ subject, batch, dueAt: instantAfter(sinceAt, raiseMin), replaced: own }];
}

/** Since when a batch gives a reason; null when it gives none. */
function reasonSince(
  kind: Exclude<WarningKind, 'sensorQuiet' | 'sensorBack'>,
  { alerts, watch }: BatchState,
): Instant | null {
  if (kind === 'waiting')
    return alerts.findLast((one) => one.kind === 'test' && one.withdrawnAt === null)?.raisedAt ?? null;
  const sign = watch?.signs[kind];
  return sign?.isPresent === true ? sign.sinceAt : null;
}

/** Since when a window is later still than people were told that it moved to. */
function movedOnSince(kind: WarningKind, { watch }: BatchState, { raisedAt }: Alert): Instant | null {
  const sign = watch?.signs.slowingMore;
  return kind === 'slowing' && sign?.isPresent === true && sign.sinceAt > raisedAt ? sign.sinceAt : null;
}

function ofSensor(
  kind: 'sensorQuiet' | 'sensorBack',
  { sensorId, bayId, heardAt }: SensorHeard,
  { book, nowAt, settings }: ShopQuestion,
): Candidate[] {
  if (openOf(book, kind).some(({ subjects }) => subjects.some((one) => one.sensorId === sensorId))) return [];
  const silence = book.silences[sensorId];
  const subject = { batchId: null, panel: null, sensorId, bayId, by: null, sinceAt: nowAt };
  const common = { subject, batch: null, replaced: null };
  if (kind === 'sensorQuiet') {
    const lastAt = silence?.isQuiet === true ? silence.lastAt : heardAt;
    return [{ ...common, dueAt: instantAfter(lastAt, settings.sensorQuietMin) }];
  }
  const backAt = silence === undefined || silence.isQuiet ? null : silence.backAt;
  if (backAt === null || nowAt >= backUntil(backAt)) return [];
  return [{ ...common, dueAt: instantAfter(backAt, HOLDS.sensorBack.raiseMin) }];
}

function backUntil(backAt: Instant): Instant {
  return instantAfter(backAt, HOLDS.sensorBack.raiseMin + HOLDS.sensorBack.withdrawMin);
}

/** When people were told of the same thing before, by a line of its own or by a folded one. */
function toldAtOf(kind: WarningKind, { subject, batch }: Candidate, book: AlertBook): Instant[] {
  const own = (batch?.alerts ?? []).filter((alert) => alert.kind === kind).map(({ raisedAt }) => raisedAt);
  const shared = book.alerts
    .filter((alert) => alert.kind === kind)
    .flatMap(({ subjects }) => subjects.filter((one) => isSame(one, subject)))
    .map(({ sinceAt }) => sinceAt);
  return [...own, ...shared].toSorted((a, b) => a - b);
}

function isSame(one: AlertSubject, other: AlertSubject): boolean {
  return one.batchId === other.batchId && one.sensorId === other.sensorId;
}

function notTooOften({ dueAt }: Candidate, toldAt: readonly Instant[]): Instant {
  const [beforeLastAt, lastAt] = [toldAt.at(-2), toldAt.at(-1)];
  return Math.max(
    dueAt,
    lastAt === undefined ? dueAt : instantAfter(lastAt, AGAIN_MIN),
    beforeLastAt === undefined ? dueAt : instantAfter(beforeLastAt, REMEMBERED_MIN),
  ) as Instant;
}
