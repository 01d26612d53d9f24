// The copies that are kept in a folder: each is written under another name, checked, and only then gets its own.
import { mkdirSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { basename, join } from 'node:path';
import { DatabaseSync } from '@photostructure/sqlite';
import type { CopyShelf, Keeping, KeptCopy } from '../../../application/ports/storeCopier.ts';
import {
  COPY_NAME,
  type Instant,
  instantFromIso,
  instantFromMs,
  isoFromInstant,
} from '../../../contract/index.ts';
import { makeAttempt } from '../attempt.ts';
import { removeDatabase, syncFolderOf } from './durableFile.ts';
import { openCopy } from './makeSqliteCopier.ts';
import { type CopyPlace, roomMissing } from './roomForCopy.ts';
import { isDamage } from './storeDamage.ts';
import { notCopied, notDone, type StoreWork } from './storeWork.ts';

const PART_ENDING = '.part';

/** Makes the shelf of a store; what a crash left half made goes. */
export function makeCopyShelf({ file, folder }: CopyPlace, work: StoreWork): CopyShelf {
  const attempt = makeAttempt('ledger', () => true);
  removeHalfMade(folder);
  return {
    folder: basename(folder),
    async keep(madeAt) {
      try {
        return await keepCopy({ file, folder, madeAt }, work);
      } catch (cause) {
        return notCopied(notDone(cause));
      }
    },
    list: () => attempt('listCopies', () => listCopies(folder)),
    open: async (name) => {
      const found = await attempt('openCopy', () => listCopies(folder).find((copy) => copy.name === name));
      return found === undefined ? null : openCopy(join(folder, found.name), () => undefined);
    },
    ledgerOf: (name) => attempt('readCopy', () => ledgerIn(join(folder, name))),
    remove: (name) =>
      attempt('removeCopy', () => {
        if (COPY_NAME.test(name)) rmSync(join(folder, name), { force: true });
      }),
    stop: () => work.stop(),
  };
}

async function keepCopy(
  { file, folder, madeAt }: CopyPlace & { readonly madeAt: Instant },
  work: StoreWork,
): Promise<Keeping> {
  mkdirSync(folder, { recursive: true });
  const missing = roomMissing({ file, folder });
  if (missing !== null) return { kind: 'failed', code: 'no-room', detail: missing };
  const name = nameFor(folder, madeAt);
  const part = join(folder, `${name}${PART_ENDING}`);
  const verdict = await work.copy({ file, target: part });
  if (verdict.kind !== 'sound') {
    removeDatabase(part);
    return notCopied(verdict);
  }
  renameSync(part, join(folder, name));
  syncFolderOf(join(folder, name));
  const kept = listCopies(folder).find((copy) => copy.name === name);
  if (kept === undefined) throw new Error('the copy has gone');
  return { kind: 'kept', copy: kept };
}

/** A name that no other copy has: two of one second are a second apart. */
function nameFor(folder: string, madeAt: Instant): string {
  const taken = new Set(listCopies(folder).map(({ name }) => name));
  for (let ms: number = madeAt; ; ms += 1000) {
    const name = `sandby-${isoFromInstant(instantFromMs(ms)).slice(0, 19).replaceAll(':', '-')}Z.sqlite`;
    if (!taken.has(name)) return name;
  }
}

/** The copies that are to be seen in a folder; none where it cannot be looked into. */
export function copiesIn(folder: string): readonly KeptCopy[] {
  try {
    return listCopies(folder);
  } catch {
    return [];
  }
}

/** By their names, the newest first. Names alone tell the age: a file's own times do not survive being carried. */
function listCopies(folder: string): KeptCopy[] {
  return namesIn(folder)
    .flatMap((name): KeptCopy[] => {
      const madeAt = madeAtOf(name);
      const found = madeAt === null ? undefined : statSync(join(folder, name), { throwIfNoEntry: false });
      return madeAt === null || found?.isFile() !== true ? [] : [{ name, madeAt, sizeBytes: found.size }];
    })
    .toSorted((left, right) => right.madeAt - left.madeAt);
}

/** One page of the file: a copy stands by itself and has no log. */
function ledgerIn(file: string): string | null {
  const database = new DatabaseSync(file, { readOnly: true });
  try {
    const row = database.prepare(`SELECT value FROM meta WHERE name = 'ledgerId'`).get() as
      { value: string } | undefined;
    return row?.value ?? null;
  } catch (cause) {
    if (isDamage(cause) || /no such table/.test(String(cause))) return null;
    throw cause;
  } finally {
    database.close();
  }
}

function madeAtOf(name: string): Instant | null {
  const parts = COPY_NAME.exec(name);
  if (parts === null) return null;
  const [, day = '', hour = '', minute = '', second = ''] = parts;
  return instantFromIso(`${day}T${hour}:${minute}:${second}Z`);
}

/** A folder that cannot be looked into is told of by the first copy. */
function removeHalfMade(folder: string): void {
  try {
    const names = namesIn(folder).filter((name) => name.startsWith('sandby-') && name.includes(PART_ENDING));
    for (const name of names) rmSync(join(folder, name), { force: true });
  } catch {
    // See above.
  }
}

function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder);
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === 'ENOENT') return [];
    throw cause;
  }
}
