// A copy of a live store: one read of one moment on a connection of its own, so that whoever writes waits for nothing.
// Done by a process of its own in a real shop: see server/storeWork.ts.
import { backup, DatabaseSync } from '@photostructure/sqlite';
import { checkStoreFile, type StoreVerdict } from './checkStoreFile.ts';
import { removeDatabase, syncFile } from './durableFile.ts';

export interface CopyAsk {
  /** The live store. */
  readonly file: string;
  /** Where the copy goes; what is there goes first. */
  readonly target: string;
}

/** Copies a store, makes the copy stand by itself, checks all of it and syncs it. Throws what kept it from copying. */
export async function copyStoreFile({ file, target }: CopyAsk): Promise<StoreVerdict> {
  removeDatabase(target);
  const source = new DatabaseSync(file, { readOnly: true, timeout: BUSY_TIMEOUT_MS });
  try {
    // All pages in one step: a copy in several would begin anew at each write of another connection.
    await backup(source, target, { rate: ALL_PAGES_COUNT });
  } finally {
    source.close();
  }
  const copy = new DatabaseSync(target);
  try {
    // Without a write-ahead log a single file is all there is of it.
    copy.prepare('PRAGMA journal_mode = DELETE').get();
  } finally {
    copy.close();
  }
  syncFile(target);
  return checkStoreFile(target);
}

const BUSY_TIMEOUT_MS = 5000;
const ALL_PAGES_COUNT = -1;
