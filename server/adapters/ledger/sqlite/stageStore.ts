// A copy on its way into the place of a store: brought beside it under another name, checked, and made a store of its own.
import { copyFileSync, existsSync, realpathSync } from 'node:fs';
import type { Ledger } from '../../../application/ports/ledger.ts';
import { checkStoreFile, type StoreVerdict } from './checkStoreFile.ts';
import { gatherLog, removeDatabase, removeSides, syncFile } from './durableFile.ts';
import { migrate } from './migrations.ts';
import { openFile } from './openDatabase.ts';
import { makeSqliteStore } from './openSqliteStore.ts';

export interface StageAsk {
  /** What is to be restored; nothing is changed in it. */
  readonly copy: string;
  /** The store whose place it will take. */
  readonly file: string;
}

/** Where a copy waits beside a store. */
export function stagedFileOf(file: string): string {
  return `${file}.restoring`;
}

/** Brings a copy beside the store and looks through all of it; one that is refused leaves nothing behind. */
export function stageStore({ copy, file }: StageAsk): StoreVerdict {
  const staged = stagedFileOf(file);
  removeDatabase(staged);
  if (!existsSync(copy)) return { kind: 'missing', sentence: 'there is no such file' };
  if (existsSync(file) && realpathSync(copy) === realpathSync(file)) {
    return { kind: 'foreign', sentence: 'it is the store itself, not a copy of it' };
  }
  try {
    copyFileSync(copy, staged);
    // A file that was taken from a program that had not ended well has its last writes in its log.
    if (existsSync(`${copy}-wal`)) copyFileSync(`${copy}-wal`, `${staged}-wal`);
  } catch (cause) {
    removeDatabase(staged);
    const code = (cause as NodeJS.ErrnoException).code ?? String(cause);
    return code === 'EISDIR' || code === 'ERR_FS_EISDIR'
      ? { kind: 'foreign', sentence: 'it is a folder, not a file' }
      : { kind: 'missing', sentence: `it cannot be brought beside the store (${code})` };
  }
  const verdict = checkStoreFile(staged);
  if (verdict.kind !== 'sound') removeDatabase(staged);
  return verdict;
}

/** Brings what waits to the newest form, under a name of its own: screens that hold the old ledger read everything anew. */
export function openStaged({ file, ledgerId }: { file: string; ledgerId: string }): {
  ledger: Ledger;
  settle: () => void;
} {
  const staged = stagedFileOf(file);
  const database = openFile({ file: staged }, (opened) => {
    migrate(opened, ledgerId);
    opened.prepare(`UPDATE meta SET value = ? WHERE name = 'ledgerId'`).run(ledgerId);
  });
  return {
    ledger: makeSqliteStore(database).ledger,
    settle() {
      gatherLog(database);
      database.close();
      removeSides(staged);
      syncFile(staged);
    },
  };
}
