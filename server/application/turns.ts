// One writer at a time: use cases that decide take turns, so that a decision never meets a head that moved under it.

/** Runs a job after all that were asked before it. */
export type Turns = <T>(job: () => Promise<T>) => Promise<T>;

/** Makes a queue of turns; a job that fails does not stop the next. */
export function makeTurns(): Turns {
  let last: Promise<unknown> = Promise.resolve();
  return async function takeTurn<T>(job: () => Promise<T>): Promise<T> {
    const mine = last.then(job, job);
    last = mine.catch(() => undefined);
    return mine;
  };
}
