// The scores of a replay as a table for people.
import type { ReplayedBatch } from './replayScores.ts';
import { type ReplayScore, scoreReplay } from './scoreRules.ts';

/** A shop is judged by its later batches: before so many the cards and the crew speak. */
const LEARNING_COUNT = 40;

/** All batches with a true time, and those after the first 40; empty when no truth was told. */
export function formatScores(batches: readonly ReplayedBatch[]): string {
  if (batches.length === 0) return '';
  const later = batches.slice(LEARNING_COUNT);
  const parts = [formatPart(`${batches.length} batches with a true time`, scoreReplay(batches))];
  if (later.length > 0) parts.push(formatPart(`without the first ${LEARNING_COUNT}`, scoreReplay(later)));
  return parts.join('\n');
}

function formatPart(title: string, { rules, called, foretold }: ReplayScore): string {
  const rows = [
    [title, 'batches', 'pinball', 'CRPS', 'inside P10–P90'],
    ...rules.map(({ name, count, pinballMin, crpsMin, coveredShare }) => [
      `  ${name}`,
      String(count),
      minutesOf(pinballMin),
      minutesOf(crpsMin),
      shareOf(coveredShare),
    ]),
    ['  "test" was called when it was ready', String(called.count), '', '', shareOf(called.rightShare)],
    ['  ready by the time said at mixing', String(foretold.count), '', '', shareOf(foretold.rightShare)],
  ];
  const widths = [0, 1, 2, 3, 4].map((column) => Math.max(...rows.map((row) => (row[column] ?? '').length)));
  return rows
    .map((row) =>
      row
        .map((cell, column) =>
          column === 0 ? cell.padEnd(widths[column] ?? 0) : cell.padStart(widths[column] ?? 0),
        )
        .join('  ')
        .trimEnd(),
    )
    .map((line) => `${line}\n`)
    .join('');
}

function minutesOf(valueMin: number | null): string {
  return valueMin === null ? '' : `${valueMin.toFixed(2)} min`;
}

function shareOf(share: number | null): string {
  return share === null ? '' : `${(100 * share).toFixed(1)} %`;
}
