// Views read once for each head: never staler than the head that the store tells, and no hiding of a store in trouble.
import { describe, expect, it } from 'vitest';
import { makeMemoryStore } from '../../server/adapters/ledger/memory/makeMemoryStore.ts';
import type { Ledger } from '../../server/application/ports/ledger.ts';
import { PortFailure } from '../../server/application/ports/portFailure.ts';
import { rememberViews } from '../../server/application/rememberViews.ts';
import type { Sequence } from '../../server/domain/facts.ts';
import { OPENS_AT, openTestShop, PLAIN_BATCH, sayAir, start } from '../support/testShop.ts';

/** A memory ledger that counts what it is asked, and may be held up or fail. */
function counted(): { ledger: Ledger; asked: string[]; gate: { wait: Promise<void>; isDown: boolean } } {
  const { ledger } = makeMemoryStore();
  const asked: string[] = [];
  const gate = { wait: Promise.resolve(), isDown: false };
  return {
    asked,
    gate,
    ledger: {
      ...ledger,
      readHead: () => {
        if (gate.isDown) throw new PortFailure('ledger', 'readHead', { isRetriable: true });
        return ledger.readHead();
      },
      readView: async (kind, id) => {
        asked.push(`${kind} ${id}`);
        const found = await ledger.readView(kind, id);
        await gate.wait;
        return found;
      },
      readViews: (kind, which) => {
        asked.push(which.openOnly ? `open ${kind}` : `all ${kind}`);
        return ledger.readViews(kind, which);
      },
    },
  };
}

/** One fact without a batch, and a view that says which it was. */
async function put(ledger: Ledger, word: string): Promise<void> {
  const head = await ledger.readHead();
  await ledger.append({
    afterSequence: head,
    facts: [
      {
        sequence: (head + 1) as Sequence,
        version: 1,
        at: OPENS_AT,
        recordedAt: OPENS_AT,
        by: null,
        batchId: null,
        bayId: 'bay-1',
        type: 'SensorSeen',
        body: { sensorId: word },
      },
    ],
    views: [{ kind: 'settings', id: 'shop', isOpen: true, body: { word } }],
  });
}

describe('remembered views', () => {
  it('are read once for each head', async () => {
    const { ledger, asked } = counted();
    const remembering = rememberViews(ledger);
    await put(remembering, 'first');
    for (let look = 0; look < 3; look += 1) {
      expect(await remembering.readView('settings', 'shop')).toEqual({ word: 'first' });
      expect(await remembering.readViews('settings', { openOnly: true })).toHaveLength(1);
      expect(await remembering.readView('settings', 'none')).toBeNull();
    }
    expect(asked).toEqual(['settings shop', 'open settings', 'settings none']);
    await put(remembering, 'second');
    expect(await remembering.readView('settings', 'shop')).toEqual({ word: 'second' });
    expect(asked.filter((name) => name === 'settings shop')).toHaveLength(2);
  });

  it('follow a writer of their own, and views put in place of all', async () => {
    const { ledger } = counted();
    const remembering = rememberViews(ledger);
    await put(ledger, 'mine');
    expect(await remembering.readView('settings', 'shop')).toEqual({ word: 'mine' });
    await put(ledger, 'of another hand');
    expect(await remembering.readView('settings', 'shop')).toEqual({ word: 'of another hand' });
    await remembering.replaceViews([
      { kind: 'settings', id: 'shop', isOpen: true, body: { word: 'rebuilt' } },
    ]);
    expect(await remembering.readView('settings', 'shop')).toEqual({ word: 'rebuilt' });
  });

  it('do not keep what was read before a fact that came meanwhile', async () => {
    const { ledger, gate } = counted();
    const remembering = rememberViews(ledger);
    await put(remembering, 'before');
    let open = (): void => undefined;
    gate.wait = new Promise((resolve) => (open = resolve));
    const early = remembering.readView('settings', 'shop');
    // Let the early read reach the store before the fact comes.
    for (let turn = 0; turn < 10; turn += 1) await Promise.resolve();
    await put(ledger, 'after');
    open();
    expect(await early).toEqual({ word: 'before' });
    gate.wait = Promise.resolve();
    expect(await remembering.readView('settings', 'shop')).toEqual({ word: 'after' });
  });

  it('carry open batches over an entry that names the one it changes, as the store would give them', async () => {
    const { ledger, asked } = counted();
    const remembering = rememberViews(ledger);
    const putBatch = async (id: string, body: unknown, isOpen = true): Promise<void> => {
      const head = await ledger.readHead();
      const fact = {
        sequence: (head + 1) as Sequence,
        version: 1,
        at: OPENS_AT,
        recordedAt: OPENS_AT,
        by: null,
        batchId: null,
        bayId: 'bay-1',
        type: 'SensorSeen',
        body: { sensorId: id },
      } as const;
      const views = [{ kind: 'batch', id, isOpen, body } as const];
      await remembering.append({ afterSequence: head, facts: [fact], views });
    };
    await putBatch('b', { step: 1, missing: undefined });
    await putBatch('a', { step: 1 });
    await remembering.readViews('batch', { openOnly: true });
    await putBatch('c', { step: 1, missing: undefined });
    await putBatch('b', { step: 2 });
    await putBatch('a', { step: 2 }, false);
    expect(await remembering.readViews('batch', { openOnly: true })).toStrictEqual(
      await ledger.readViews('batch', { openOnly: true }),
    );
    expect(await remembering.readView('batch', 'b')).toEqual({ step: 2 });
    // A closed one is not carried: it is read.
    expect(await remembering.readView('batch', 'a')).toEqual({ step: 2 });
    expect(asked).toEqual(['open batch', 'open batch', 'batch a']);
  });

  it('ask closed ones anew each time, and hide no trouble', async () => {
    const { ledger, asked, gate } = counted();
    const remembering = rememberViews(ledger);
    await put(remembering, 'one');
    await remembering.readViews('settings', { openOnly: false });
    await remembering.readViews('settings', { openOnly: false });
    expect(asked).toEqual(['all settings', 'all settings']);
    await remembering.readView('settings', 'shop');
    gate.isDown = true;
    await expect(remembering.readView('settings', 'shop')).rejects.toBeInstanceOf(PortFailure);
  });

  it('of a whole shop stay as they were read while people act', async () => {
    const test = await openTestShop();
    await sayAir(test, 18);
    await start(test, PLAIN_BATCH);
    const before = await test.shop.ledger.readViews('batch', { openOnly: true });
    const told = JSON.stringify(before);
    await test.clock.moveBy(10);
    await sayAir(test, 12);
    await start(test, { ...PLAIN_BATCH, panel: 'Tailgate' });
    expect(JSON.stringify(before)).toBe(told);
    expect(await test.shop.ledger.readViews('batch', { openOnly: true })).toHaveLength(2);
  });
});
