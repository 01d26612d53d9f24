// Asking "what if": once the choices rest, dropped when they change, and every kind of answer as a value.
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { previewChange } from '../../../dashboard/actions/previews.ts';
import { makeBatch, makeEstimate } from '../fixtures.ts';

let answer: () => Response;
let bodies: unknown[];

beforeEach(() => {
  vi.useFakeTimers();
  bodies = [];
  vi.stubGlobal('fetch', async (_path: string, init: RequestInit) => {
    bodies.push(JSON.parse(init.body as string));
    return answer();
  });
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

const json = (status: number, body: unknown) => () => new Response(JSON.stringify(body), { status });

function ask(signal = new AbortController().signal) {
  return previewChange({ batch: makeBatch(), change: { lampId: 'lamp-1', forMin: 10 } }, signal);
}

async function answerOf(given: () => Response): Promise<unknown> {
  answer = given;
  const asked = ask();
  await vi.advanceTimersByTimeAsync(300);
  return asked;
}

describe('a preview', () => {
  it('sends the batch with its change once the choices rest, and gives the estimate', async () => {
    const estimate = makeEstimate();
    await expect(answerOf(json(200, estimate))).resolves.toEqual({ kind: 'estimate', estimate });
    expect(bodies).toEqual([{ batchId: 'batch-1', lampId: 'lamp-1', forMin: 10 }]);
  });

  it('is not sent when another choice came before it rested', async () => {
    answer = json(200, makeEstimate());
    const stop = new AbortController();
    const asked = ask(stop.signal);
    stop.abort();
    await vi.advanceTimersByTimeAsync(300);
    await expect(asked).resolves.toBeNull();
    expect(bodies).toEqual([]);
  });

  it('tells what is wrong with a choice, and what the stage does not allow', async () => {
    const errors = [{ path: 'forMin', reason: 'is too large', allowed: '0 … 240 min' }];
    await expect(answerOf(json(400, { errors }))).resolves.toMatchObject({
      kind: 'refused',
      problem: { errors },
    });
    const detail = 'This batch no longer cures.';
    await expect(answerOf(json(409, { detail }))).resolves.toMatchObject({
      kind: 'refused',
      problem: { detail },
    });
  });

  it('tells a lost network from a server in trouble', async () => {
    const lost = (): Response => {
      throw new TypeError('no network');
    };
    await expect(answerOf(lost)).resolves.toEqual({ kind: 'unanswered', why: 'network' });
    await expect(answerOf(json(503, {}))).resolves.toEqual({ kind: 'unanswered', why: 'server' });
    await expect(answerOf(json(200, 'no estimate'))).resolves.toEqual({ kind: 'unanswered', why: 'server' });
  });
});
