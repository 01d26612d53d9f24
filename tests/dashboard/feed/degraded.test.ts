// A shop that cannot read or store while its live feed stands: told plainly, and forgotten as soon as it is over.
import { afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { connectLive } from '../../../dashboard/feed/liveSocket.ts';
import { readSnapshot, startSnapshotRetry } from '../../../dashboard/feed/snapshot.ts';
import { $degraded } from '../../../dashboard/state/computed.ts';
import { $connection, $live, $snapshotTrouble } from '../../../dashboard/state/sources.ts';
import { makeSnapshot } from '../fixtures.ts';

const socket = vi.hoisted(() => {
  const takers = new Map<string, (message?: unknown) => void>();
  return {
    connected: true,
    active: true,
    on: (name: string, take: (message?: unknown) => void) => takers.set(name, take),
    emit: (name: string, message?: unknown) => takers.get(name)?.(message),
  };
});
vi.mock('socket.io-client', () => ({ io: () => socket }));

let answers: (() => Response)[];
let askedCount: number;

const json = (status: number, body: unknown) => () => new Response(JSON.stringify(body), { status });
const well = json(200, makeSnapshot());
const UNREAD = [{ part: 'ledger', code: 'failed' }];
const FULL = [{ part: 'ledger', code: 'full' }] as const;
const cannotStore = json(503, { status: 503, code: 'not-stored' });

beforeAll(() => {
  vi.useFakeTimers();
  connectLive();
  startSnapshotRetry();
});
beforeEach(() => {
  askedCount = 0;
  vi.stubGlobal('fetch', async () => {
    const answer = answers[Math.min(askedCount, answers.length - 1)] ?? well;
    askedCount += 1;
    return answer();
  });
  const { nowAt: _, ...held } = makeSnapshot();
  $live.value = held;
  $snapshotTrouble.value = null;
  socket.emit('connect');
});
afterEach(() => {
  vi.unstubAllGlobals();
});

const soon = async (): Promise<unknown> => vi.advanceTimersByTimeAsync(1);

describe('a snapshot that cannot be read while the feed is connected', () => {
  it('makes the page say so, keeps what it knows, and is over with the next resync', async () => {
    answers = [cannotStore, well];
    socket.emit('resync');
    await soon();
    expect([$degraded.value, $connection.value]).toEqual([UNREAD, 'live']);
    expect($live.value?.batches).toHaveLength(1);
    socket.emit('resync');
    await soon();
    expect($degraded.value).toEqual([]);
  });

  it('is read again by itself when no resync comes', async () => {
    answers = [cannotStore, cannotStore, well];
    socket.emit('resync');
    await soon();
    await vi.advanceTimersByTimeAsync(3000);
    expect([$degraded.value, askedCount]).toEqual([UNREAD, 2]);
    await vi.advanceTimersByTimeAsync(3000);
    expect([$degraded.value, askedCount]).toEqual([[], 3]);
    await vi.advanceTimersByTimeAsync(9000);
    expect(askedCount).toBe(3);
  });
});

describe('a shop that answers but says it is degraded', () => {
  it('is degraded until a snapshot says otherwise', async () => {
    answers = [json(200, makeSnapshot({ health: 'degraded', troubles: [...FULL] })), well];
    socket.emit('resync');
    await soon();
    expect($degraded.value).toEqual(FULL);
    socket.emit('resync');
    await soon();
    expect($degraded.value).toEqual([]);
  });
});

describe('a snapshot that changes have overtaken on its way', () => {
  it('still tells that the trouble is over, which no change does, and takes no change back', async () => {
    answers = [json(200, makeSnapshot({ health: 'degraded', troubles: [...FULL] })), well];
    socket.emit('resync');
    await soon();
    expect($degraded.value).toEqual(FULL);
    const { sequence } = makeSnapshot();
    socket.emit('resync');
    socket.emit('change', { afterSequence: sequence, sequence: sequence + 1, batches: [], alerts: [] });
    await soon();
    expect([$degraded.value, $live.value?.sequence]).toEqual([[], sequence + 1]);
  });
});

describe('a resync that comes while a snapshot is under way', () => {
  it('leads to one more read, since the answer may be older than the word', async () => {
    answers = [well, cannotStore];
    const first = readSnapshot();
    socket.emit('resync');
    socket.emit('resync');
    await first;
    await soon();
    expect([askedCount, $degraded.value]).toEqual([2, UNREAD]);
  });
});

describe('a snapshot without a network', () => {
  it('is a lost way, not a shop that cannot store', async () => {
    answers = [
      () => {
        throw new TypeError('no network');
      },
    ];
    await readSnapshot();
    expect([$snapshotTrouble.value, $degraded.value]).toEqual(['network', []]);
  });
});
