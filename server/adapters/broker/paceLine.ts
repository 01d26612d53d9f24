// One line for each connection whose user sends faster than it may: a message waits for the one before it, and no longer than
// its connection lasts.
import type { Client } from 'aedes';

export interface InLine {
  /** Takes a place in the user's pace; how long until it is its turn [ms]. */
  readonly paceMs: () => number;
  readonly take: () => void;
  /** Instead of take, where the connection has gone meanwhile. */
  readonly callOff: () => void;
}

/** Makes the lines; the function has a message taken at its client's turn, at once while the client keeps to its pace. */
export function makePaceLine(): (client: Client, message: InLine) => void {
  const tailOf = new WeakMap<Client, Promise<void>>();
  return (client, { paceMs, take, callOff }) => {
    const before = tailOf.get(client);
    const waitMs = before === undefined ? paceMs() : null;
    if (waitMs === 0) return take();
    // A place is taken one at a time: what is called off leaves no debt behind.
    const turn =
      before === undefined
        ? waitFor(client, waitMs ?? 0)
        : before.then(() => (client.closed ? undefined : waitFor(client, paceMs())));
    const mine = turn.then(() => (client.closed ? callOff() : take()));
    tailOf.set(client, mine);
    void mine.finally(() => {
      if (tailOf.get(client) === mine) tailOf.delete(client);
    });
  };
}

/** Ends early with the connection. */
function waitFor(client: Client, durationMs: number): Promise<void> {
  if (durationMs === 0) return Promise.resolve();
  return new Promise((resolve) => {
    const end = (): void => {
      clearTimeout(timer);
      client.conn.off('close', end);
      resolve();
    };
    const timer = setTimeout(end, durationMs);
    client.conn.once('close', end);
  });
}
