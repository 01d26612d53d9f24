// A process that writes readings and facts, says what was acknowledged, and never ends by itself.
import { writeSync } from 'node:fs';
import { openSqliteStore } from '../../../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import type { Instant } from '../../../../server/contract/index.ts';
import { entryAfter, rowOf, START_AT, viewOf } from '../ledgerFixtures.ts';

/** Each call has as many rows, one a millisecond. */
export const ROWS_PER_CALL = 7;
const CALLS_PER_TURN = 20;

const [, script, file] = process.argv;
if (script === import.meta.filename && file !== undefined) await write(file);

async function write(database: string): Promise<void> {
  const { ledger, air } = openSqliteStore({ file: database, ledgerIdForNew: 'l1' });
  const [sensor] = await air.readSensors();
  let call = sensor === undefined ? 0 : (sensor.lastAt - START_AT + 1) / ROWS_PER_CALL;
  for (let head: number = await ledger.readHead(); ; head += 1) {
    const turn = Array.from({ length: CALLS_PER_TURN }, async (_, index) => {
      await air.record(rowsOf(call + index));
      say('call', call + index);
    });
    const appended = ledger
      .append(entryAfter(head, { views: [{ ...viewOf('b1'), body: { sequence: head + 1 } }] }))
      .then(({ kind }) => say(kind === 'appended' ? 'fact' : kind, head + 1));
    await Promise.all([...turn, appended]);
    call += CALLS_PER_TURN;
  }
}

function rowsOf(call: number) {
  return Array.from({ length: ROWS_PER_CALL }, (_, index) => {
    return rowOf({
      at: (START_AT + call * ROWS_PER_CALL + index) as Instant,
      measurement: call + index / 10,
    });
  });
}

/** Says it at once: the next moment may not come. */
function say(...[kind, number]: readonly [string, number]): void {
  writeSync(1, `${kind} ${number}\n`);
}
