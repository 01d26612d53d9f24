// The book of the shop's own alerts: those about sensors, and those that stand for many of a kind. A fold of facts that
// belong to no batch; nothing is computed here.
import type { AlertKind, Instant } from '../contract/index.ts';
import type { Alert } from './batch.ts';
import type { AlertSubject, FactBodies, FactDraft } from './facts.ts';
import { minutesBetween } from './minutes.ts';

/** An alert that belongs to no batch. */
export interface ShopAlert extends Alert {
  /** Raised for many: it stays one line however few are left. */
  readonly isFolded: boolean;
  readonly subjects: readonly AlertSubject[];
}

/** What is known of a sensor that was quiet once. */
export interface SensorSilence {
  readonly isQuiet: boolean;
  /** Its last reading before. */
  readonly lastAt: Instant;
  /** When it spoke again, where people had been told that it was quiet. */
  readonly backAt: Instant | null;
}

export interface AlertBook {
  /** Open ones, and those withdrawn within the last hour; oldest first. */
  readonly alerts: readonly ShopAlert[];
  /** How many of each kind there have been. */
  readonly raisedCounts: Readonly<Partial<Record<AlertKind, number>>>;
  readonly silences: Readonly<Record<string, SensorSilence>>;
}

export const EMPTY_BOOK: AlertBook = { alerts: [], raisedCounts: {}, silences: {} };

/** Whether a fact changes the book. */
export function isOfBook(fact: FactDraft): boolean {
  return fact.batchId === null && BOOK_FACTS.has(fact.type);
}

/** The book after one more fact of it. */
export function evolveBook(book: AlertBook, fact: FactDraft): AlertBook {
  const kept = { ...book, alerts: book.alerts.filter((alert) => isRemembered(alert, fact.at)) };
  switch (fact.type) {
    case 'SensorQuiet':
      return silence(kept, fact.body.sensorId, { isQuiet: true, lastAt: fact.body.lastAt, backAt: null });
    case 'SensorSeen':
      return soundAgain(kept, fact.body.sensorId, fact.at);
    case 'AlertRaised':
      return raise(kept, fact);
    case 'AlertSubjectsChanged':
      return mark(kept, fact.body.alertId, { subjects: fact.body.subjects });
    case 'AlertAcknowledged':
      return mark(kept, fact.body.alertId, { acknowledgedAt: fact.at });
    case 'AlertWithdrawn':
      return mark(kept, fact.body.alertId, { withdrawnAt: fact.at });
    default:
      return book;
  }
}

/** An alert as its first fact makes it. */
export function alertFrom(fact: { readonly at: Instant; readonly body: FactBodies['AlertRaised'] }): Alert {
  const { alertId, kind, movedFromAt = null, movedToAt = null } = fact.body;
  return {
    id: alertId,
    kind,
    movedFromAt,
    movedToAt,
    raisedAt: fact.at,
    acknowledgedAt: null,
    withdrawnAt: null,
  };
}

function isRemembered({ withdrawnAt }: Alert, nowAt: Instant): boolean {
  return withdrawnAt === null || minutesBetween(withdrawnAt, nowAt) < REMEMBERED_MIN;
}

function silence(book: AlertBook, sensorId: string, entry: SensorSilence): AlertBook {
  return { ...book, silences: { ...book.silences, [sensorId]: entry } };
}

/** That a sensor is back is news only to those who heard that it was quiet. */
function soundAgain(book: AlertBook, sensorId: string, backAt: Instant): AlertBook {
  const before = book.silences[sensorId];
  if (before === undefined) return book;
  const isTold = book.alerts.some(
    ({ kind, withdrawnAt, subjects }) =>
      kind === 'sensorQuiet' && withdrawnAt === null && subjects.some((one) => one.sensorId === sensorId),
  );
  return silence(book, sensorId, { ...before, isQuiet: false, backAt: isTold ? backAt : null });
}

function raise(book: AlertBook, fact: Extract<FactDraft, { type: 'AlertRaised' }>): AlertBook {
  const { kind, subjects = [] } = fact.body;
  const alert = { ...alertFrom(fact), subjects, isFolded: subjects.length > 1 };
  const raisedCounts = { ...book.raisedCounts, [kind]: (book.raisedCounts[kind] ?? 0) + 1 };
  return { ...book, alerts: [...book.alerts, alert], raisedCounts };
}

function mark(book: AlertBook, alertId: string, changes: Partial<ShopAlert>): AlertBook {
  const alerts = book.alerts.map((alert) => (alert.id === alertId ? { ...alert, ...changes } : alert));
  return { ...book, alerts };
}

/** The longest that a rule looks back [min]. */
export const REMEMBERED_MIN = 60;

const BOOK_FACTS: ReadonlySet<FactDraft['type']> = new Set([
  'SensorQuiet',
  'SensorSeen',
  'AlertRaised',
  'AlertSubjectsChanged',
  'AlertAcknowledged',
  'AlertWithdrawn',
] satisfies FactDraft['type'][]);
