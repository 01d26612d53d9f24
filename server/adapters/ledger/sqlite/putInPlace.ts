// The store's place changes hands: the store before is kept under another name first, then one renaming decides. Whatever
// interrupts this, either the one or the other stands whole.
import { copyFileSync, existsSync, renameSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { DatabaseSync } from '@photostructure/sqlite';
import { type Instant, isoFromInstant } from '../../../contract/index.ts';
import { gatherLog, removeSides, syncFile, syncFolderOf } from './durableFile.ts';
import { stagedFileOf } from './stageStore.ts';

/** Puts what waits beside a store in its place. Gives the name under which the store before it is kept; null without one. */
export function putInPlace({ file, keptAt }: { file: string; keptAt: Instant }): string | null {
  const staged = stagedFileOf(file);
  const keptName = existsSync(file) ? keepOld(file, keptAt) : null;
  // The old log must never meet the new file: SQLite would take it for the new one's own.
  removeSides(file);
  renameSync(staged, file);
  syncFolderOf(file);
  return keptName;
}

/** Keeps a store as it is, never over another one. */
function keepOld(file: string, keptAt: Instant): string {
  gatherLogOf(file);
  const name = freeName(dirname(file), keptAt);
  const kept = join(dirname(file), name);
  copyFileSync(file, `${kept}.part`);
  syncFile(`${kept}.part`);
  // Only of a store that is damaged or read by others is there still a log here: it is kept with it, on the disk before the
  // live one goes.
  if (hasLog(file)) {
    copyFileSync(`${file}-wal`, `${kept}-wal`);
    syncFile(`${kept}-wal`);
  }
  renameSync(`${kept}.part`, kept);
  syncFolderOf(kept);
  return name;
}

function gatherLogOf(file: string): void {
  try {
    const database = new DatabaseSync(file, { timeout: 0 });
    try {
      gatherLog(database);
    } finally {
      database.close();
    }
  } catch {
    // Damaged, which may be why another one is to take its place: it is kept as it is.
  }
}

function hasLog(file: string): boolean {
  return (statSync(`${file}-wal`, { throwIfNoEntry: false })?.size ?? 0) > 0;
}

function freeName(folder: string, keptAt: Instant): string {
  const stem = `sandby-before-restore-${isoFromInstant(keptAt).slice(0, 19).replaceAll(':', '-')}Z`;
  for (let count = 1; ; count += 1) {
    const name = count === 1 ? `${stem}.sqlite` : `${stem}-${count}.sqlite`;
    if (!existsSync(join(folder, name))) return name;
  }
}
