// What a panel has been and will be, as spans on a time axis: wet, kicked, waiting for its test, sanding, the rest of its work.
import type { BatchWire } from '../../server/contract/index.ts';
import { featherStartAt, type WindowTimes } from './windowBand.ts';

export type SpanKind = 'wet' | 'kicked' | 'thinning' | 'test' | 'sanding' | 'lamp' | 'rest' | 'late';

export interface FilmSpan {
  readonly kind: SpanKind;
  readonly fromAt: number;
  /** Null: until now, and growing. */
  readonly untilAt: number | null;
}

/** The work after the wait, as the plan sees it. */
export interface RestOfWork {
  readonly doneAt: number | null;
  readonly workMin: number | null;
}

const MS_PER_MIN = 60_000;

/** The spans of a panel in order of time; those that only reach ahead come last. */
export function filmSpansOf(batch: BatchWire, rest: RestOfWork): FilmSpan[] {
  return [...curingSpans(batch), ...workingSpans(batch), ...lampSpans(batch), ...restSpans(batch, rest)];
}

/** The times of the window on its own axis, which ends where its feather does; null without a window. */
export function windowOf(batch: BatchWire): WindowTimes | null {
  const { estimate } = batch;
  const p10At = epochOf(estimate?.test.p10At);
  const p50At = epochOf(estimate?.test.p50At);
  const p90At = epochOf(estimate?.test.p90At);
  if (p10At === null || p50At === null || p90At === null) return null;
  const mixedAt = Date.parse(batch.mixedAt);
  return {
    mixedAt,
    p10At,
    p50At,
    p90At,
    nowAt: mixedAt,
    kickedAt: null,
    buildAt: epochOf(estimate?.buildP50At),
    edgeAt: epochOf(estimate?.edgeP50At),
  };
}

function curingSpans(batch: BatchWire): FilmSpan[] {
  const mixedAt = Date.parse(batch.mixedAt);
  const kickedAt = epochOf(batch.estimate?.kickedAt);
  const endAt = epochOf(batch.sandingAt) ?? testSince(batch);
  if (kickedAt === null || (endAt !== null && endAt <= kickedAt)) {
    return [span(batch.stage === 'wet' ? 'wet' : 'kicked', mixedAt, endAt)];
  }
  const wet = span('wet', mixedAt, kickedAt);
  const times = windowOf(batch);
  if (endAt !== null || times === null) return [wet, span('kicked', kickedAt, endAt)];
  const thinsAt = Math.max(kickedAt, featherStartAt(times));
  const goneAt = Math.max(thinsAt, times.p90At);
  return [wet, span('kicked', kickedAt, thinsAt), span('thinning', thinsAt, goneAt)];
}

function workingSpans(batch: BatchWire): FilmSpan[] {
  const sandingAt = epochOf(batch.sandingAt);
  const testAt = testSince(batch);
  const test = testAt === null ? [] : [span('test', testAt, sandingAt)];
  return sandingAt === null ? test : [...test, span('sanding', sandingAt, null)];
}

/** Since when a test has been called; null while it has not, or where it was made before. */
function testSince(batch: BatchWire): number | null {
  const testAt = epochOf(batch.estimate?.testFromAt);
  if (testAt === null) return null;
  const sandingAt = epochOf(batch.sandingAt);
  if (sandingAt !== null) return testAt < sandingAt ? testAt : null;
  return batch.stage === 'test' ? testAt : null;
}

function lampSpans(batch: BatchWire): FilmSpan[] {
  return batch.lamps.map(({ fromAt, untilAt }) => span('lamp', Date.parse(fromAt), Date.parse(untilAt)));
}

function restSpans(batch: BatchWire, { doneAt, workMin }: RestOfWork): FilmSpan[] {
  if (doneAt === null || workMin === null || workMin === 0) return [];
  const promisedAt = epochOf(batch.promisedAt);
  const fromAt = doneAt - workMin * MS_PER_MIN;
  if (promisedAt === null || promisedAt >= doneAt) return [span('rest', fromAt, doneAt)];
  const lateFromAt = Math.max(fromAt, promisedAt);
  return [span('rest', fromAt, lateFromAt), span('late', lateFromAt, doneAt)];
}

function span(kind: SpanKind, fromAt: number, untilAt: number | null): FilmSpan {
  return { kind, fromAt, untilAt };
}

function epochOf(text: string | null | undefined): number | null {
  return text === null || text === undefined ? null : Date.parse(text);
}
