// The rules of sequence, as a table of messages against a state held at sequence 10.
import { describe, expect, it } from 'vitest';
import type { AirMessage, ChangeWire } from '../../../server/contract/index.ts';
import { applyLiveMessage, mergeBatch } from '../../../dashboard/state/applyLiveMessage.ts';
import type { LiveMessage, LiveState, Outcome } from '../../../dashboard/state/liveState.ts';
import { makeAlert, makeBatch, makeSnapshot, minutesIn } from '../fixtures.ts';

const change = (changes: Partial<ChangeWire>): LiveMessage => ({
  kind: 'change',
  change: { sequence: 11, afterSequence: 10, batches: [], alerts: [], ...changes },
});

const air = (changes: Partial<AirMessage>): LiveMessage => ({
  kind: 'air',
  air: {
    bayId: 'bay-2',
    at: minutesIn(5),
    airTemperatureC: 15,
    relativeHumidityPct: 50,
    dewPointC: 5,
    ...changes,
  },
});

function heldState(): LiveState {
  const { state } = applyLiveMessage(null, { kind: 'snapshot', snapshot: makeSnapshot() });
  if (state === null) throw new Error('a snapshot makes a state');
  return state;
}

const rows: readonly { name: string; message: LiveMessage; outcome: Outcome; sequence: number }[] = [
  { name: 'applies the change that follows', message: change({}), outcome: 'applied', sequence: 11 },
  {
    name: 'applies a change that spans several facts',
    message: change({ sequence: 14 }),
    outcome: 'applied',
    sequence: 14,
  },
  {
    name: 'falls behind on a gap and keeps what it holds',
    message: change({ sequence: 13, afterSequence: 12 }),
    outcome: 'behind',
    sequence: 10,
  },
  {
    name: 'falls behind when a change begins before and ends after what it holds',
    message: change({ sequence: 12, afterSequence: 9 }),
    outcome: 'behind',
    sequence: 10,
  },
  {
    name: 'leaves a repeated change alone',
    message: change({ sequence: 10, afterSequence: 9 }),
    outcome: 'repeated',
    sequence: 10,
  },
  {
    name: 'leaves an old change alone',
    message: change({ sequence: 7, afterSequence: 6 }),
    outcome: 'repeated',
    sequence: 10,
  },
  { name: 'falls behind when told to resync', message: { kind: 'resync' }, outcome: 'behind', sequence: 10 },
  {
    name: 'ignores a kind of message that it does not know',
    message: { kind: 'weather' } as unknown as LiveMessage,
    outcome: 'ignored',
    sequence: 10,
  },
  {
    name: 'takes a newer snapshot',
    message: { kind: 'snapshot', snapshot: makeSnapshot({ sequence: 12 }) },
    outcome: 'applied',
    sequence: 12,
  },
  {
    name: 'leaves a snapshot alone that changes have overtaken',
    message: { kind: 'snapshot', snapshot: makeSnapshot({ sequence: 9 }) },
    outcome: 'repeated',
    sequence: 10,
  },
  {
    name: 'takes the snapshot of another ledger whatever its sequence',
    message: { kind: 'snapshot', snapshot: makeSnapshot({ ledgerId: 'ledger-2', sequence: 3 }) },
    outcome: 'applied',
    sequence: 3,
  },
  { name: 'takes newer air without a sequence', message: air({}), outcome: 'applied', sequence: 10 },
  {
    name: 'leaves older air alone',
    message: air({ at: minutesIn(-1) }),
    outcome: 'repeated',
    sequence: 10,
  },
  {
    name: 'ignores the air of a bay it does not know',
    message: air({ bayId: 'bay-9' }),
    outcome: 'ignored',
    sequence: 10,
  },
];

describe('a state at sequence 10', () => {
  it.each(rows)('$name', ({ message, outcome, sequence }) => {
    const held = heldState();
    const applied = applyLiveMessage(held, message);
    expect(applied.outcome).toBe(outcome);
    expect(applied.state?.sequence).toBe(sequence);
    if (outcome !== 'applied') expect(applied.state).toBe(held);
  });

  it('adds a new batch, replaces a held one and drops a closed one', () => {
    const held = heldState();
    const added = makeBatch({ id: 'batch-2' });
    const more = applyLiveMessage(held, change({ batches: [added, makeBatch({ version: 2 })] })).state;
    expect(more?.batches.map(({ id, version }) => [id, version])).toEqual([
      ['batch-1', 2],
      ['batch-2', 1],
    ]);
    const closed = makeBatch({ stage: 'sanded', version: 3, closedAt: minutesIn(40) });
    const message = change({ sequence: 12, afterSequence: 11, batches: [closed] });
    expect(applyLiveMessage(more ?? null, message).state?.batches.map(({ id }) => id)).toEqual(['batch-2']);
  });

  it('drops an alert that was withdrawn or seen', () => {
    const open = applyLiveMessage(
      heldState(),
      change({ alerts: [makeAlert(), makeAlert({ id: 'alert-2' })] }),
    );
    expect(open.state?.alerts).toHaveLength(2);
    const message = change({
      sequence: 12,
      afterSequence: 11,
      alerts: [
        makeAlert({ withdrawnAt: minutesIn(31) }),
        makeAlert({ id: 'alert-2', acknowledgedAt: minutesIn(31) }),
      ],
    });
    expect(applyLiveMessage(open.state, message).state?.alerts).toEqual([]);
  });

  it('ends where a fresh snapshot ends after it has healed a gap', () => {
    const fresh = makeSnapshot({ sequence: 13, batches: [makeBatch({ version: 4, stage: 'kicked' })] });
    const behind = applyLiveMessage(heldState(), change({ sequence: 13, afterSequence: 12 })).state;
    const healed = applyLiveMessage(behind, { kind: 'snapshot', snapshot: fresh }).state;
    expect(healed).toEqual(applyLiveMessage(null, { kind: 'snapshot', snapshot: fresh }).state);
  });

  it('keeps the temperature when a message brings humidity alone', () => {
    const { state } = applyLiveMessage(heldState(), air({ airTemperatureC: null, relativeHumidityPct: 61 }));
    const bay = state?.bays.find(({ id }) => id === 'bay-2');
    expect([bay?.airTemperatureC, bay?.relativeHumidityPct, bay?.at]).toEqual([13, 61, minutesIn(0)]);
  });
});

describe('a page without a state', () => {
  it.each([change({}), air({}), { kind: 'resync' } as const])('stays empty on $kind', (message) => {
    expect(applyLiveMessage(null, message).state).toBeNull();
  });
});

describe('the batch that a command answered with', () => {
  it('is taken when it is newer and left alone when it is not', () => {
    const held = heldState();
    expect(mergeBatch(held, makeBatch({ version: 2, stage: 'kicked' })).batches[0]?.stage).toBe('kicked');
    expect(mergeBatch(held, makeBatch({ version: 1, stage: 'kicked' }))).toBe(held);
  });

  it('leaves the sequence to the live feed', () => {
    expect(mergeBatch(heldState(), makeBatch({ version: 2 })).sequence).toBe(10);
  });
});
