// What every store asks of its input, so that none keeps what another would not.
import type { AirRow } from '../../application/ports/airTable.ts';
import type { LedgerEntry } from '../../application/ports/ledger.ts';
import type { Fact, Sequence } from '../../domain/facts.ts';

/** Throws when facts do not run on from a sequence or carry an instant that is none: a fault of the caller. */
export function assertEntry(entry: LedgerEntry): void {
  assertRunsOn(entry.facts, entry.afterSequence);
  for (const fact of entry.facts) {
    assertWhole(fact.at, 'at of a fact');
    assertWhole(fact.recordedAt, 'recordedAt of a fact');
  }
  if (entry.answer !== undefined) assertWhole(entry.answer.at, 'at of an answer');
}

/** Throws unless the sequences run on without a gap; checked before facts are kept and after they are read. */
export function assertRunsOn(facts: readonly Fact[], afterSequence: Sequence): void {
  facts.forEach((fact, index) => {
    const expected = afterSequence + 1 + index;
    if (fact.sequence !== expected) {
      throw new Error(`fact ${fact.sequence} stands where fact ${expected} belongs`);
    }
  });
}

/** Throws when a row's numbers are none: a fault of the caller. */
export function assertRows(rows: readonly AirRow[]): void {
  for (const row of rows) {
    assertWhole(row.at, 'at of a row');
    assertWhole(row.recordedAt, 'recordedAt of a row');
    if (!Number.isFinite(row.measurement)) throw new Error(`measurement is ${row.measurement}`);
  }
}

/** Gives a text back when it comes out of every store as it went in; throws when it would not. */
export function keepable(text: string): string {
  // The driver cuts a text at its first zero character and replaces half a surrogate pair.
  if (text.includes('\0') || /\p{Surrogate}/u.test(text)) {
    throw new Error('a text with a zero character or half a character cannot be kept');
  }
  return text;
}

/** The same for a text that may be missing. */
export function keepableOrNull(text: string | null): string | null {
  return text === null ? null : keepable(text);
}

/** Gives a measurement back as every store keeps it: one zero, and nothing between it and the smallest step above it. */
export function keptMeasurement(measurement: number): number {
  // The driver makes a zero of these; −0 and 0 are one value.
  return Math.abs(measurement) < Number.EPSILON ? 0 : measurement;
}

/** Writes a document as JSON text; throws when there is no JSON for it. */
export function jsonFrom(body: unknown): string {
  const text = JSON.stringify(body) as string | undefined;
  if (text === undefined) throw new Error('a body has no JSON');
  return text;
}

function assertWhole(value: number, what: string): void {
  if (!Number.isSafeInteger(value)) throw new Error(`${what} is ${value}, not a whole number`);
}
