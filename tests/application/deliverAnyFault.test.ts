// Whatever fails how often, and whenever the program stops: at the end each receiver that may know of an alert knows how it
// stands. Receivers refuse, lose their answers, ask for pauses and come back; seeded, in memory and on disk.
import { join } from 'node:path';
import { array, assert, asyncProperty, constantFrom } from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openKeyStore } from '../../server/adapters/ledger/sqlite/openKeyStore.ts';
import { makeSqlitePushStore } from '../../server/adapters/ledger/sqlite/makeSqlitePushStore.ts';
import { openSqliteStore } from '../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import { makeMemoryPushStore } from '../../server/adapters/ledger/memory/makeMemoryPushStore.ts';
import { makeMemoryStore } from '../../server/adapters/ledger/memory/makeMemoryStore.ts';
import { rebuildViews } from '../../server/application/rebuildViews.ts';
import type { PushStore } from '../../server/application/ports/pushStore.ts';
import type { Shop } from '../../server/application/shop.ts';
import {
  DELIVERED,
  factsOf,
  failed,
  openOutboxShop,
  type OutboxShop,
  raise,
  subject,
  tell,
  webhook,
} from '../support/outboxShop.ts';
import { makeTempFolder } from '../support/runServer.ts';
import { countFor } from '../support/testSize.ts';

const HOOKS = ['one', 'two'] as const;
const ALERT_IDS = ['a', 'b', 'c'] as const;
/** How a receiver behaves: answers; refuses before it reads; takes the message and its answer is lost; asks for a pause. */
const MOODS = ['well', 'refuses', 'forgets', 'pauses'] as const;
type Mood = (typeof MOODS)[number];

const STEPS = [
  ...ALERT_IDS.flatMap((id) => [`raise ${id}`, `withdraw ${id}`, `grow ${id}`] as const),
  ...HOOKS.flatMap((hook) => MOODS.map((mood) => `${hook} ${mood}` as const)),
  'wait',
  'wait',
  'restart',
] as const;

async function play(
  script: readonly (typeof STEPS)[number][],
  open: () => { shop: Partial<Shop>; store: PushStore },
): Promise<void> {
  let test = await openOutboxShop(
    HOOKS.map((id) => webhook(id)),
    open(),
  );
  const moods = new Map<string, Mood>();
  /** What really reached each receiver, in order. */
  const reached = new Map<string, string[]>(HOOKS.map((hook) => [hook, []]));
  const standing = new Set<string>();
  const raised = new Set<string>();
  const behave = (of: OutboxShop): void => {
    for (const hook of HOOKS)
      of.answers.set(hook, ({ id }) => {
        const mood = moods.get(hook) ?? 'well';
        if (mood === 'refuses') return failed();
        if (mood === 'pauses')
          return { kind: 'failed', trouble: { code: 'status', status: 429 }, waitMs: 45_000 };
        reached.get(hook)?.push(id);
        return mood === 'forgets' ? failed('timeout') : DELIVERED;
      });
  };
  behave(test);
  for (const step of script) {
    const [what = '', which = ''] = step.split(' ');
    if (what === 'raise' && !raised.has(which)) {
      raised.add(which);
      standing.add(which);
      await raise(test, which);
    } else if (what === 'withdraw' && standing.delete(which))
      await tell(test, 'AlertWithdrawn', { alertId: which });
    else if (what === 'grow' && standing.has(which))
      await tell(test, 'AlertSubjectsChanged', { alertId: which, subjects: [subject('AB'), subject('CD')] });
    else if (what === 'wait') await test.clock.moveBy(0.7);
    else if (what === 'restart') {
      test.outbox.stop();
      test = await openOutboxShop([], { test });
      behave(test);
    } else if ((HOOKS as readonly string[]).includes(what)) moods.set(what, which as Mood);
  }
  // Faults stop; what was given up is wanted again, as a person would.
  moods.clear();
  for (let round = 0; round < 3; round += 1) {
    await test.clock.moveBy(12);
    for (const hook of HOOKS)
      for (const alertId of ALERT_IDS)
        await test.outbox.mark({ alertId, channelId: `webhook:${hook}` }, { mark: 'again', by: null });
  }
  await test.clock.moveBy(12);
  for (const [hook, ids] of reached)
    for (const alertId of raised) {
      const own = ids.filter((id) => id.startsWith(`${alertId}.`));
      const last = own.at(-1)?.split('.')[1];
      if (standing.has(alertId))
        expect([hook, last === 'raised' || last === 'changed']).toEqual([hook, true]);
      else expect([hook, own.length === 0 || last === 'withdrawn']).toEqual([hook, true]);
      // What was over is never raised again.
      const firstEnd = own.indexOf(`${alertId}.withdrawn`);
      if (firstEnd !== -1) expect(own.slice(firstEnd).filter((id) => !id.endsWith('.withdrawn'))).toEqual([]);
    }
  expect(test.shop.outbox).toMatchObject({ owedCount: 0, givenUpCount: 0 });
  const ends = (await factsOf(test)).flatMap(({ type, body }) =>
    type === 'AlertDelivered' && body.trouble === null
      ? [`${body.channelId} ${body.alertId} ${body.message} ${body.factSequence}`]
      : [],
  );
  expect(new Set(ends).size).toBe(ends.length);
  expect((await rebuildViews(test.shop.ledger)).differences).toEqual([]);
}

describe('each receiver at last knows how things stand', () => {
  it.each<[string, number, () => { shop: Partial<Shop>; store: PushStore }]>([
    [
      'memory',
      countFor({ usual: 25, nightly: 1500 }),
      () => ({ shop: makeMemoryStore(), store: makeMemoryPushStore() }),
    ],
    [
      'SQLite',
      countFor({ usual: 4, nightly: 150 }),
      () => {
        const folder = makeTempFolder();
        const { ledger, air } = openSqliteStore({
          file: join(folder, 'sandby.sqlite'),
          ledgerIdForNew: 'one',
        });
        return { shop: { ledger, air }, store: makeSqlitePushStore(openKeyStore(folder)) };
      },
    ],
  ])('with stores in %s', async (_name, numRuns, open) => {
    await assert(
      asyncProperty(array(constantFrom(...STEPS), { minLength: 4, maxLength: 24 }), (script) =>
        play(script, open),
      ),
      { seed: 8, numRuns },
    );
  });
});
