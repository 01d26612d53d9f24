// Copies by the clock and by hand: made up for when missed, tried again when they fail, old ones gone only after a good one.
import { beforeEach, describe, expect, it } from 'vitest';
import { makeCopyRun } from '../../server/application/copyRun.ts';
import { copiesInShort, keepCopies, makeCopy, readCopies } from '../../server/application/keepCopies.ts';
import { PortFailure } from '../../server/application/ports/portFailure.ts';
import type { CopyShelf, Keeping, KeptCopy } from '../../server/application/ports/storeCopier.ts';
import { type Instant, instantFromIso, isoFromInstant } from '../../server/contract/index.ts';
import { openTestShop, OPENS_AT, type TestShop } from '../support/testShop.ts';

const PLAN = { everyMin: 1440, quietMin: 150, keepCount: 3 };

interface Shelf extends CopyShelf {
  readonly kept: KeptCopy[];
  readonly done: string[];
  /** Of copies of other ledgers than the shop's own, by name. */
  readonly ledgers: Map<string, string | null>;
  outcome: Keeping | null;
  listFails: boolean;
}

/** A shelf that notes what is done with it. */
function makeShelf(): Shelf {
  const shelf: Shelf = {
    folder: 'copies',
    kept: [],
    done: [],
    ledgers: new Map(),
    outcome: null,
    listFails: false,
    keep: async (madeAt) => {
      await Promise.resolve();
      shelf.done.push('keep');
      if (shelf.outcome !== null) return shelf.outcome;
      const copy = { name: isoFromInstant(madeAt), madeAt, sizeBytes: 1 };
      shelf.kept.unshift(copy);
      return { kind: 'kept', copy };
    },
    list: async () => {
      if (shelf.listFails) throw new PortFailure('ledger', 'listCopies', { isRetriable: true });
      return [...shelf.kept];
    },
    open: async () => null,
    ledgerOf: async (name) => {
      const ledgerId = shelf.ledgers.get(name);
      if (ledgerId === 'unreadable') throw new PortFailure('ledger', 'readCopy', { isRetriable: true });
      return ledgerId === undefined ? test.shop.ledger.ledgerId : ledgerId;
    },
    remove: async (name) => {
      shelf.done.push(`remove ${name}`);
      shelf.kept.splice(
        shelf.kept.findIndex((copy) => copy.name === name),
        1,
      );
    },
    stop: () => undefined,
  };
  return shelf;
}

const FULL: Keeping = { kind: 'failed', code: 'no-room', detail: 'the disk has 1 MB free' };
let shelf: Shelf;
let test: TestShop;

beforeEach(async () => {
  shelf = makeShelf();
  test = await openTestShop({ copies: makeCopyRun(shelf, PLAN) });
});

/** A copy of an earlier time, newer than those that are there. */
function put(name: string, madeAt: string): void {
  shelf.kept.unshift({ name, madeAt: instantFromIso(madeAt) as Instant, sizeBytes: 1 });
}

const nextAt = async (): Promise<string | undefined> => (await readCopies(test.shop))?.nextAt;

