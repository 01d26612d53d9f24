// Before a store gets a newer form, its file is copied as it is: whoever has to go back to the program before finds it whole.
import { copyFileSync, existsSync, renameSync } from 'node:fs';
import { basename, dirname, extname, join } from 'node:path';
import { DatabaseSync } from '@photostructure/sqlite';
import { syncFile, syncFolderOf } from './durableFile.ts';
import { assertOurs, type Schema } from './migrations.ts';

/**
 * Keeps a store of an older form as NAME-before-form-N.sqlite beside it; does nothing for one that is new, missing or of
 * the newest form. To be called while nobody has the file open: it is copied by other means than SQLite's.
 */
export function keepBeforeForm(file: string, schema: Schema): void {
  if (!existsSync(file)) return;
  const version = gatherLog(file, schema);
  if (version === 0 || version === schema.steps.length) return;
  const name = `${basename(file, extname(file))}-before-form-${schema.steps.length}.sqlite`;
  const kept = join(dirname(file), name);
  // One that an interrupted start left there holds no more than this one.
  copyFileSync(file, `${kept}.part`);
  syncFile(`${kept}.part`);
  renameSync(`${kept}.part`, kept);
  syncFolderOf(kept);
}

/** Brings what is still in the log of an older form into the file, and tells the form. */
function gatherLog(file: string, schema: Schema): number {
  const database = new DatabaseSync(file, { timeout: 0 });
  try {
    const version = assertOurs(database, schema);
    if (version === 0 || version === schema.steps.length) return version;
    const { busy } = database.prepare('PRAGMA wal_checkpoint(TRUNCATE)').get() as { busy: number };
    if (busy !== 0) throw new Error('another program has the file open');
    return version;
  } finally {
    database.close();
  }
}
