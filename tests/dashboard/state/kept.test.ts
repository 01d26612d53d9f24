// The queue of what was entered and not answered: order, doubling, age, and what the page shows meanwhile.
import { describe, expect, it } from 'vitest';
import {
  expectBatch,
  KEPT_MAX_MIN,
  parseQueue,
  partByAge,
  startsWithoutBatch,
  withKept,
  withoutKept,
  type Kept,
  type KeptBody,
} from '../../../dashboard/state/kept.ts';
import { makeBatch, minutesIn, MIXED_AT } from '../fixtures.ts';

const command = (body: Extract<KeptBody, { kind: 'command' }>['command']): KeptBody => ({
  kind: 'command',
  batchId: 'batch-1',
  command: body,
});

const entry = (changes: Partial<Kept> = {}): Kept => ({
  key: 'key-1',
  body: command({ type: 'markSpread' }),
  panel: 'Left front door',
  tappedAt: MIXED_AT + 60_000,
  keptAt: MIXED_AT,
  ...changes,
});

describe('the queue', () => {
  it('keeps the order of the taps', () => {
    const queue = withKept(withKept([], entry()), entry({ key: 'key-2' }));
    expect(queue.map(({ key }) => key)).toEqual(['key-1', 'key-2']);
    expect(withoutKept(queue, 'key-1').map(({ key }) => key)).toEqual(['key-2']);
  });

  it('never holds the same key twice', () => {
    expect(withKept([entry()], entry())).toHaveLength(1);
  });

  it('parts at thirty minutes', () => {
    const queue = [entry({ key: 'old' }), entry({ key: 'young', keptAt: MIXED_AT + 60_000 })];
    const { fresh, tooOld } = partByAge(queue, MIXED_AT + (KEPT_MAX_MIN + 0.5) * 60_000);
    expect([fresh.map(({ key }) => key), tooOld.map(({ key }) => key)]).toEqual([['young'], ['old']]);
  });

  it('comes back from its stored text as it was', () => {
    expect(parseQueue(JSON.stringify([entry()]))).toEqual([entry()]);
  });

  it.each([null, '', '{', '7', '{"a":1}', '[1, null, {"key": 2}]'])(
    'is empty for the stored text %s',
    (text) => {
      expect(parseQueue(text)).toEqual([]);
    },
  );
});

describe('a batch with kept acts', () => {
  it('is spread at the time of the tap', () => {
    expect(expectBatch(makeBatch(), [entry()]).spreadAt).toBe(minutesIn(1));
  });

  it('goes on to sanding and closes, act by act', () => {
    const acts = [
      entry({
        body: command({ type: 'recordCheck', outcome: 'powders', firstTry: true, at: minutesIn(30) }),
      }),
      entry({ key: 'key-2', body: command({ type: 'finishSanding', at: minutesIn(40) }) }),
    ];
    const kicked = makeBatch({ stage: 'kicked' });
    expect(expectBatch(kicked, acts.slice(0, 1))).toMatchObject({
      stage: 'sanding',
      sandingAt: minutesIn(30),
    });
    expect(expectBatch(kicked, acts)).toMatchObject({ stage: 'sanded', closedAt: minutesIn(40) });
  });

  it('tells no time after gums, since the old window is wrong', () => {
    const gums = entry({ body: command({ type: 'recordCheck', outcome: 'gums' }) });
    expect(expectBatch(makeBatch({ stage: 'test' }), [gums])).toMatchObject({
      stage: 'kicked',
      estimate: null,
    });
  });

  it('stays as it is when the acts are for another batch', () => {
    const batch = makeBatch({ id: 'batch-7' });
    expect(expectBatch(batch, [entry()])).toBe(batch);
  });
});

describe('a kept start', () => {
  const start = entry({
    body: {
      kind: 'start',
      start: {
        cardId: 'body-filler',
        panel: 'Left front door',
        bayId: 'bay-2',
        thicknessMm: 2,
        substrate: 'steel',
        mixedAt: '2026-01-12T07:00:00.000Z',
      },
    },
  });

  it('stands in the stack until its batch is there, be it by the live feed before the answer', () => {
    expect(startsWithoutBatch([start, entry()], [])).toEqual([start]);
    expect(startsWithoutBatch([start], [makeBatch()])).toEqual([]);
  });

  it('is not taken for another batch of the same panel', () => {
    expect(startsWithoutBatch([start], [makeBatch({ mixedAt: minutesIn(-20) })])).toEqual([start]);
    expect(startsWithoutBatch([start], [makeBatch({ panel: 'Roof' })])).toEqual([start]);
  });
});
