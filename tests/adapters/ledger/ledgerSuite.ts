// What every ledger and its air table do, whatever keeps them: one suite, run for each store.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { AirTable } from '../../../server/application/ports/airTable.ts';
import type { Ledger } from '../../../server/application/ports/ledger.ts';
import { describeAir } from './airSuite.ts';
import { answerOf, entryAfter, factOf, minute, rowOf, viewOf } from './ledgerFixtures.ts';
import type { BatchId, Fact, Sequence } from '../../../server/domain/facts.ts';

export interface Store {
  readonly ledger: Ledger;
  readonly air: AirTable;
}

/** Runs the suite; the factory gives an empty store each time. */
export function describeLedger(name: string, factory: () => Store): void {
  describe(name, () => {
    let store: Store;
    beforeEach(() => {
      store = factory();
    });
    afterEach(() => store.ledger.close());

    describe('facts', () => {
      describeFacts(() => store.ledger);
    });
    describe('views', () => {
      describeViews(() => store.ledger);
    });
    describe('answers', () => {
      describeAnswers(() => store.ledger);
    });
    describe('exactness', () => {
      describeExactness(() => store.ledger);
    });
    describe('air', () => {
      describeAir(() => store.air);
    });

    it('refuses every work once it is closed, and closes twice without harm', async () => {
      await store.ledger.close();
      await store.ledger.close();
      const failure = { name: 'PortFailure', isRetriable: false };
      await expect(store.ledger.readHead()).rejects.toMatchObject({ ...failure, port: 'ledger' });
      await expect(store.ledger.append(entryAfter(0))).rejects.toMatchObject(failure);
      await expect(store.air.readSensors()).rejects.toMatchObject({ ...failure, port: 'air' });
      await expect(store.air.record([rowOf()])).rejects.toMatchObject({ ...failure, operation: 'record' });
    });
  });
}

const all = (limit = 1000) => ({ afterSequence: 0 as Sequence, limit });

function describeFacts(ledger: () => Ledger): void {
  it('has a name of its own and no head while it is empty', async () => {
    expect(ledger().ledgerId).not.toBe('');
    expect(await ledger().readHead()).toBe(0);
    expect(await ledger().readFacts(all())).toEqual([]);
  });

  it('appends facts whose sequences run on from the head', async () => {
    expect(await ledger().append(entryAfter(0, { facts: [factOf(1), factOf(2)] }))).toEqual({
      kind: 'appended',
      sequence: 2,
    });
    expect(await ledger().append(entryAfter(2))).toEqual({ kind: 'appended', sequence: 3 });
    expect(await ledger().readHead()).toBe(3);
    expect(await ledger().readFacts(all())).toEqual([factOf(1), factOf(2), factOf(3)]);
  });

  it('leaves nothing behind when another entry came first', async () => {
    await ledger().append(entryAfter(0));
    const late = entryAfter(0, { views: [viewOf('b1')], answer: answerOf('k1') });
    expect(await ledger().append(late)).toEqual({ kind: 'conflict', sequence: 1 });
    expect(await ledger().append(entryAfter(7))).toEqual({ kind: 'conflict', sequence: 1 });
    expect(await ledger().readFacts(all())).toEqual([factOf(1)]);
    expect(await ledger().readView('batch', 'b1')).toBeNull();
    expect(await ledger().readAnswer('k1')).toBeNull();
  });

  it('lets one of two entries through that were decided on the same head', async () => {
    const kinds = await Promise.all([ledger().append(entryAfter(0)), ledger().append(entryAfter(0))]);
    expect(kinds.map(({ kind }) => kind)).toEqual(['appended', 'conflict']);
  });

  it('calls a gap in an entry a fault, not a failure of the store', async () => {
    const gap = entryAfter(0, { facts: [factOf(1), factOf(3)] });
    await expect(ledger().append(gap)).rejects.toThrow('fact 3 stands where fact 2 belongs');
    await expect(ledger().append(gap)).rejects.not.toMatchObject({ name: 'PortFailure' });
    expect(await ledger().readHead()).toBe(0);
  });

  it('calls an instant that is none a fault', async () => {
    const fact = { ...factOf(1), at: Number.NaN } as Fact;
    await expect(ledger().append(entryAfter(0, { facts: [fact] }))).rejects.toThrow('at of a fact is NaN');
  });

  it('reads facts after a sequence up to a limit', async () => {
    await ledger().append(entryAfter(0, { facts: [1, 2, 3, 4, 5].map((sequence) => factOf(sequence)) }));
    const query = { afterSequence: 2 as Sequence, limit: 2 };
    expect(await ledger().readFacts(query)).toEqual([factOf(3), factOf(4)]);
    expect(await ledger().readFacts({ ...query, afterSequence: 5 as Sequence })).toEqual([]);
  });

  it('reads the facts of one batch alone, in order', async () => {
    const facts = [factOf(1, 'a'), factOf(2, 'b'), factOf(3, null), factOf(4, 'a'), factOf(5, 'a')];
    await ledger().append(entryAfter(0, { facts }));
    const query = { ...all(), batchId: 'a' as BatchId };
    expect(await ledger().readFacts(query)).toEqual([factOf(1, 'a'), factOf(4, 'a'), factOf(5, 'a')]);
    const next = { ...query, afterSequence: 1 as Sequence, limit: 1 };
    expect(await ledger().readFacts(next)).toEqual([factOf(4, 'a')]);
    expect(await ledger().readFacts({ ...query, batchId: 'none' as BatchId })).toEqual([]);
  });
}

