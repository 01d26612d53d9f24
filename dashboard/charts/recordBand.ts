// The window that stood before the first check, with what really happened as marks on the same axis.
import type { RecordWire } from '../../server/contract/index.ts';
import { makeWindowBand, type WindowBand, type WindowTimes } from './windowBand.ts';

export interface RecordMark {
  readonly kind: 'gums' | 'powders' | 'alert';
  readonly at: number;
  /** Along the axis, 0…1. */
  readonly fraction: number;
  /** It happened after the axis ends and stands at its end. */
  readonly isBeyond: boolean;
}

export interface RecordBand {
  readonly band: WindowBand;
  readonly times: WindowTimes;
  /** In order of time. */
  readonly marks: readonly RecordMark[];
}

/** The band of a record; null where there was no window. */
export function makeRecordBand(record: RecordWire): RecordBand | null {
  const times = timesOf(record);
  const band = times === null ? null : makeWindowBand(times);
  if (times === null || band === null) return null;
  const marks = [
    ...(record.testAlertAt === null ? [] : [{ kind: 'alert' as const, at: record.testAlertAt }]),
    ...record.checks.map(({ outcome, at }) => ({ kind: outcome, at })),
  ]
    .map(({ kind, at }) => markAt(kind, Date.parse(at), band))
    // A call that came after everything says nothing here; a late check does.
    .filter(({ kind, isBeyond }) => kind !== 'alert' || !isBeyond);
  return { band, times, marks: marks.toSorted((a, b) => a.at - b.at) };
}

function markAt(kind: RecordMark['kind'], instantAt: number, { fromAt, untilAt }: WindowBand): RecordMark {
  const fraction = (instantAt - fromAt) / (untilAt - fromAt);
  return { kind, at: instantAt, fraction: Math.min(1, Math.max(0, fraction)), isBeyond: fraction > 1 };
}

function timesOf({ window, mixedAt, checks }: RecordWire): WindowTimes | null {
  const p10At = epochOf(window?.p10At);
  const p50At = epochOf(window?.p50At);
  const p90At = epochOf(window?.p90At);
  if (p10At === null || p50At === null || p90At === null) return null;
  const startAt = Date.parse(mixedAt);
  return {
    mixedAt: startAt,
    p10At,
    p50At,
    p90At,
    // The axis runs on to the last check, within bounds.
    nowAt: Math.max(startAt, ...checks.map(({ at }) => Date.parse(at))),
    kickedAt: epochOf(window?.kickedAt),
    buildAt: epochOf(window?.buildP50At),
    edgeAt: epochOf(window?.edgeP50At),
  };
}

function epochOf(text: string | null | undefined): number | null {
  return text === null || text === undefined ? null : Date.parse(text);
}
