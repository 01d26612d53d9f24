// One program a data folder: a lock that the system lets go of when the process ends, however it ends.
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync, type DatabaseSyncInstance } from '@photostructure/sqlite';
import { PortFailure } from '../../../application/ports/portFailure.ts';

/** Kept from the garbage collector, which would close them and let the folders go. */
const held: DatabaseSyncInstance[] = [];

/** Takes the folder for this process until it ends. Throws PortFailure when another one has it. */
export function lockFolder(folder: string): void {
  try {
    mkdirSync(folder, { recursive: true });
    const lock = new DatabaseSync(join(folder, 'lock.sqlite'), { timeout: 0 });
    held.push(lock);
    lock.exec('BEGIN EXCLUSIVE');
  } catch (cause) {
    const isTaken = /locked/.test(String(cause));
    throw new PortFailure('ledger', 'lock', {
      isRetriable: false,
      cause: isTaken ? new Error('another Sandby works on it: stop that one first') : cause,
    });
  }
}
