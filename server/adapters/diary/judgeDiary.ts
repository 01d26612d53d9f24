// What no single line shows: time that runs back, batches that were never started, things told twice.
import { type Instant, isoFromInstant, type Rejection } from '../../contract/index.ts';
import type { DiaryLine } from './parseDiary.ts';

/** Judges the lines of one diary in their order; null for one that fits those before it. */
export type DiaryJudge = (line: DiaryLine) => Rejection | null;

/** Every minute in between is played: a slip in the year would be played for ever. */
const GAP_MAX_DAYS = 400;
const DAY_MS = 24 * 60 * 60_000;

/** Makes a judge that has seen no line yet. */
export function makeDiaryJudge(): DiaryJudge {
  let lastAt: Instant | null = null;
  const mixedAtOf = new Map<string, Instant>();
  const told = new Set<string>();
  return function judgeLine(line) {
    const untimely = lastAt === null ? null : judgeTime(line.at, lastAt);
    lastAt = line.at;
    if (untimely !== null || line.kind === 'reading') return untimely;
    const mixedAt = mixedAtOf.get(line.label);
    if (line.kind === 'start') {
      if (mixedAt !== undefined) return again('batch', line.label, 'was started above');
      mixedAtOf.set(line.label, line.body.mixedAt ?? line.at);
      return null;
    }
    if (mixedAt === undefined) return unknownLabel(line.label);
    if (line.kind === 'act') return null;
    if (told.has(line.label)) return again('batch', line.label, 'has its truth above');
    told.add(line.label);
    return judgeTruth(line.readyAt, mixedAt);
  };
}

function judgeTime(at: Instant, lastAt: Instant): Rejection | null {
  const last = isoFromInstant(lastAt);
  if (at < lastAt)
    return { path: 'at', reason: `lies before the line above it (${last})`, allowed: `${last} or later` };
  if (at - lastAt <= GAP_MAX_DAYS * DAY_MS) return null;
  const reason = `lies more than ${GAP_MAX_DAYS} days after the line above it (${last})`;
  return { path: 'at', reason, allowed: `at most ${GAP_MAX_DAYS} days later` };
}

function judgeTruth(readyAt: Instant | null, mixedAt: Instant): Rejection | null {
  if (readyAt === null || readyAt >= mixedAt) return null;
  const mixed = isoFromInstant(mixedAt);
  return {
    path: 'readyAt',
    reason: `lies before the batch was mixed (${mixed})`,
    allowed: `${mixed} or later`,
  };
}

function unknownLabel(label: string): Rejection {
  const reason = `${JSON.stringify(label)} was not started above`;
  return { path: 'batch', reason, allowed: 'the label of a startBatch line above' };
}

function again(path: string, label: string, what: string): Rejection {
  return { path, reason: `${JSON.stringify(label)} ${what}`, allowed: 'once for each batch' };
}
