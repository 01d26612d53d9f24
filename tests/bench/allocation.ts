// How much a film leaves on the heap.
import { type Spread, spreadOf } from './measure.ts';

/**
 * Bytes a call allocates: growth of the used heap over many calls after a full collection, few enough that with the young
 * generation of `npm run bench` (64 MiB) none is collected in between. Warmed up first, since compiling allocates too.
 */
export function bytesPerCall(call: () => unknown): Spread {
  const collect = globalThis.gc;
  if (collect === undefined) throw new Error('run with --expose-gc');
  const grow = (): number => {
    collect();
    const beforeBytes = process.memoryUsage().heapUsed;
    for (let done = 0; done < CALLS_COUNT; done++) call();
    return (process.memoryUsage().heapUsed - beforeBytes) / CALLS_COUNT;
  };
  for (let warm = 0; warm < TRIES_COUNT; warm++) grow();
  return spreadOf(Array.from({ length: TRIES_COUNT }, grow));
}

const TRIES_COUNT = 9;
const CALLS_COUNT = 2000;
