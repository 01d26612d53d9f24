// Plays diaries for the tests and looks things up in them.
import { instantFromIso } from '../../server/contract/index.ts';
import type { CommandLine, DiaryLine, ReadingLine, TruthLine } from '../../sensors-sim/diary/diaryLine.ts';
import { type DiaryInputs, playDiary } from '../../sensors-sim/diary/playDiary.ts';
import type { Scenario } from '../../sensors-sim/scenarios/scenario.ts';
import { at } from './playDay.ts';

/** A diary from Monday morning on, as a list. */
export function diaryOf(
  scenario: Scenario,
  { fromDate = '2026-01-12', ...inputs }: Partial<DiaryInputs> & { forDays: number; fromDate?: string },
): DiaryLine[] {
  const fromAt = at(`${fromDate}T00:00:00Z`);
  return [...playDiary({ seed: 7, timeZone: 'UTC', fromAt, quietDays: 0, ...inputs, scenario })];
}

export function commandsOf(lines: readonly DiaryLine[]): CommandLine[] {
  return lines.filter((line) => line.kind === 'command');
}

export function readingsOf(lines: readonly DiaryLine[], sensorId: string): ReadingLine[] {
  return lines.filter((line) => line.kind === 'reading').filter((line) => line.sensorId === sensorId);
}

export function truthsOf(lines: readonly DiaryLine[]): TruthLine[] {
  return lines.filter((line) => line.kind === 'truth');
}

export interface TrueTime {
  readonly start: Extract<CommandLine, { type: 'startBatch' }>;
  readonly readyMin: number;
}

/** Minutes from mixing to the true time of every batch that got ready, as they were mixed. */
export function trueTimesOf(lines: readonly DiaryLine[]): TrueTime[] {
  const readyAts = new Map(truthsOf(lines).map(({ batch, readyAt }) => [batch, readyAt]));
  return commandsOf(lines).flatMap((start) => {
    if (start.type !== 'startBatch') return [];
    const readyAt = instantFromIso(readyAts.get(start.batch) ?? '');
    return readyAt === null ? [] : [{ start, readyMin: (readyAt - at(start.at)) / 60_000 }];
  });
}

export function medianOf(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;
}
