// Before a store gets a newer form, it is copied as it is: whoever has to go back to the program before finds it whole.
import { existsSync, renameSync, rmSync } from 'node:fs';
import { basename, dirname, extname, join } from 'node:path';
import { DatabaseSync, type DatabaseSyncInstance } from '@photostructure/sqlite';
import { syncFile, syncFolderOf } from './durableFile.ts';
import { assertOurs, type Schema } from './migrations.ts';
import { assertUncut } from './storeDamage.ts';

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
  // A start that was interrupted between two steps left this store half-way: what it was before lies there already.
  const keptVersion = versionOf(kept, schema);
  if (keptVersion !== null && keptVersion !== version) return;
  const part = `${kept}.part`;
  rmSync(part, { force: true });
  database.exec(`VACUUM INTO '${part.replaceAll("'", "''")}'`);
  syncFile(part);
  // One of the same form holds no more than this one: an interrupted start left it, or somebody went back to it since.
  renameSync(part, kept);
  syncFolderOf(kept);
}

/** The form of a kept store; null where there is none that is whole enough to go back to. */
function versionOf(file: string, schema: Schema): number | null {
  if (!existsSync(file)) return null;
  try {
    assertUncut(file);
    const database = new DatabaseSync(file, { readOnly: true });
    try {
      return assertOurs(database, schema) || null;
    } finally {
      database.close();
    }
  } catch {
    return null;
  }
}
