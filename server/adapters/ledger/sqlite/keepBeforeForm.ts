// Before a store gets a newer form, it is copied as it is: whoever has to go back to the program before finds it whole.
import { renameSync, rmSync } from 'node:fs';
import { basename, dirname, extname, join } from 'node:path';
import type { DatabaseSyncInstance } from '@photostructure/sqlite';
import { syncFile, syncFolderOf } from './durableFile.ts';
import { assertOurs, type Schema } from './migrations.ts';

export interface FormAsk {
  readonly file: string;
  readonly schema: Schema;
}

/**
 * Keeps an open store of an older form as NAME-before-form-N.sqlite beside it; does nothing for one that is new or of the
 * newest form. SQLite itself copies: reading the file by other means would let go of its locks.
 */
export function keepBeforeForm(database: DatabaseSyncInstance, { file, schema }: FormAsk): void {
  const version = assertOurs(database, schema);
  if (version === 0 || version === schema.steps.length) return;
  const name = `${basename(file, extname(file))}-before-form-${schema.steps.length}.sqlite`;
  const kept = join(dirname(file), name);
  const part = `${kept}.part`;
  rmSync(part, { force: true });
  database.exec(`VACUUM INTO '${part.replaceAll("'", "''")}'`);
  syncFile(part);
  // One that an interrupted start left there holds no more than this one.
  renameSync(part, kept);
  syncFolderOf(kept);
}
