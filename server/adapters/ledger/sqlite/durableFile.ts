// Files that must be on disk before anybody relies on them: a name is only true once its folder has been synced too.
import { closeSync, fsyncSync, openSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
import type { DatabaseSyncInstance } from '@photostructure/sqlite';

/** Writes a file's bytes through to the disk. */
export function syncFile(file: string): void {
  const handle = openSync(file, 'r+');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

/** Writes the names in a file's folder through to the disk. */
export function syncFolderOf(file: string): void {
  const handle = openSync(dirname(file), 'r');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

/** Brings all that is in a database's log into its file, so that the file alone is the store. */
export function gatherLog(database: DatabaseSyncInstance): void {
  const { busy } = database.prepare('PRAGMA wal_checkpoint(TRUNCATE)').get() as { busy: number };
  if (busy !== 0) throw new Error('another program has the file open');
}

/** Removes a database with all that lies beside it. */
export function removeDatabase(file: string): void {
  rmSync(file, { force: true });
  removeSides(file);
}

/** Removes what SQLite lays beside a file; to be done only where nothing in it is needed. */
export function removeSides(file: string): void {
  for (const ending of SIDE_ENDINGS) rmSync(`${file}${ending}`, { force: true });
}

const SIDE_ENDINGS = ['-wal', '-shm', '-journal'] as const;