describe('copies by the clock', () => {
  it('begin soon after the first start, and go on each night', async () => {
    keepCopies(test.shop);
    expect(shelf.done).toEqual([]);
    await test.clock.moveBy(3);
    expect(shelf.done).toEqual(['keep']);
    expect(await nextAt()).toBe('2026-01-13T02:30:00.000Z');
    await test.clock.moveTo(instantFromIso('2026-01-13T02:29:00Z') as Instant);
    expect(shelf.done).toEqual(['keep']);
    await test.clock.moveTo(instantFromIso('2026-01-13T02:33:00Z') as Instant);
    expect(shelf.done).toEqual(['keep', 'keep']);
  });

  it('make up for a missed one soon after the start, and only once', async () => {
    shelf.kept.push({ name: 'old', madeAt: instantFromIso('2026-01-09T02:30:00Z') as Instant, sizeBytes: 1 });
    keepCopies(test.shop);
    await test.clock.moveBy(60);
    expect(shelf.done).toEqual(['keep']);
  });

  it('wait for the night where last night’s is there', async () => {
    shelf.kept.push({ name: 'old', madeAt: instantFromIso('2026-01-12T02:30:00Z') as Instant, sizeBytes: 1 });
    keepCopies(test.shop);
    await test.clock.moveBy(600);
    expect(shelf.done).toEqual([]);
  });

  it('that fail say why, are tried again each quarter of an hour, and leave the old ones and the shop as they are', async () => {
    for (const day of ['05', '06', '07', '08']) put(day, `2026-01-${day}T02:30:00Z`);
    shelf.outcome = FULL;
    keepCopies(test.shop);
    await test.clock.moveBy(40);
    expect(shelf.done).toEqual(['keep', 'keep', 'keep']);
    expect(await readCopies(test.shop)).toMatchObject({
      failure: { code: 'no-room' },
      copies: { length: 4 },
    });
    expect(copiesInShort(test.shop)).toMatch(
      /^no copy could be made at 2026-01-12T07:.*: the disk has 1 MB free$/,
    );
    expect(test.shop.troubles.size).toBe(0);
    expect(test.logged).toContain('copy.failed');
    shelf.outcome = null;
    await test.clock.moveBy(20);
    expect(await readCopies(test.shop)).toMatchObject({ failure: null });
    expect(copiesInShort(test.shop)).toBe('ok');
    expect(shelf.done.slice(3)).toEqual(['keep', 'remove 06', 'remove 05']);
  });

  it('go on after a folder that could not be read', async () => {
    shelf.listFails = true;
    keepCopies(test.shop);
    await test.clock.moveBy(5);
    expect(copiesInShort(test.shop)).toContain('cannot be read');
    shelf.listFails = false;
    await test.clock.moveBy(20);
    expect(shelf.done).toEqual(['keep']);
  });

  it('stay where all the others carry names of a clock that ran ahead, and push those off one by one', async () => {
    for (const day of ['05', '06', '07']) put(`ahead ${day}`, `2031-01-${day}T02:30:00Z`);
    keepCopies(test.shop);
    await test.clock.moveBy(120);
    expect(shelf.done).toEqual(['keep', 'remove ahead 05']);
    const told = await readCopies(test.shop);
    expect(told?.nextAt).toBe('2026-01-13T02:30:00.000Z');
    expect(told?.copies.map(({ madeAt }) => madeAt.slice(0, 10))).toEqual([
      '2026-01-12',
      '2031-01-07',
      '2031-01-06',
    ]);
    await test.clock.moveBy(2 * 1440);
    expect(shelf.done.slice(2)).toEqual(['keep', 'remove ahead 06', 'keep', 'remove ahead 07']);
  });

  it('never take away the last one of another ledger, and go on with their own', async () => {
    for (const [day, [name, ledgerId]] of [
      ['torn', null],
      ['lost, older', 'lost'],
      ['lost, newest', 'lost'],
      ['other', 'other'],
    ].entries()) {
      put(String(name), `2026-01-0${day + 1}T02:30:00Z`);
      shelf.ledgers.set(String(name), ledgerId ?? null);
    }
    put('own', '2026-01-09T02:30:00Z');
    for (const key of ['k1', 'k2', 'k3']) {
      await test.clock.moveBy(10);
      await makeCopy(test.shop, key);
    }
    expect(shelf.done).toEqual(['keep', 'remove lost, older', 'remove torn', 'keep', 'keep', 'remove own']);
  });

  it('leave one that cannot be looked into, and say so', async () => {
    for (const [day, name] of ['busy', 'b', 'c'].entries()) put(name, `2026-01-0${day + 1}T02:30:00Z`);
    shelf.ledgers.set('busy', 'unreadable');
    await makeCopy(test.shop, 'k1');
    expect(shelf.done).toEqual(['keep']);
    expect(test.logged).toContain('copy.stays');
  });

  it('are none for a shop in memory', async () => {
    const inMemory = await openTestShop();
    keepCopies(inMemory.shop);
    expect(await readCopies(inMemory.shop)).toBeNull();
    expect(await makeCopy(inMemory.shop, 'k')).toEqual({ kind: 'no-file' });
  });
});

describe('a copy by hand', () => {
  it('is made at once, once for a key, and one at a time', async () => {
    const [first, second] = await Promise.all([makeCopy(test.shop, 'k1'), makeCopy(test.shop, 'k2')]);
    expect(first).toMatchObject({
      kind: 'kept',
      isRepeat: false,
      copy: { madeAt: isoFromInstant(OPENS_AT) },
    });
    expect(second).toEqual({ kind: 'busy' });
    expect(await makeCopy(test.shop, 'k1')).toMatchObject({ kind: 'kept', isRepeat: true });
    expect(shelf.done).toEqual(['keep']);
  });

  it('stays where the clock was put back while it was made', async () => {
    for (const hour of ['03', '04', '05']) put(hour, `2026-01-12T${hour}:00:00Z`);
    const copy = { name: 'late', madeAt: instantFromIso('2026-01-12T12:00:00Z') as Instant, sizeBytes: 1 };
    shelf.outcome = { kind: 'kept', copy };
    shelf.kept.unshift(copy);
    expect(await makeCopy(test.shop, 'k1')).toMatchObject({ kind: 'kept', copy: { name: 'late' } });
    expect(shelf.done).toEqual(['keep']);
  });

  it('is made although the last attempt failed a moment ago, and says when it fails itself', async () => {
    shelf.outcome = FULL;
    expect(await makeCopy(test.shop, 'k1')).toEqual(FULL);
    shelf.outcome = null;
    expect(await makeCopy(test.shop, 'k1')).toMatchObject({ kind: 'kept', isRepeat: false });
  });
});
