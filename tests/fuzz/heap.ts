// How much memory is left behind, after everything that can be collected was.
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

/** What may be left behind by any number of malformed inputs [bytes]: caches and compiled code, no input. */
export const GROWTH_MAX_BYTES = 12 * 2 ** 20;

/** The heap in use after two collections [bytes]. */
export async function heapBytes(): Promise<number> {
  setFlagsFromString('--expose-gc');
  const collect = runInNewContext('gc') as () => void;
  collect();
  await new Promise((resolve) => setImmediate(resolve));
  collect();
  return process.memoryUsage().heapUsed;
}
