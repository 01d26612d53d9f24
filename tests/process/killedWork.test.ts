// The plug pulled while a copy is made, or while a store gets a newer form: the store is whole, in the one form or the other,
// and nothing half made passes for a copy.
import { spawn } from 'node:child_process';
import { copyFileSync, existsSync, mkdirSync, readdirSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { DatabaseSync } from '@photostructure/sqlite';
import { beforeAll, expect, it } from 'vitest';
import { checkStoreFile, type StoreHolds } from '../../server/adapters/ledger/sqlite/checkStoreFile.ts';
import { makeCopyShelf } from '../../server/adapters/ledger/sqlite/makeCopyShelf.ts';
import { bringUp, SHOP_SCHEMA } from '../../server/adapters/ledger/sqlite/migrations.ts';
import { ownStoreWork } from '../../server/adapters/ledger/sqlite/storeWork.ts';
import { instantFromMs } from '../../server/contract/index.ts';
import { fillYear } from '../support/fillYear.ts';
import { makeTempFolder } from '../support/runServer.ts';
import { countFor } from '../support/testSize.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const KILLS_COUNT = countFor({ usual: 3, nightly: 100 });
/** Large enough that the work itself takes a good part of the process's time. */
const DAYS = countFor({ usual: 25, nightly: 120 });

let store: string;
let firstForm: string;

beforeAll(async () => {
  store = join(makeTempFolder(), 'sandby.sqlite');
  const untilAt = instantFromMs(Date.UTC(2026, 0, 12));
  await fillYear(store, { days: DAYS, batchesADayCount: 1, untilAt, seed: 3 });
  firstForm = join(makeTempFolder(), 'sandby.sqlite');
  const database = new DatabaseSync(firstForm);
  bringUp(database, { ...SHOP_SCHEMA, steps: SHOP_SCHEMA.steps.slice(0, 1) });
  database.exec(`ATTACH '${store}' AS full`);
  for (const table of ['meta', 'facts', 'views', 'answers', 'readings'])
    database.exec(`INSERT INTO ${table} SELECT * FROM full.${table}`);
  database.exec(
    'INSERT INTO newest SELECT sensor_id, quantity, heard_at, shown_at, measurement, good_at FROM full.newest',
  );
  database.close();
});

function holdsOf(file: string): StoreHolds {
  const verdict = checkStoreFile(file);
  if (verdict.kind !== 'sound') throw new Error(verdict.sentence);
  return verdict.holds;
}

/** Runs a built program and kills it after a while; says whether it was done before. */
function killAfter(flags: readonly string[], waitMs: number, dataFolder = ''): Promise<'killed' | 'done'> {
  const child = spawn(process.execPath, flags, {
    cwd: ROOT,
    env: { ...process.env, SANDBY_DATA: dataFolder },
    stdio: 'ignore',
  });
  return new Promise((done) => {
    const timer = setTimeout(() => child.kill('SIGKILL'), waitMs);
    child.once('exit', (code) => {
      clearTimeout(timer);
      done(code === null ? 'killed' : 'done');
    });
  });
}

async function timeOf(work: () => Promise<unknown>): Promise<number> {
  const begunMs = performance.now();
  await work();
  return performance.now() - begunMs;
}

/** Moments spread over the later part of the usual time, no two together. */
function momentsWithin(usualMs: number): number[] {
  return Array.from({ length: KILLS_COUNT }, (_, index) => usualMs * (0.3 + 0.8 * ((index * 0.618_034) % 1)));
}

it('a copy that is killed leaves the store as it was and no copy', async () => {
  const folder = join(makeTempFolder(), 'copies');
  mkdirSync(folder);
  const before = holdsOf(store);
  const part = join(folder, 'sandby-2026-01-12T02-30-00Z.sqlite.part');
  const flags = ['dist/server/storeWork.js', 'copy', store, part];
  const usualMs = await timeOf(() => killAfter(flags, 60_000));
  const outcomes: string[] = [];
  for (const waitMs of momentsWithin(usualMs)) {
    outcomes.push(await killAfter(flags, waitMs));
    const shelf = makeCopyShelf({ file: store, folder }, ownStoreWork);
    expect(await shelf.list()).toEqual([]);
    expect(readdirSync(folder)).toEqual([]);
  }
  expect(holdsOf(store)).toEqual(before);
  process.stdout.write(`copies: ${outcomes.join(' ')}\n`);
});

it('a newer form that is killed on its way leaves the old form or the new one, and the copy before it whole', async () => {
  const flags = ['dist/server/rebuild.js', '--config', 'config/shop.example.json'];
  const before = holdsOf(firstForm);
  const folder = makeTempFolder();
  const file = join(folder, 'sandby.sqlite');
  const kept = join(folder, `sandby-before-form-${SHOP_SCHEMA.steps.length}.sqlite`);
  const begin = (): void => {
    for (const name of readdirSync(folder)) rmSync(join(folder, name));
    copyFileSync(firstForm, file);
  };
  begin();
  const usualMs = await timeOf(() => killAfter(flags, 60_000, folder));
  expect(holdsOf(file)).toEqual({ ...before, formVersion: SHOP_SCHEMA.steps.length });
  const outcomes: string[] = [];
  for (const waitMs of momentsWithin(usualMs)) {
    begin();
    await killAfter(flags, waitMs, folder);
    const { formVersion, ...rest } = holdsOf(file);
    expect({ ...rest, formVersion: 1 }).toEqual(before);
    if (existsSync(kept)) expect(holdsOf(kept)).toEqual(before);
    // Nothing is brought to a newer form that is not kept in the old one.
    else expect(formVersion).toBe(1);
    outcomes.push(`form ${formVersion}${existsSync(kept) ? ', kept' : ''}`);
  }
  process.stdout.write(`newer forms: ${outcomes.join('; ')}\n`);
  await killAfter(flags, 60_000, folder);
  expect(holdsOf(file).formVersion).toBe(SHOP_SCHEMA.steps.length);
});
