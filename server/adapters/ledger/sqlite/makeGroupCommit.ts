// Readings that come in one turn of the event loop share one commit: a commit waits for the disk, a row does not.
import type { AirRow, RecordOutcome } from '../../../application/ports/airTable.ts';

/** Most rows that wait for a commit; more are turned away with a failure. */
export const WAITING_ROWS_MAX = 200_000;
/** Most rows of one commit, unless a single call brings more: a call is never torn. */
export const COMMIT_ROWS_MAX = 5000;

interface Waiting {
  readonly rows: readonly AirRow[];
  readonly resolve: (outcomes: readonly RecordOutcome[]) => void;
  readonly reject: (cause: unknown) => void;
}

export interface GroupCommit {
  /** Resolves when the rows are on disk; rejects with what kept them from it. */
  record(rows: readonly AirRow[]): Promise<readonly RecordOutcome[]>;
  /** Commits all that waits, now. */
  flush(): void;
}

/** More rows wait for a commit than are allowed to. */
export class TooManyWaiting extends Error {
  constructor() {
    super(`more than ${WAITING_ROWS_MAX} rows would wait for a commit`);
    this.name = 'TooManyWaiting';
  }
}

/** Gathers calls; commit stores all rows it is given or throws, and answers for each row. */
export function makeGroupCommit(commit: (rows: readonly AirRow[]) => readonly RecordOutcome[]): GroupCommit {
  const waiting: Waiting[] = [];
  let rowCount = 0;
  let isDue = false;

  function take(rows: readonly AirRow[]): Promise<readonly RecordOutcome[]> {
    return new Promise((resolve, reject) => {
      if (rowCount + rows.length > WAITING_ROWS_MAX) {
        reject(new TooManyWaiting());
        return;
      }
      // Copies: the caller may go on with its own.
      waiting.push({ rows: rows.map((row) => ({ ...row })), resolve, reject });
      rowCount += rows.length;
      fallDue();
    });
  }

  function fallDue(): void {
    if (isDue || waiting.length === 0) return;
    isDue = true;
    setImmediate(() => {
      isDue = false;
      commitNext();
      // The rest waits a turn, so that other work goes in between.
      fallDue();
    });
  }

  function commitNext(): void {
    const calls = waiting.splice(0, groupLength(waiting));
    const rows = calls.flatMap((call) => call.rows);
    rowCount -= rows.length;
    if (calls.length > 0) answer(calls, () => commit(rows));
  }

  return {
    record: take,
    flush: () => {
      while (waiting.length > 0) commitNext();
    },
  };
}

/** How many calls, from the first, fit into one commit; at least one. */
function groupLength(waiting: readonly Waiting[]): number {
  let rowCount = 0;
  const tooMany = waiting.findIndex((call, index) => {
    rowCount += call.rows.length;
    return index > 0 && rowCount > COMMIT_ROWS_MAX;
  });
  return tooMany === -1 ? waiting.length : tooMany;
}

function answer(calls: readonly Waiting[], commit: () => readonly RecordOutcome[]): void {
  let outcomes: readonly RecordOutcome[];
  try {
    outcomes = commit();
  } catch (cause) {
    for (const { reject } of calls) reject(cause);
    return;
  }
  let start = 0;
  for (const { rows, resolve } of calls) {
    resolve(outcomes.slice(start, start + rows.length));
    start += rows.length;
  }
}
