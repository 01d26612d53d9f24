// Calls of one turn share a commit, in bounded groups, each call whole.
import { expect, it, vi } from 'vitest';
import {
  COMMIT_ROWS_MAX,
  makeGroupCommit,
  WAITING_ROWS_MAX,
} from '../../../../server/adapters/ledger/sqlite/makeGroupCommit.ts';
import { openDatabase } from '../../../../server/adapters/ledger/sqlite/openDatabase.ts';
import { makeSqliteStore } from '../../../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import type { AirRow, RecordOutcome } from '../../../../server/application/ports/airTable.ts';
import { minute, rowOf } from '../ledgerFixtures.ts';
import { newFile } from '../temporaryFolder.ts';

const rows = (count: number): readonly AirRow[] => Array.from({ length: count }, () => rowOf());
const recorded = (given: readonly AirRow[]): readonly RecordOutcome[] => given.map(() => 'recorded');

/** Records how many rows each commit had. */
function watched() {
  const sizes: number[] = [];
  const group = makeGroupCommit((given) => {
    sizes.push(given.length);
    return recorded(given);
  });
  return { group, sizes };
}

it('makes one commit of the calls of a turn and another of the next', async () => {
  const { group, sizes } = watched();
  const outcomes = await Promise.all([group.record(rows(2)), group.record(rows(1)), group.record(rows(3))]);
  expect(outcomes.map(({ length }) => length)).toEqual([2, 1, 3]);
  await group.record(rows(1));
  expect(sizes).toEqual([6, 1]);
});

it('parts a turn at the most that one commit takes, and never a call', async () => {
  const { group, sizes } = watched();
  const half = COMMIT_ROWS_MAX / 2;
  const counts = [half, half, 1, COMMIT_ROWS_MAX + 1, 1, half];
  await Promise.all(counts.map((count) => group.record(rows(count))));
  expect(sizes).toEqual([COMMIT_ROWS_MAX, 1, COMMIT_ROWS_MAX + 1, half + 1]);
});

it('lets other work go between two commits of one turn', async () => {
  const order: string[] = [];
  const group = makeGroupCommit((given) => {
    order.push('commit');
    setTimeout(() => order.push('other'), 0);
    const until = performance.now() + 5;
    while (performance.now() < until);
    return recorded(given);
  });
  const full = () => group.record(rows(COMMIT_ROWS_MAX));
  await Promise.all([full(), full()]);
  expect(order).toEqual(['commit', 'other', 'commit']);
});

it('turns away what would make too many rows wait, and takes more after the commit', async () => {
  const { group } = watched();
  const waiting = group.record(rows(WAITING_ROWS_MAX - 1));
  await expect(group.record(rows(2))).rejects.toMatchObject({ name: 'TooManyWaiting' });
  const last = group.record(rows(1));
  expect(await waiting).toHaveLength(WAITING_ROWS_MAX - 1);
  expect(await last).toEqual(['recorded']);
  expect(await group.record(rows(2))).toHaveLength(2);
});

it('rejects all calls of a commit that fails, and none of the next', async () => {
  const commit = vi.fn<typeof recorded>(recorded).mockImplementationOnce(() => {
    throw new Error('disk');
  });
  const group = makeGroupCommit(commit);
  const calls = await Promise.allSettled([group.record(rows(1)), group.record(rows(1))]);
  expect(calls.map(({ status }) => status)).toEqual(['rejected', 'rejected']);
  expect(await group.record(rows(1))).toEqual(['recorded']);
});

it('commits at once when it is flushed, and has nothing left for the end of the turn', async () => {
  const { group, sizes } = watched();
  const calls = [group.record(rows(COMMIT_ROWS_MAX)), group.record(rows(1))];
  group.flush();
  expect(sizes).toEqual([COMMIT_ROWS_MAX, 1]);
  await Promise.all(calls);
  await new Promise((resolve) => setImmediate(resolve));
  expect(sizes).toHaveLength(2);
});

it('shares one transaction of the database between the calls of a turn', async () => {
  const database = openDatabase({ file: newFile(), ledgerIdForNew: 'l1' });
  const { ledger, air } = makeSqliteStore(database);
  const exec = vi.spyOn(database, 'exec');
  await Promise.all(
    Array.from({ length: 300 }, (_, index) => air.record([rowOf({ at: minute(index % 200) })])),
  );
  expect(exec.mock.calls.map(([sql]) => sql)).toEqual(['BEGIN IMMEDIATE', 'COMMIT']);
  await ledger.close();
});