function describeViews(ledger: () => Ledger): void {
  it('keeps the views of an entry together with its facts', async () => {
    await ledger().append(entryAfter(0, { views: [viewOf('b1'), viewOf('b2')] }));
    expect(await ledger().readView('batch', 'b1')).toEqual({ id: 'b1' });
    expect(await ledger().readView('card', 'b1')).toBeNull();
    await ledger().append(entryAfter(1, { views: [{ ...viewOf('b1', false), body: { stage: 'sanded' } }] }));
    expect(await ledger().readView('batch', 'b1')).toEqual({ stage: 'sanded' });
  });

  it('reads views in order of id, closed ones only when asked', async () => {
    const views = [viewOf('b10'), viewOf('b2', false), viewOf('b1'), viewOf('\u{1f697}'), viewOf('\uff5e')];
    await ledger().append(entryAfter(0, { views: [...views, { ...viewOf('a1'), kind: 'alert' }] }));
    const open = await ledger().readViews('batch', { openOnly: true });
    expect(open.map(({ id }) => id)).toEqual(['b1', 'b10', '\uff5e', '\u{1f697}']);
    const every = await ledger().readViews('batch', { openOnly: false });
    expect(every.map(({ id }) => id)).toEqual(['b1', 'b10', 'b2', '\uff5e', '\u{1f697}']);
    expect(every[2]).toEqual(viewOf('b2', false));
    expect(await ledger().readViews('card', { openOnly: false })).toEqual([]);
  });

  it('keeps views without any fact', async () => {
    const entry = entryAfter(0, { facts: [], views: [viewOf('b1')] });
    expect(await ledger().append(entry)).toEqual({ kind: 'appended', sequence: 0 });
    expect(await ledger().readView('batch', 'b1')).toEqual({ id: 'b1' });
  });

  it('puts new views in place of all there are, and leaves the facts', async () => {
    await ledger().append(entryAfter(0, { views: [viewOf('b1'), { ...viewOf('a1'), kind: 'alert' }] }));
    await ledger().replaceViews([viewOf('b2'), viewOf('b3', false)]);
    const views = await ledger().readViews('batch', { openOnly: false });
    expect(views).toEqual([viewOf('b2'), viewOf('b3', false)]);
    expect(await ledger().readViews('alert', { openOnly: false })).toEqual([]);
    expect(await ledger().readHead()).toBe(1);
  });

  it('leaves the views as they were when one of the new ones cannot be kept', async () => {
    await ledger().replaceViews([viewOf('b1')]);
    await expect(
      ledger().replaceViews([viewOf('b2'), { ...viewOf('b3'), body: undefined }]),
    ).rejects.toMatchObject({
      name: 'PortFailure',
      operation: 'replaceViews',
    });
    expect(await ledger().readViews('batch', { openOnly: false })).toEqual([viewOf('b1')]);
  });
}

