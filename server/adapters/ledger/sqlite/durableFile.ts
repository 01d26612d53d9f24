// Files that must be on disk before anybody relies on them: a name is only true once its folder has been synced too.
import { closeSync, fsyncSync, openSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';

/** What SQLite lays beside a file. */
export const SIDE_ENDINGS = ['-wal', '-shm', '-journal'] as const;

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

/** Removes a database with all that lies beside it. */
export function removeDatabase(file: string): void {
  for (const ending of ['', ...SIDE_ENDINGS]) rmSync(`${file}${ending}`, { force: true });
}
