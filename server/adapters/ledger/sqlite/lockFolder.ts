// One program a data folder: a lock that the system lets go of when the process ends, however it ends.
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from '@photostructure/sqlite';
import { PortFailure } from '../../../application/ports/portFailure.ts';

/** Takes the folder for this process; the returned function lets it go. Throws PortFailure when another one has it. */
export function lockFolder(folder: string): () => void {
  try {
    mkdirSync(folder, { recursive: true });
    const lock = new DatabaseSync(join(folder, 'lock.sqlite'), { timeout: 0 });
    lock.exec('BEGIN EXCLUSIVE');
    return () => lock.close();
  } catch (cause) {
    const isTaken = /locked/.test(String(cause));
    throw new PortFailure('ledger', 'lock', {
      isRetriable: false,
      cause: isTaken ? new Error('another Sandby works on it: stop that one first') : cause,
    });
  }
}
