// `npm run restore` as people run it: what it refuses in one line, what it keeps, and that a plug pulled at any moment leaves
// the one store or the other whole.
import { spawn, spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, readdirSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { DatabaseSync } from '@photostructure/sqlite';
import { beforeAll, describe, expect, it } from 'vitest';
import { checkStoreFile } from '../../server/adapters/ledger/sqlite/checkStoreFile.ts';
import { getJson, postJson } from '../support/http.ts';
import { makeTempFolder, runServer } from '../support/runServer.ts';
import { countFor } from '../support/testSize.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const FLAGS = ['--config', 'config/shop.example.json'];
const BATCH = { cardId: 'body-filler', panel: 'Bonnet', bayId: 'bay-1', thicknessMm: 2, substrate: 'steel' };
/** How often a restore is killed on its way. */
const KILLS_COUNT = countFor({ usual: 4, nightly: 150 });

let copy: string;
let ledgerIdOfCopy: string;
let folderOfCopy: string;

/** A shop with a batch, a copy of it, and a second batch that the copy does not know. */
beforeAll(async () => {
  folderOfCopy = makeTempFolder();
  const server = await runServer({ dataFolder: folderOfCopy });
  const { address } = server;
  await postJson({ address, path: '/readings' }, { sensorId: 'bay-1-air', airTemperatureC: 20 });
  await postJson({ address, path: '/batches' }, BATCH);
  const made = await postJson({ address, path: '/copies' }, {});
  ledgerIdOfCopy = String((await getJson(address, '/snapshot')).body['ledgerId']);
  await postJson({ address, path: '/batches' }, { ...BATCH, panel: 'Roof' });
  await server.stop();
  copy = join(makeTempFolder(), 'carried.sqlite');
  copyFileSync(join(folderOfCopy, 'copies', String(made.body['name'])), copy);
});

function restore(
  dataFolder: string,
  flags: readonly string[],
): { code: number | null; out: string; line: string } {
  const run = spawnSync(process.execPath, ['dist/server/restore.js', ...flags], {
    cwd: ROOT,
    env: { ...process.env, SANDBY_DATA: dataFolder },
    encoding: 'utf8',
  });
  return { code: run.status, out: run.stdout, line: run.stderr };
}

function expectRefused(dataFolder: string, file: string, says: RegExp): void {
  const { code, out, line } = restore(dataFolder, [file, ...FLAGS]);
  expect(line.trimEnd().split('\n')).toHaveLength(1);
  expect(line).toMatch(says);
  expect([code, out]).toEqual([2, '']);
}

/** A data folder with the shop of two batches. */
function newFolder(): string {
  const folder = makeTempFolder();
  copyFileSync(join(folderOfCopy, 'sandby.sqlite'), join(folder, 'sandby.sqlite'));
  return folder;
}

function factCountIn(folder: string): number {
  const verdict = checkStoreFile(join(folder, 'sandby.sqlite'));
  if (verdict.kind !== 'sound') throw new Error(verdict.sentence);
  return verdict.holds.factCount;
}

describe('a restore', () => {
  it('puts the copy in place under a new name, keeps the store before it, and the shop opens as it was then', async () => {
    const folder = newFolder();
    const countBefore = factCountIn(folder);
    const { code, out, line } = restore(folder, [copy, ...FLAGS]);
    expect([code, line]).toEqual([0, '']);
    expect(out).toMatch(/\d+ facts, the newest of 20\d\d-/);
    expect(out).toMatch(/1 readings, the newest of 20\d\d-/);
    const kept = /kept beside it as (sandby-before-restore-\S+\.sqlite)/.exec(out)?.[1] ?? '';
    const before = checkStoreFile(join(folder, kept));
    expect(before).toMatchObject({ kind: 'sound', holds: { factCount: countBefore } });
    const server = await runServer({ dataFolder: folder });
    const { body } = await getJson(server.address, '/snapshot');
    expect(body['ledgerId']).not.toBe(ledgerIdOfCopy);
    expect((body['batches'] as { panel: string }[]).map(({ panel }) => panel)).toEqual(['Bonnet']);
    expectRefused(folder, copy, /cannot be restored into: another Sandby works on it/);
    expect(await server.stop()).toBe(0);
    expect(restore(folder, [copy, ...FLAGS]).code).toBe(0);
    expect(
      readdirSync(folder).filter((name) => /^sandby-before-restore-.*\.sqlite$/.test(name)),
    ).toHaveLength(2);
  });

  it('fills a folder that is new, as on another machine', () => {
    const folder = join(makeTempFolder(), 'data');
    const { code, out } = restore(folder, [copy, ...FLAGS]);
    expect(code).toBe(0);
    expect(out).not.toContain('kept beside it');
    expect(factCountIn(folder)).toBeLessThan(factCountIn(folderOfCopy));
  });

  it('rebuilds views that stand otherwise than the facts', () => {
    const changed = join(makeTempFolder(), 'changed.sqlite');
    copyFileSync(copy, changed);
    const database = new DatabaseSync(changed);
    database.exec(`UPDATE views SET body = '{"panel": "nobody’s"}' WHERE kind = 'batch'`);
    database.close();
    const folder = newFolder();
    const { code, out } = restore(folder, [changed, ...FLAGS]);
    expect(code).toBe(0);
    expect(out).toMatch(/1 views stood otherwise than the facts and were rebuilt/);
  });

  it('takes a store from a machine that was switched off, with what its log still holds', () => {
    const folder = makeTempFolder();
    const raw = join(folder, 'raw.sqlite');
    const database = new DatabaseSync(raw);
    copyFileSync(copy, join(folder, 'other.sqlite'));
    database.close();
    copyFileSync(copy, raw);
    const live = new DatabaseSync(raw);
    live.exec('PRAGMA journal_mode = WAL; PRAGMA wal_autocheckpoint = 0');
    live.exec(`INSERT INTO answers VALUES ('late', 'asked', 1, '{}')`);
    const carried = join(makeTempFolder(), 'carried.sqlite');
    copyFileSync(raw, carried);
    copyFileSync(`${raw}-wal`, `${carried}-wal`);
    live.close();
    const target = newFolder();
    expect(restore(target, [carried, ...FLAGS]).code).toBe(0);
    const restored = new DatabaseSync(join(target, 'sandby.sqlite'), { readOnly: true });
    expect(restored.prepare(`SELECT count(*) AS count FROM answers WHERE key = 'late'`).get()).toEqual({
      count: 1,
    });
    restored.close();
  });

  it('takes the place of a store that is damaged, and keeps that one as it is', () => {
    const folder = newFolder();
    const file = join(folder, 'sandby.sqlite');
    writeFileSync(file, 'nothing of a store\n'.repeat(300));
    const { code, out } = restore(folder, [copy, ...FLAGS]);
    expect(code).toBe(0);
    const kept = /kept beside it as (\S+)/.exec(out)?.[1] ?? '';
    expect(readFileSync(join(folder, kept), 'utf8')).toContain('nothing of a store');
    expect(checkStoreFile(file).kind).toBe('sound');
  });
});

describe('a restore is refused in one line, and nothing is changed,', () => {
  const cases: readonly [string, (folder: string) => string, RegExp][] = [
    ['of no file', () => 'nowhere.sqlite', /nowhere\.sqlite: there is no such file; nothing was changed/],
    ['of a text', () => 'README.md', /README\.md: the file is no SQLite database; nothing was changed/],
    [
      'of a folder',
      (folder) => {
        mkdirSync(join(folder, 'inside'));
        return join(folder, 'inside');
      },
      /folder/,
    ],
    ['of the store itself', (folder) => join(folder, 'sandby.sqlite'), /the store itself/],
    [
      'of a copy that was cut short',
      (folder) => {
        const cut = join(folder, 'cut.sqlite');
        copyFileSync(copy, cut);
        truncateSync(cut, 9000);
        return cut;
      },
      /cut\.sqlite: the file is damaged: .*; nothing was changed/,
    ],
    [
      'of a newer form',
      (folder) => {
        const newer = join(folder, 'newer.sqlite');
        copyFileSync(copy, newer);
        const database = new DatabaseSync(newer);
        database.exec('PRAGMA user_version = 99');
        database.close();
        return newer;
      },
      /schema 99.*newer version of the program/,
    ],
  ];

  it.each(cases)('%s', (_name, make, says) => {
    const folder = newFolder();
    const file = make(folder);
    const before = readFileSync(join(folder, 'sandby.sqlite'));
    expectRefused(folder, file, says);
    expect(readFileSync(join(folder, 'sandby.sqlite')).equals(before)).toBe(true);
    expect(readdirSync(folder).filter((name) => /restor/.test(name))).toEqual([]);
  });

  it('without a file, or with two', () => {
    for (const flags of [[], [copy, copy], ['--colour']]) {
      const { code, line } = restore(makeTempFolder(), [...flags, ...FLAGS]);
      expect([code, line.trimEnd().split('\n').length]).toEqual([2, 1]);
      expect(line).toContain('usage: FILE [--config FILE]');
    }
  });
});

describe('a restore that is killed', () => {
  it('leaves the one store or the other whole, and can be done again', async () => {
    const folder = newFolder();
    const outcomes = new Map<string, number>();
    const usualMs = await timeOf(folder);
    for (let kill = 0; kill < KILLS_COUNT; kill += 1) {
      copyFileSync(join(folderOfCopy, 'sandby.sqlite'), join(folder, 'sandby.sqlite'));
      const [old, restored] = [factCountIn(folderOfCopy), factCountOf(copy)];
      // Spread over the time that it usually takes, by golden section: no two kills fall together.
      const outcome = await killAfter(folder, usualMs * (0.5 + 0.6 * ((kill * 0.618_034) % 1)));
      const count = factCountIn(folder);
      expect([old, restored]).toContain(count);
      const what = `${outcome}, ${count === old ? 'the old one' : 'the new one'} stands`;
      outcomes.set(what, (outcomes.get(what) ?? 0) + 1);
    }
    process.stdout.write(`restores killed: ${JSON.stringify(Object.fromEntries(outcomes))}\n`);
    expect(restore(folder, [copy, ...FLAGS]).code).toBe(0);
    expect(factCountIn(folder)).toBe(factCountOf(copy));
    expect(readdirSync(folder).filter((name) => name.includes('.restoring'))).toEqual([]);
  });
});

function factCountOf(file: string): number {
  const verdict = checkStoreFile(file);
  if (verdict.kind !== 'sound') throw new Error(verdict.sentence);
  return verdict.holds.factCount;
}

async function timeOf(folder: string): Promise<number> {
  const begunMs = performance.now();
  await killAfter(folder, 60_000);
  return performance.now() - begunMs;
}

function killAfter(dataFolder: string, waitMs: number): Promise<'killed' | 'done'> {
  const child = spawn(process.execPath, ['dist/server/restore.js', copy, ...FLAGS], {
    cwd: ROOT,
    env: { ...process.env, SANDBY_DATA: dataFolder },
    stdio: 'ignore',
  });
  return new Promise((done) => {
    const timer = setTimeout(() => child.kill('SIGKILL'), waitMs);
    child.once('exit', (code) => {
      clearTimeout(timer);
      done(code === 0 ? 'done' : 'killed');
    });
  });
}
