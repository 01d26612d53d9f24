// A copy of a shop's file to be carried away, made while it is written; it lies beside the file for as long as it is read.
import { open } from 'node:fs/promises';
import { dirname } from 'node:path';
import { PortFailure } from '../../../application/ports/portFailure.ts';
import type { StoreCopier, StoreCopy } from '../../../application/ports/storeCopier.ts';
import { removeDatabase } from './durableFile.ts';
import { roomMissing } from './roomForCopy.ts';
import { notCopied, type StoreWork, type WorkVerdict } from './storeWork.ts';

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
        const missing = roomMissing({ file, folder: dirname(file) });
        const verdict: WorkVerdict =
          missing === null
            ? await work.copy({ file, target: copyFile })
            : { kind: 'failed', code: 'no-room', sentence: missing };
        if (verdict.kind === 'sound') return await openCopy(copyFile, letGo);
        letGo();
        return notCopied(verdict);
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
