// Watches the stores: a failed call makes the shop degraded, a stored write makes it whole again, and screens hear of both.
import type { AirTable } from './ports/airTable.ts';
import type { Ledger, LedgerEntry } from './ports/ledger.ts';
import { PortFailure } from './ports/portFailure.ts';

export interface StoreWatch {
  failed(failure: PortFailure): void;
  stored(): void;
}

/** The same ledger, with every failure and every stored write told to a watch. */
export function watchLedger(ledger: Ledger, watch: StoreWatch): Ledger {
  return {
    ledgerId: ledger.ledgerId,
    readHead: () => watched(watch, () => ledger.readHead()),
    append: (entry) =>
      watchedWrite(
        watch,
        () => ledger.append(entry),
        ({ kind }) => kind === 'appended' && hasContent(entry),
      ),
    readFacts: (query) => watched(watch, () => ledger.readFacts(query)),
    readView: (kind, id) => watched(watch, () => ledger.readView(kind, id)),
    readViews: (kind, which) => watched(watch, () => ledger.readViews(kind, which)),
    replaceViews: (views) => watchedWrite(watch, () => ledger.replaceViews(views), always),
    readAnswer: (key) => watched(watch, () => ledger.readAnswer(key)),
    forgetAnswers: (beforeAt) => watchedWrite(watch, () => ledger.forgetAnswers(beforeAt), isSome),
    probe: () => watchedWrite(watch, () => ledger.probe(), always),
    close: () => ledger.close(),
  };
}

/** The same air table, watched. */
export function watchAir(air: AirTable, watch: StoreWatch): AirTable {
  return {
    record: (rows) =>
      watchedWrite(
        watch,
        () => air.record(rows),
        (outcomes) => outcomes.some((one) => one !== 'repeated'),
      ),
    readSpan: (span) => watched(watch, () => air.readSpan(span)),
    readLatest: (sensorIds, notAfterAt) => watched(watch, () => air.readLatest(sensorIds, notAfterAt)),
    readSensors: () => watched(watch, () => air.readSensors()),
    trustKept: (rows) => watchedWrite(watch, () => air.trustKept(rows), isSome),
    thin: (beforeAt) => watched(watch, () => air.thin(beforeAt)),
  };
}

/** A write that had nothing to write proves nothing: on a full disk it succeeds as well. */
async function watchedWrite<T>(
  watch: StoreWatch,
  call: () => Promise<T>,
  hasWritten: (result: T) => boolean,
): Promise<T> {
  const result = await watched(watch, call);
  if (hasWritten(result)) watch.stored();
  return result;
}

function always(): boolean {
  return true;
}

function isSome(count: number): boolean {
  return count > 0;
}

function hasContent({ facts, views, answer }: LedgerEntry): boolean {
  return facts.length > 0 || views.length > 0 || answer !== undefined;
}

async function watched<T>(watch: StoreWatch, call: () => Promise<T>): Promise<T> {
  try {
    return await call();
  } catch (error) {
    if (error instanceof PortFailure) watch.failed(error);
    throw error;
  }
}
