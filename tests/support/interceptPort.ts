// A port whose every call goes through one place, whatever methods it has: to fail, to count, to come late.

/** One call of a port. */
export interface PortCall<T = unknown> {
  readonly operation: string;
  /** Whether it changes what is stored. */
  readonly isWrite: boolean;
  /** Does what was asked for. */
  work(): Promise<T>;
}

/** The same port; each of its methods is handed to `around`, which does the work or not. What is no method stays. */
export function interceptPort<Port extends object>(
  port: Port,
  around: <T>(call: PortCall<T>) => Promise<T>,
): Port {
  const members = Object.entries(port).map(([operation, member]: [string, unknown]) => {
    if (typeof member !== 'function' || operation === 'close') return [operation, member];
    const isWrite = !operation.startsWith('read');
    const method = (...given: unknown[]): Promise<unknown> =>
      around({ operation, isWrite, work: async () => (member as (...all: unknown[]) => unknown)(...given) });
    return [operation, method];
  });
  return Object.fromEntries(members) as Port;
}
