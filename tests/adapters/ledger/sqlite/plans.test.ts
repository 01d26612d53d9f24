// No statement that runs often walks a whole table or sorts: what a year of readings would make slow.
import { DatabaseSync } from '@photostructure/sqlite';
import { expect, it, onTestFinished } from 'vitest';
import { LEDGER_SQL } from '../../../../server/adapters/ledger/sqlite/ledgerStatements.ts';
import { AIR_SQL } from '../../../../server/adapters/ledger/sqlite/makeSqliteAir.ts';
import { migrate } from '../../../../server/adapters/ledger/sqlite/migrations.ts';

const SERIES = 'SEARCH readings USING PRIMARY KEY (sensor_id=? AND quantity=? AND';

const PLANS: Readonly<Record<keyof typeof AIR_SQL | keyof typeof LEDGER_SQL, readonly string[]>> = {
  span: [`${SERIES} at>? AND at<?)`],
  goodSpan: [`${SERIES} at>? AND at<?)`],
  latest: [
    `${SERIES} at<?)`,
    'SCALAR SUBQUERY 1',
    'SEARCH newest USING PRIMARY KEY (sensor_id=? AND quantity=?)',
  ],
  first: [`${SERIES} at=? AND rank=?)`],
  head: ['SEARCH facts'],
  facts: ['SEARCH facts USING INTEGER PRIMARY KEY (rowid>?)'],
  factsOfBatch: ['SEARCH facts USING INDEX facts_by_batch (batch_id=? AND rowid>?)'],
  openViews: ['SEARCH views USING INDEX views_open (kind=?)'],
  forgetAnswers: ['SEARCH answers USING INDEX answers_by_at (at<?)'],
};

it.each(Object.entries({ ...AIR_SQL, ...LEDGER_SQL }))('searches by key alone: %s', (name, sql) => {
  const database = new DatabaseSync(':memory:');
  onTestFinished(() => database.close());
  migrate(database, 'l1');
  const steps = database.prepare(`EXPLAIN QUERY PLAN ${sql}`).all() as { detail: string }[];
  expect(steps.map(({ detail }) => detail)).toEqual(PLANS[name as keyof typeof PLANS]);
});
