// The way out, with a server that answers, refuses or is not there: one key for every try, nothing lost, nothing doubled.
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { startOutbox, submit } from '../../../dashboard/feed/outbox.ts';
import { parseQueue, type KeptBody } from '../../../dashboard/state/kept.ts';
import { $connection, $kept, $live, $toast, $troubles } from '../../../dashboard/state/sources.ts';
import { makeBatch, makeSnapshot, minutesIn } from '../fixtures.ts';

interface Sent {
  readonly path: string;
  readonly key: string | undefined;
  readonly body: string;
}

const spread: KeptBody = {
  kind: 'command',
  batchId: 'batch-1',
  command: { type: 'markSpread', at: minutesIn(2) },
};
const spreadBatch = makeBatch({
  version: 2,
  spreadAt: minutesIn(2),
  lastAct: { factSequence: 11, type: 'BatchSpread', recordedAt: minutesIn(2), by: null },
});
const startedAct = { factSequence: 11, type: 'BatchStarted', recordedAt: minutesIn(0), by: null };

let stored: Map<string, string>;
let sent: Sent[];
let answer: () => Response;
let readBatch: () => Response;

beforeEach(() => {
  vi.useFakeTimers();
  stored = new Map();
  sent = [];
  vi.stubGlobal('localStorage', {
    getItem: (key: string) => stored.get(key) ?? null,
    setItem: (key: string, text: string) => stored.set(key, text),
  });
  vi.stubGlobal('fetch', async (path: string, init: RequestInit) => {
    if (init.method === 'POST') {
      const headers = init.headers as Record<string, string>;
      sent.push({ path, key: headers['idempotency-key'], body: init.body as string });
    }
    return path.endsWith('/batches/batch-1') ? readBatch() : answer();
  });
  const { nowAt: _, ...held } = makeSnapshot();
  $live.value = held;
  $connection.value = 'live';
  $kept.value = [];
  $troubles.value = {};
  $toast.value = null;
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

const json = (status: number, body: unknown) => () => new Response(JSON.stringify(body), { status });
const noNetwork = (): Response => {
  throw new TypeError('no network');
};

describe('an entry', () => {
  it('is sent once and changes the page ahead of the live feed', async () => {
    answer = json(200, spreadBatch);
    await expect(submit(spread, 'Left front door')).resolves.toBe('stored');
    expect(sent).toHaveLength(1);
    expect($live.value?.batches[0]?.spreadAt).toBe(minutesIn(2));
    expect($kept.value).toEqual([]);
    expect($toast.value?.undo).toEqual({ batchId: 'batch-1', factSequence: 11, panel: 'Left front door' });
  });

  it('is tried twice under one key, then kept, and sent again under the same key', async () => {
    answer = noNetwork;
    const outcome = submit(spread, 'Left front door');
    await vi.advanceTimersByTimeAsync(1000);
    await expect(outcome).resolves.toBe('kept');
    expect($kept.value).toHaveLength(1);
    answer = json(200, spreadBatch);
    const second = submit({ kind: 'acknowledgement', alertId: 'alert-1' }, 'Left front door');
    await vi.advanceTimersByTimeAsync(1000);
    await second;
    const spreads = sent.filter(({ path }) => path.endsWith('/batch-1/commands'));
    expect(spreads).toHaveLength(3);
    expect(new Set(spreads.map(({ key, body }) => `${key} ${body}`)).size).toBe(1);
    expect(sent.at(-1)?.path).toBe('/api/v1/alerts/alert-1/acknowledgement');
    expect($kept.value).toEqual([]);
  });

  it('is dropped with the sentence of a refusal beside its batch', async () => {
    answer = json(409, { status: 409, code: 'already-spread', detail: 'It is spread already.' });
    await expect(submit(spread, 'Left front door')).resolves.toBe('refused');
    expect($troubles.value['batch-1']?.text).toBe('It is spread already.');
    expect($kept.value).toEqual([]);
  });

  it('names who was quicker beside the button, and takes over what they did', async () => {
    const theirs = makeBatch({
      version: 3,
      stage: 'sanded',
      closedAt: minutesIn(3),
      lastAct: { factSequence: 12, type: 'BatchSanded', recordedAt: minutesIn(3), by: 'MB' },
    });
    answer = json(409, { status: 409, code: 'version-stale', detail: 'It is at version 3.' });
    readBatch = json(200, theirs);
    const command = { type: 'markSpread', at: minutesIn(2), expectedVersion: 1 } as const;
    await submit({ kind: 'command', batchId: 'batch-1', command, seenSequence: 10 }, 'Left front door');
    await vi.advanceTimersByTimeAsync(0);
    expect($troubles.value['batch-1']?.text).toBe(
      'MB was quicker: “Sanded” at 07:03. Your “Spread” was not stored.',
    );
    expect([$live.value?.batches, $live.value?.closed]).toEqual([[], [theirs]]);
  });

  it('offers the next layer of what it has sanded', async () => {
    const lastAct = { factSequence: 13, type: 'BatchSanded', recordedAt: minutesIn(40), by: null };
    answer = json(200, makeBatch({ version: 5, stage: 'sanded', closedAt: minutesIn(40), lastAct }));
    const command = { type: 'finishSanding', at: minutesIn(40) } as const;
    await submit({ kind: 'command', batchId: 'batch-1', command }, 'Left front door');
    expect($toast.value?.layer).toMatchObject({
      panel: 'Left front door',
      repairOrder: '4711',
      cardId: 'finishing-putty',
      underlay: '2',
    });
  });

  it('tells what is wrong with the field of an act', async () => {
    const errors = [{ path: 'forMin', reason: 'is too large', allowed: '0 … 240 min' }];
    answer = json(400, { status: 400, code: 'rejected', errors });
    const command = { type: 'switchLamp', lampId: 'lamp-1', forMin: 900 } as const;
    await submit({ kind: 'command', batchId: 'batch-1', command }, 'Left front door');
    expect($troubles.value['batch-1']?.text).toBe('This is too large (0 … 240 min).');
  });

  it('keeps its place while the server cannot store it', async () => {
    answer = json(503, { status: 503 });
    const outcome = submit(spread, 'Left front door');
    await vi.advanceTimersByTimeAsync(1000);
    await expect(outcome).resolves.toBe('kept');
    expect($troubles.value['batch-1']?.text).toContain('could not store');
  });
});

describe('a start that is stored', () => {
  it('can be taken back by the toast', async () => {
    answer = json(201, makeBatch({ id: 'batch-9', lastAct: startedAct }));
    const start = {
      cardId: 'body-filler',
      panel: 'Roof',
      bayId: 'bay-1',
      thicknessMm: 2,
      substrate: 'steel',
    } as const;
    await submit({ kind: 'start', start }, 'Roof');
    expect($toast.value).toEqual({
      text: 'Roof: mixed',
      undo: { batchId: 'batch-9', factSequence: 11, panel: 'Roof' },
    });
  });
});

describe('a start that is turned down', () => {
  it('marks the fields that were wrong', async () => {
    const errors = [{ path: 'hardenerPct', reason: 'is too large', allowed: '0.5 … 5 %' }];
    answer = json(400, { status: 400, errors });
    const start = {
      cardId: 'body-filler',
      panel: 'Roof',
      bayId: 'bay-1',
      thicknessMm: 2,
      substrate: 'steel',
      hardenerPct: 9,
    } as const;
    await expect(submit({ kind: 'start', start }, 'Roof')).resolves.toBe('refused');
    expect($troubles.value['mix']?.errors).toEqual(errors);
  });
});

describe('what an earlier visit left', () => {
  it('is sent when the connection is there, and told when it is too old', async () => {
    const entry = { body: spread, panel: 'Left front door', tappedAt: 0 };
    const queue = [
      { ...entry, key: 'old', keptAt: Date.now() - 31 * 60_000 },
      { ...entry, key: 'young', keptAt: Date.now() },
    ];
    stored.set('sandby.kept', JSON.stringify(queue));
    answer = json(200, spreadBatch);
    startOutbox();
    await vi.advanceTimersByTimeAsync(100);
    expect(sent.map(({ key }) => key)).toEqual(['young']);
    expect($troubles.value['page']?.text).toContain('Too old to send');
    expect(parseQueue(stored.get('sandby.kept') ?? null)).toEqual([]);
  });
});
