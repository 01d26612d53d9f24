// Fails the n-th call of whatever a use case stands on, n = 1, 2, … until a run goes through untouched (STYLE §6): afterwards
// the store is as it was before or after an entry, never in between, and the same ask again comes to the untouched end.
import { expect } from 'vitest';
import { PortFailure } from '../../server/application/ports/portFailure.ts';
import type { PortCall } from './interceptPort.ts';

/** A use case about to be asked, in a state that is the same for each trial. */
export interface Trial {
  readonly calls: CallCounter;
  /** Asks; the result is compared as text. */
  ask(): Promise<unknown>;
  /** All that is stored, as text. */
  stored(): Promise<string>;
  /** What is wrong with what is stored, taken by itself. */
  faults(): Promise<readonly string[]>;
  end(): Promise<void>;
}

export interface CallCounter {
  /** Calls since it was armed. */
  count(): number;
  /** From now on the n-th call fails, or it and all after it; 0 fails none. */
  arm(nth: number, mode: FailMode): void;
  /** Whether this call fails. */
  strikes(): boolean;
  /** Called after each call that changed something. */
  onWrite: () => Promise<void>;
}

export type FailMode = 'once' | 'from then on';

export interface Outcome {
  readonly callCount: number;
  /** States on the way, the first and the last included. */
  readonly stateCount: number;
}

/** A use case that asks more often than this is a defect. */
const CALLS_COUNT_MAX = 2000;

/** Makes a counter that fails nothing yet. */
export function makeCallCounter(): CallCounter {
  let count = 0;
  let nth = 0;
  let mode: FailMode = 'once';
  return {
    count: () => count,
    arm(wantedNth, wantedMode) {
      [count, nth, mode] = [0, wantedNth, wantedMode];
    },
    strikes() {
      count += 1;
      return nth > 0 && (mode === 'once' ? count === nth : count >= nth);
    },
    onWrite: () => Promise.resolve(),
  };
}

/** A call of a port that may fail before it does anything. */
export function failing(calls: CallCounter, port: PortFailure['port']): <T>(call: PortCall<T>) => Promise<T> {
  return async (call) => {
    if (calls.strikes())
      throw new PortFailure(port, call.operation, { isRetriable: true, cause: new Error('the n-th call') });
    const result = await call.work();
    if (call.isWrite) await calls.onWrite();
    return result;
  };
}

/** Tries every n; says how many calls there were. */
export async function failEachCall(open: () => Promise<Trial>, mode: FailMode): Promise<Outcome> {
  const { states, result, callCount } = await runUntouched(open);
  expect(callCount).toBeLessThan(CALLS_COUNT_MAX);
  for (let nth = 1; nth <= callCount; nth += 1) {
    const trial = await open();
    trial.calls.arm(nth, mode);
    const failure = await failureOf(trial);
    const where = `call ${nth} of ${callCount}, ${failure === null ? 'overcome' : failure.message}`;
    trial.calls.arm(0, mode);
    expect(states, `between two states after ${where}`).toContain(await trial.stored());
    expect(await trial.faults(), `after ${where}`).toEqual([]);
    expect(textOf(await trial.ask()), `the answer to the same ask after ${where}`).toBe(result);
    await settle();
    expect(await trial.stored(), `what is stored at the end after ${where}`).toBe(states.at(-1));
    expect(await trial.faults(), `at the end after ${where}`).toEqual([]);
    await trial.end();
  }
  return { callCount, stateCount: states.length };
}

async function runUntouched(
  open: () => Promise<Trial>,
): Promise<{ states: string[]; result: string; callCount: number }> {
  const trial = await open();
  const states = [await trial.stored()];
  trial.calls.arm(0, 'once');
  const note = async (): Promise<void> => {
    const state = await trial.stored();
    if (state !== states.at(-1)) states.push(state);
  };
  trial.calls.onWrite = note;
  const result = textOf(await trial.ask());
  await settle();
  const callCount = trial.calls.count();
  await note();
  expect(await trial.faults()).toEqual([]);
  await trial.end();
  return { states, result, callCount };
}

/** Only a port's failure may come out of a use case; null where the failure was overcome. */
async function failureOf(trial: Trial): Promise<PortFailure | null> {
  try {
    await trial.ask();
    return null;
  } catch (error) {
    expect(error).toBeInstanceOf(PortFailure);
    return error as PortFailure;
  } finally {
    await settle();
  }
}

function textOf(result: unknown): string {
  return JSON.stringify(result ?? null);
}

/** What goes on behind an answer is done by then: it waits for promises, and a file for a turn of the event loop. */
async function settle(): Promise<void> {
  for (let turn = 0; turn < 4; turn += 1) await new Promise((resolve) => setImmediate(resolve));
}
