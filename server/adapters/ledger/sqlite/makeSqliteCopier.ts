// Copies of a shop's file while it is written: SQLite's own online backup, a few pages at a time, so that writes go on
// between them and the copy is of one moment.
import { rmSync } from 'node:fs';
import { open } from 'node:fs/promises';
import { backup, type DatabaseSyncInstance } from '@photostructure/sqlite';
import { PortFailure } from '../../../application/ports/portFailure.ts';
import type { StoreCopier, StoreCopy } from '../../../application/ports/storeCopier.ts';
import { isRetriableError } from './isRetriableError.ts';

/** Pages between two turns of the event loop: of 4 KiB each, a stall of some milliseconds. */
const PAGES_COUNT = 100;

/** Makes the copier of a database; the copy lies beside its file while it is read, and what a crash left there goes. */
export function makeSqliteCopier(database: DatabaseSyncInstance, file: string): StoreCopier {
  const copyFile = `${file}.copy`;
  remove(copyFile);
  let isBusy = false;
  return {
    async copy() {
      if (isBusy) return null;
      isBusy = true;
      const letGo = (): void => {
        isBusy = false;
        remove(copyFile);
      };
      try {
        remove(copyFile);
        await backup(database, copyFile, { rate: PAGES_COUNT });
        return await copyOf(copyFile, letGo);
      } catch (cause) {
        letGo();
        throw new PortFailure('ledger', 'copy', { isRetriable: isRetriableError(cause), cause });
      }
    },
  };
}

/** Opened before it is handed out: whoever lets go at once must not find the file gone from under the opening. */
async function copyOf(copyFile: string, letGo: () => void): Promise<StoreCopy> {
  let isHeld = true;
  const handle = await open(copyFile);
  const { size } = await handle.stat();
  const content = handle.createReadStream();
  return {
    sizeBytes: size,
    content,
    letGo() {
      if (!isHeld) return;
      isHeld = false;
      content.destroy();
      letGo();
    },
  };
}

function remove(copyFile: string): void {
  for (const name of [copyFile, `${copyFile}-journal`, `${copyFile}-wal`, `${copyFile}-shm`]) {
    rmSync(name, { force: true });
  }
}
