// A port that did not do its work throws this: it names the port and the operation, and says whether to try again.

export type PortName = 'ledger' | 'air' | 'keys';

/** What keeps a store from its work, where it can tell. */
export type StoreTrouble = 'full' | 'read-only' | 'locked' | 'damaged' | 'disk';

export class PortFailure extends Error {
  readonly port: PortName;
  readonly operation: string;
  readonly isRetriable: boolean;
  readonly trouble: StoreTrouble | null;

  constructor(
    port: PortName,
    operation: string,
    options: { isRetriable: boolean; trouble?: StoreTrouble | null; cause?: unknown },
  ) {
    super(`${port}.${operation} failed`, { cause: options.cause });
    this.name = 'PortFailure';
    this.port = port;
    this.operation = operation;
    this.isRetriable = options.isRetriable;
    this.trouble = options.trouble ?? null;
  }
}