function describeAnswers(ledger: () => Ledger): void {
  it('keeps an answer together with the facts it tells of', async () => {
    await ledger().append(entryAfter(0, { answer: answerOf('k1') }));
    expect(await ledger().readAnswer('k1')).toEqual(answerOf('k1'));
    expect(await ledger().readAnswer('k2')).toBeNull();
  });

  it('never takes a second answer to the same key, nor what came with it', async () => {
    await ledger().append(entryAfter(0, { answer: answerOf('k1') }));
    const again = entryAfter(1, { views: [viewOf('b1')], answer: answerOf('k1', minute(5)) });
    await expect(ledger().append(again)).rejects.toMatchObject({
      name: 'PortFailure',
      port: 'ledger',
      operation: 'append',
      isRetriable: false,
    });
    expect(await ledger().readHead()).toBe(1);
    expect(await ledger().readView('batch', 'b1')).toBeNull();
    expect(await ledger().readAnswer('k1')).toEqual(answerOf('k1'));
  });

  it('forgets the answers given before an instant and says how many', async () => {
    await ledger().append(entryAfter(0, { answer: answerOf('k1', minute(1)) }));
    await ledger().append(entryAfter(1, { answer: answerOf('k2', minute(2)) }));
    await ledger().append(entryAfter(2, { answer: answerOf('k3', minute(3)) }));
    expect(await ledger().forgetAnswers(minute(3))).toBe(2);
    expect(await ledger().forgetAnswers(minute(3))).toBe(0);
    expect(await ledger().readAnswer('k2')).toBeNull();
    expect(await ledger().readAnswer('k3')).toEqual(answerOf('k3', minute(3)));
  });
}

const EXACT = {
  numbers: [0.1 + 0.2, 5e-324, Number.MAX_VALUE, Number.MAX_SAFE_INTEGER, -1.5, 0],
  text: 'Tür vorn links – 門 🚗 "\' \0 \ud800',
  nothing: null,
  deep: { list: [[], {}, [null, true]] },
};

function describeExactness(ledger: () => Ledger): void {
  it('gives every part of a fact, a view and an answer back exactly', async () => {
    const fact = {
      ...factOf(1),
      by: 'Jörg 🖐',
      bayId: 'bay-1',
      body: { alertId: 'a', ...EXACT },
    } as Fact;
    const answer = { ...answerOf('k1'), body: EXACT };
    await ledger().append(
      entryAfter(0, { facts: [fact], views: [{ ...viewOf('b1'), body: EXACT }], answer }),
    );
    expect(await ledger().readFacts(all())).toStrictEqual([fact]);
    expect(await ledger().readView('batch', 'b1')).toStrictEqual(EXACT);
    expect(await ledger().readViews('batch', { openOnly: true })).toStrictEqual([
      { ...viewOf('b1'), body: EXACT },
    ]);
    expect(await ledger().readAnswer('k1')).toStrictEqual(answer);
  });

  it.each(['J\0D', 'J\ud83d'])('refuses initials that a database would change: %j', async (by) => {
    const entry = entryAfter(0, { facts: [factOf(1), { ...factOf(2), by }] });
    await expect(ledger().append(entry)).rejects.toMatchObject({ name: 'PortFailure', isRetriable: false });
    expect(await ledger().readHead()).toBe(0);
  });

  it('gives copies: changing what was passed or read changes nothing kept', async () => {
    const body = { stage: 'wet' };
    const factBody = { alertId: 'a' };
    const fact = { ...factOf(1), body: factBody } as Fact;
    const answer = { ...answerOf('k1'), body: { list: [1] } };
    await ledger().append(entryAfter(0, { facts: [fact], views: [{ ...viewOf('b1'), body }], answer }));
    body.stage = 'passed';
    factBody.alertId = 'passed';
    answer.body.list.push(2);
    const read = (await ledger().readFacts(all()))[0]?.body as { alertId: string };
    const view = (await ledger().readView('batch', 'b1')) as { stage: string };
    expect([read, view]).toEqual([{ alertId: 'a' }, { stage: 'wet' }]);
    read.alertId = 'read';
    view.stage = 'read';
    expect(await ledger().readFacts(all())).toMatchObject([{ body: { alertId: 'a' } }]);
    expect(await ledger().readView('batch', 'b1')).toEqual({ stage: 'wet' });
    expect(await ledger().readAnswer('k1')).toMatchObject({ body: { list: [1] } });
  });
}
