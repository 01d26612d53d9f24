// What a store could not do leaves it as one kind of error, whatever the reason inside was.
import { PortFailure, type PortName } from '../../application/ports/portFailure.ts';

/** Runs work at once; what it throws becomes the port's failure of that operation. */
export type Attempt = <T>(operation: string, work: () => T) => Promise<T>;

/** Names the port once, so that each method names only its operation. */
export function makeAttempt(port: PortName, isRetriable: (cause: unknown) => boolean): Attempt {
  return async (operation, work) => {
    try {
      return work();
    } catch (cause) {
      throw new PortFailure(port, operation, { isRetriable: isRetriable(cause), cause });
    }
  };
}
