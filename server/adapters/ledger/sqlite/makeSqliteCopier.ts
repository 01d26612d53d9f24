// A copy of a shop's file to be carried away, made while it is written; it lies beside the file for as long as it is read.
import { open } from 'node:fs/promises';
import { PortFailure } from '../../../application/ports/portFailure.ts';
import type { StoreCopier, StoreCopy } from '../../../application/ports/storeCopier.ts';
import { removeDatabase } from './durableFile.ts';
import type { StoreWork } from './storeWork.ts';

/** Makes the copier of a store's file; what a crash left of a copy goes. */
export function makeSqliteCopier(work: StoreWork, file: string): StoreCopier {
  const copyFile = `${file}.copy`;
  removeDatabase(copyFile);
  let isBusy = false;
  return {
    async copy() {
      if (isBusy) return null;
      isBusy = true;
      const letGo = (): void => {
        isBusy = false;
        removeDatabase(copyFile);
      };
      try {
        const verdict = await work.copy({ file, target: copyFile });
        if (verdict.kind !== 'sound') throw new Error(verdict.sentence);
        return await openCopy(copyFile, letGo);
      } catch (cause) {
        letGo();
        throw new PortFailure('ledger', 'copy', { isRetriable: true, cause });
      }
    },
  };
}

/** Opened before it is handed out: whoever lets go at once must not find the file gone from under the opening. */
export async function openCopy(copyFile: string, whenLetGo: () => void): Promise<StoreCopy> {
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
      whenLetGo();
    },
  };
}
