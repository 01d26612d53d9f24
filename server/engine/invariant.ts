// Assertions that stay on in production: a broken one is our bug, never a caller's input.

/**
 * A fault: something our own code promised did not hold.
 */
export class Fault extends Error {
  override readonly name = 'Fault';
}

/**
 * Returns only when the condition holds.
 * @param condition  what must be true here
 * @param message  what is wrong otherwise, as a sentence for a developer
 * @throws Fault when the condition is false
 * @source own
 */
export function invariant(condition: boolean, message: string): asserts condition {
  if (!condition) throw new Fault(message);
}
