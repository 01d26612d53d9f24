// Facts, entries and readings for the tests of every store.
import type { AirRow, Quantity } from '../../../server/application/ports/airTable.ts';
import type { KeptAnswer, LedgerEntry, ViewChange } from '../../../server/application/ports/ledger.ts';
import type { Instant } from '../../../server/contract/index.ts';
import type { BatchId, Fact, Sequence } from '../../../server/domain/facts.ts';

export const START_AT = Date.UTC(2026, 0, 12, 7) as Instant;

/** An instant some minutes after the start. */
export function minute(offsetMin: number): Instant {
  return (START_AT + offsetMin * 60_000) as Instant;
}

/** A fact of a batch. */
export function factOf(sequence: number, batchId: string | null = 'b1'): Fact {
  return {
    type: 'AlertAcknowledged',
    version: 1,
    at: minute(sequence),
    by: null,
    batchId: batchId as BatchId | null,
    bayId: null,
    body: { alertId: `alert-${sequence}` },
    sequence: sequence as Sequence,
    recordedAt: minute(sequence),
  };
}

/** An entry of one fact, or what is given in place of it. */
export function entryAfter(afterSequence: number, parts: Partial<LedgerEntry> = {}): LedgerEntry {
  return {
    afterSequence: afterSequence as Sequence,
    facts: [factOf(afterSequence + 1)],
    views: [],
    ...parts,
  };
}

/** A view of a batch. */
export function viewOf(id: string, isOpen = true): ViewChange {
  return { kind: 'batch', id, isOpen, body: { id } };
}

/** An answer to a key. */
export function answerOf(key: string, at: Instant = START_AT): KeptAnswer {
  return { key, fingerprint: `asked ${key}`, at, body: { answered: key } };
}

/** A good reading of air temperature at the start, or what is given in place of it. */
export function rowOf(parts: Partial<AirRow> = {}): AirRow {
  return {
    sensorId: 'bay-1-air',
    quantity: 'airTemperatureC',
    at: START_AT,
    measurement: 12.1,
    recordedAt: ((parts.at ?? START_AT) + 40) as Instant,
    trust: 'good',
    reason: null,
    ...parts,
  };
}

/** A whole span of some sensors. */
export function spanOf(...sensorIds: string[]) {
  return { sensorIds, fromAt: minute(-10_000), toAt: minute(10_000), goodOnly: false };
}

/** What a sensor's values are when only some were sent. */
export function valuesOf(values: Partial<Record<Quantity, number>>) {
  return { airTemperatureC: null, relativeHumidityPct: null, panelTemperatureC: null, ...values };
}
