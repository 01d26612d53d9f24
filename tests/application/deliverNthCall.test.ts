// Fails the n-th call that the way out makes of its stores, n = 1, 2, … until a run goes through untouched (STYLE §6): nothing is
// lost, what was withdrawn is told, and views are what the facts say.
import { expect, it } from 'vitest';
import { makeMemoryPushStore } from '../../server/adapters/ledger/memory/makeMemoryPushStore.ts';
import { rebuildViews } from '../../server/application/rebuildViews.ts';
import { PortFailure } from '../../server/application/ports/portFailure.ts';
import { interceptPort, type PortCall } from '../support/interceptPort.ts';
import { factsOf, failed, openOutboxShop, raise, tell, webhook } from '../support/outboxShop.ts';

const CALLS_COUNT_MAX = 500;

/** One alert from its first try to its end, with a receiver that fails once; the n-th call of a store fails. */
async function play(nth: number): Promise<{ readonly ids: string[]; readonly callCount: number }> {
  let callCount = 0;
  const around = async <T>(call: PortCall<T>): Promise<T> => {
    callCount += 1;
    if (callCount === nth)
      throw new PortFailure('ledger', call.operation, {
        isRetriable: true,
        cause: new Error('the n-th call'),
      });
    return call.work();
  };
  const test = await openOutboxShop([webhook('one')], {
    store: interceptPort(makeMemoryPushStore(), around),
    ledgerOf: (ledger) => interceptPort(ledger, around),
  });
  test.answers.set('one', () => failed());
  await raise(test, 'a');
  await test.clock.moveBy(0.01);
  test.answers.delete('one');
  await test.clock.moveBy(2);
  await tell(test, 'AlertWithdrawn', { alertId: 'a' });
  await test.clock.moveBy(2);
  expect(await test.shop.ledger.readViews('delivery', { openOnly: true })).toEqual([]);
  const ends = (await factsOf(test)).flatMap(({ type, body }) =>
    type === 'AlertDelivered' ? [body.message] : [],
  );
  expect(ends).toEqual(['raised', 'withdrawn']);
  expect((await rebuildViews(test.shop.ledger)).differences).toEqual([]);
  return { ids: test.sent.map(({ id }) => id), callCount };
}

it('goes on after any call that failed, and tells all that an untouched run tells', async () => {
  const untouched = await play(0);
  expect(untouched.ids).toEqual(['a.raised', 'a.raised', 'a.withdrawn']);
  expect(untouched.callCount).toBeGreaterThan(20);
  expect(untouched.callCount).toBeLessThan(CALLS_COUNT_MAX);
  for (let nth = 1; nth <= untouched.callCount; nth += 1) {
    const { ids } = await play(nth);
    expect([nth, [...new Set(ids)]]).toEqual([nth, ['a.raised', 'a.withdrawn']]);
  }
});
