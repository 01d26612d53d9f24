// A port that did not do its work throws this: it names the port and the operation, and says whether to try again.

export type PortName = 'ledger' | 'air' | 'keys';

export class PortFailure extends Error {
  readonly port: PortName;
  readonly operation: string;
  readonly isRetriable: boolean;

  constructor(port: PortName, operation: string, options: { isRetriable: boolean; cause?: unknown }) {
    super(`${port}.${operation} failed`, { cause: options.cause });
    this.name = 'PortFailure';
    this.port = port;
    this.operation = operation;
    this.isRetriable = options.isRetriable;
  }
}
