// What a store could not do leaves it as one kind of error, whatever the reason inside was.
import { PortFailure, type PortName, type StoreTrouble } from '../../application/ports/portFailure.ts';

/** Runs work at once; what it throws becomes the port's failure of that operation. */
export type Attempt = <T>(operation: string, work: () => T) => Promise<T>;

/** Names the port once, so that each method names only its operation. */
export function makeAttempt(
  port: PortName,
  isRetriable: (cause: unknown) => boolean,
  troubleOf: (cause: unknown) => StoreTrouble | null = () => null,
): Attempt {
  return async (operation, work) => {
    try {
      return work();
    } catch (cause) {
      const trouble = troubleOf(cause);
      throw new PortFailure(port, operation, { isRetriable: isRetriable(cause), trouble, cause });
    }
  };
}
