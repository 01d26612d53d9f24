// The checks of simulated days are not blind: each kind of defect, planted in a day that is otherwise fine, is found.
import { describe, expect, it } from 'vitest';
import type { LedgerEntry } from '../../../server/application/ports/ledger.ts';
import type { Fact, FactOf, Sequence } from '../../../server/domain/facts.ts';
import type { SnapshotWire } from '../../../server/contract/index.ts';
import { openTestShop, sayAir, start, type TestShop } from '../../support/testShop.ts';
import { readSnapshot } from '../../../server/application/readSnapshot.ts';
import { applyLiveMessage } from '../../../dashboard/state/applyLiveMessage.ts';
import { checkDue, checkScreen } from './checkScreens.ts';
import type { Spoil } from './faultyPorts.ts';
import { playSeed } from './playSeed.ts';

/** Short days; what a defect needs to show itself (a sanded batch, a repeated request) comes in one of them. */
const SEEDS = [4, 38, 57, 9, 8, 17];

/** Changes what the ledger is given, where it can be changed. */
function spoilEntry(change: (entry: LedgerEntry) => LedgerEntry | null): Spoil {
  return ({ ledger, air }) => ({
    air,
    ledger: { ...ledger, append: (entry) => ledger.append(change(entry) ?? entry) },
  });
}

/** The entry with one more fact behind the first of a type. */
function doubled(entry: LedgerEntry, type: Fact['type']): LedgerEntry | null {
  const fact = entry.facts.find((one) => one.type === type);
  const sequence = (entry.afterSequence + entry.facts.length + 1) as Sequence;
  return fact === undefined ? null : { ...entry, facts: [...entry.facts, { ...fact, sequence }] };
}

function changed<T extends Fact['type']>(
  entry: LedgerEntry,
  type: T,
  change: (fact: FactOf<T>) => Fact,
): LedgerEntry {
  return {
    ...entry,
    facts: entry.facts.map((fact) => (fact.type === type ? change(fact as FactOf<T>) : fact)),
  };
}

let count = 0;
/** Every so many times, so that the day goes on in between. */
function everyFew(): boolean {
  count += 1;
  return count % 5 === 0;
}

const DEFECTS: readonly (readonly [defect: string, spoil: Spoil, found: RegExp])[] = [
  [
    'an entry that is acknowledged and not kept',
    ({ ledger, air }) => ({
      air,
      ledger: {
        ...ledger,
        append: async (entry) =>
          entry.answer !== undefined && everyFew()
            ? { kind: 'appended', sequence: (entry.afterSequence + entry.facts.length) as Sequence }
            : ledger.append(entry),
      },
    }),
    /was acknowledged and is not in the ledger/,
  ],
  [
    'a reading that is acknowledged and not kept',
    ({ ledger, air }) => ({
      ledger,
      air: { ...air, record: async (rows) => (everyFew() ? rows.map(() => 'recorded') : air.record(rows)) },
    }),
    /reading .* was acknowledged and is not there/,
  ],
  ['an alert that is raised twice', spoilEntry((entry) => doubled(entry, 'AlertRaised')), /was raised twice/],
  [
    'an act that is done twice because its answer is not kept',
    spoilEntry(({ answer: _answer, ...entry }) => entry),
    /was answered twice|stands 2 times in the ledger/,
  ],
  [
    'a stage that goes back',
    spoilEntry((entry) =>
      changed(entry, 'EstimateChanged', (fact) => ({
        ...fact,
        body: { ...fact.body, phase: fact.body.phase === 'kicked' && everyFew() ? 'wet' : fact.body.phase },
      })),
    ),
    /EstimateChanged \(wet\) while batch .* is kicked/,
  ],
  [
    'a batch that is sanded twice',
    spoilEntry((entry) => doubled(entry, 'BatchSanded')),
    /BatchSanded while batch .* is sanded/,
  ],
  ['a view that is not kept', spoilEntry((entry) => ({ ...entry, views: [] })), /is not what the facts give/],
  [
    'a view that is behind its facts',
    ({ ledger, air }) => {
      let late: LedgerEntry['views'] = [];
      const append: typeof ledger.append = (entry) => {
        const views = late;
        late = entry.views;
        return ledger.append({ ...entry, views });
      };
      return { air, ledger: { ...ledger, append } };
    },
    /is not what the facts give/,
  ],
];

describe('the checks of a simulated day', () => {
  it('find nothing in a day that nobody has spoiled', async () => {
    expect((await playSeed(SEEDS[0] as number)).violations).toEqual([]);
  });

  it.each(DEFECTS)('find %s', async (_defect, spoil, found) => {
    let told = '';
    for (const seed of SEEDS) {
      count = 0;
      told = (await playSeed(seed, spoil)).violations.join('\n');
      if (found.test(told)) break;
    }
    expect(told).toMatch(found);
  });
});

describe('the checks at the end of a day', () => {
  async function shopWithBatch(): Promise<{ test: TestShop; snapshot: SnapshotWire }> {
    const test = await openTestShop();
    await sayAir(test, 21, { relativeHumidityPct: 50 });
    await start(test, { thicknessMm: 0.5 });
    await test.clock.moveBy(1);
    return { test, snapshot: await readSnapshot(test.shop) };
  }

  it('find a screen that shows something old, and only then', async () => {
    const { test, snapshot } = await shopWithBatch();
    const { state } = applyLiveMessage(null, { kind: 'snapshot', snapshot });
    expect(checkScreen('one', state, await readSnapshot(test.shop))).toEqual([]);
    await start(test, { panel: 'Roof' });
    const found = checkScreen('one', state, await readSnapshot(test.shop));
    expect(found.join('\n')).toMatch(/screen one: sequence is/);
    expect(found.join('\n')).toMatch(/screen one: batches is/);
    expect(checkScreen('one', null, snapshot)).toEqual(['screen one shows nothing']);
  });

  it('find a call that was due and not said', async () => {
    const { test } = await shopWithBatch();
    await test.clock.moveBy(40);
    const snapshot = await readSnapshot(test.shop);
    const unsaid = new Map<string, number>();
    const inputs = { said: unsaid, raised: unsaid, waitingMin: 15 };
    expect(checkDue(snapshot, inputs).join('\n')).toMatch(/^test of batch .* was due and not said/);
    const said = new Map(snapshot.batches.map(({ id }) => [`test ${id}`, Date.parse(snapshot.nowAt)]));
    expect(checkDue(snapshot, { ...inputs, said })).toEqual([]);
    const longAgo = new Map([...said].map(([name]) => [name, 0]));
    expect(checkDue(snapshot, { ...inputs, said: longAgo }).join('\n')).toMatch(/^waiting of batch/);
    // One that was taken back just now may not be said again within a minute.
    expect(checkDue(snapshot, { ...inputs, raised: said })).toEqual([]);
    expect(checkDue(snapshot, { ...inputs, raised: longAgo }).join('\n')).toMatch(/^test of batch/);
  });
});
