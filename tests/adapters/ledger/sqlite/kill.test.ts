// A process killed while it writes loses nothing that it acknowledged, and tears nothing.
import { spawn } from 'node:child_process';
import { resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { DatabaseSync } from '@photostructure/sqlite';
import { expect, it, onTestFinished } from 'vitest';
import { openSqliteStore } from '../../../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import type { AirRow } from '../../../../server/application/ports/airTable.ts';
import type { Instant } from '../../../../server/contract/index.ts';
import type { Sequence } from '../../../../server/domain/facts.ts';
import { spanOf, START_AT } from '../ledgerFixtures.ts';
import { newFile } from '../temporaryFolder.ts';
import { ROWS_PER_CALL } from './killedWriter.ts';

const WRITER = resolve(import.meta.dirname, 'killedWriter.ts');
/** How many acknowledgements each writer gives before it is killed; the file goes from one to the next. */
const ROUNDS = [150, 400, 60] as const;

interface Acknowledged {
  readonly calls: number[];
  readonly facts: number[];
}

it('has every acknowledged reading and fact once after the writer was killed, again and again', async () => {
  const file = newFile();
  const acknowledged: Acknowledged = { calls: [], facts: [] };
  for (const count of ROUNDS) await writeAndKill(file, count, acknowledged);

  const database = new DatabaseSync(file);
  expect(database.prepare('PRAGMA integrity_check').get()).toEqual({ integrity_check: 'ok' });
  database.close();

  const store = openSqliteStore({ file, ledgerIdForNew: 'l2' });
  onTestFinished(() => store.ledger.close());
  const facts = await store.ledger.readFacts({ afterSequence: 0 as Sequence, limit: 1e6 });
  expect(acknowledged.facts.length).toBeGreaterThan(ROUNDS.length);
  expect(facts.length).toBeGreaterThanOrEqual(Math.max(...acknowledged.facts));
  const views = await store.ledger.readViews('batch', { openOnly: true });
  expect(views.map(({ body }) => body)).toEqual([{ sequence: facts.length }]);

  const everything = { ...spanOf('bay-1-air'), toAt: (START_AT * 2) as Instant };
  const rowsByCall = countByCall(await store.air.readSpan(everything));
  for (const call of acknowledged.calls) expect(rowsByCall.get(call)).toBe(ROWS_PER_CALL);
  expect(new Set(rowsByCall.values())).toEqual(new Set([ROWS_PER_CALL]));
  expect(new Set(acknowledged.calls).size).toBe(acknowledged.calls.length);
}, 60_000);

/** Lets a process write until it has acknowledged so much, and kills it in the midst of more. */
async function writeAndKill(file: string, count: number, acknowledged: Acknowledged): Promise<void> {
  const writer = spawn(process.execPath, ['--import', 'tsx', WRITER, file], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const ended = new Promise<NodeJS.Signals | null>((resolved) => {
    writer.on('exit', (_code, signal) => resolved(signal));
  });
  let left = count;
  for await (const line of createInterface({ input: writer.stdout })) {
    const [kind, number] = line.split(' ');
    acknowledged[kind === 'call' ? 'calls' : 'facts'].push(Number(number));
    left -= 1;
    if (left === 0) writer.kill('SIGKILL');
  }
  expect(await ended).toBe('SIGKILL');
}

function countByCall(rows: readonly AirRow[]): Map<number, number> {
  const counts = new Map<number, number>();
  for (const { at } of rows) {
    const call = Math.floor((at - START_AT) / ROWS_PER_CALL);
    counts.set(call, (counts.get(call) ?? 0) + 1);
  }
  return counts;
}
