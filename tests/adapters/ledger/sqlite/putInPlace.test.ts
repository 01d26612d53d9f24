// What a restore takes out of its place is on the disk under another name before anything of it goes.
import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { basename, dirname, join } from 'node:path';
import { DatabaseSync } from '@photostructure/sqlite';
import { expect, it, onTestFinished, vi } from 'vitest';
import { putInPlace } from '../../../../server/adapters/ledger/sqlite/putInPlace.ts';
import { stagedFileOf } from '../../../../server/adapters/ledger/sqlite/stageStore.ts';
import { type Instant, instantFromIso } from '../../../../server/contract/index.ts';
import { newFile } from '../temporaryFolder.ts';

const KEPT = 'sandby-before-restore-2026-01-12T07-00-00Z.sqlite';

/** Notes, in order, which files are synced, renamed and removed. */
function noteFiles(): string[] {
  const done: string[] = [];
  const names = new Map<number, string>();
  const real = { ...fs };
  vi.spyOn(fs, 'openSync').mockImplementation((path, ...more) => {
    const handle = real.openSync(path, ...more);
    names.set(handle, basename(String(path)));
    return handle;
  });
  vi.spyOn(fs, 'fsyncSync').mockImplementation((handle) => {
    done.push(`sync ${names.get(handle)}`);
    real.fsyncSync(handle);
  });
  vi.spyOn(fs, 'renameSync').mockImplementation((from, to) => {
    done.push(`rename to ${basename(String(to))}`);
    real.renameSync(from, to);
  });
  vi.spyOn(fs, 'rmSync').mockImplementation((path, options) => {
    if (fs.existsSync(path)) done.push(`remove ${basename(String(path))}`);
    real.rmSync(path, options);
  });
  syncBuiltinESMExports();
  onTestFinished(() => {
    vi.restoreAllMocks();
    syncBuiltinESMExports();
  });
  return done;
}

it('keeps a store that has a log still with that log, both synced before the one in place goes', () => {
  const file = newFile();
  const reader = new DatabaseSync(file);
  reader.exec('PRAGMA journal_mode = WAL; CREATE TABLE one (a); INSERT INTO one VALUES (7); BEGIN');
  // As long as somebody reads, the log cannot be brought into the file.
  expect(reader.prepare('SELECT a FROM one').get()).toEqual({ a: 7 });
  fs.writeFileSync(stagedFileOf(file), 'the copy');
  const done = noteFiles();
  expect(putInPlace({ file, keptAt: instantFromIso('2026-01-12T07:00:00Z') as Instant })).toBe(KEPT);
  const folder = basename(dirname(file));
  expect(done).toEqual([
    `sync ${KEPT}.part`,
    `sync ${KEPT}-wal`,
    `rename to ${KEPT}`,
    `sync ${folder}`,
    'remove shop.db-wal',
    'remove shop.db-shm',
    'rename to shop.db',
    `sync ${folder}`,
  ]);
  reader.close();
  const kept = new DatabaseSync(join(dirname(file), KEPT));
  expect(kept.prepare('SELECT a FROM one').get()).toEqual({ a: 7 });
  kept.close();
  expect(fs.readFileSync(file, 'utf8')).toBe('the copy');
});
