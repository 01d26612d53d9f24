// A store of an older form: kept as it was beside the new one, brought on a step at a time, and whole wherever that stops.
import { existsSync, readdirSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { DatabaseSync, type DatabaseSyncInstance } from '@photostructure/sqlite';
import { describe, expect, it, onTestFinished } from 'vitest';
import { bringUp, type Schema, SHOP_SCHEMA } from '../../../../server/adapters/ledger/sqlite/migrations.ts';
import { keepBeforeForm } from '../../../../server/adapters/ledger/sqlite/keepBeforeForm.ts';
import { openSqliteStore } from '../../../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import { minute, rowOf, spanOf } from '../ledgerFixtures.ts';
import { newFile } from '../temporaryFolder.ts';

/** The form of the first stores: as version 0.3.0 of the program wrote them. */
function makeFirstForm(file: string): void {
  const database = new DatabaseSync(file);
  database.exec('PRAGMA journal_mode = WAL');
  bringUp(database, { ...SHOP_SCHEMA, steps: SHOP_SCHEMA.steps.slice(0, 1) }, () => {
    database.exec(`INSERT INTO meta VALUES ('ledgerId', 'old')`);
    database.exec(`INSERT INTO facts VALUES (1, 'BatchSpread', 1, 5, 5, NULL, 'b1', NULL, '{}')`);
    database.exec(
      `INSERT INTO readings VALUES ('bay-1-air', 'airTemperatureC', ${minute(0)}, 0, 12.1, ${minute(0) + 40}, 'good', NULL);
       INSERT INTO newest VALUES ('bay-1-air', 'airTemperatureC', ${minute(0)}, ${minute(0)}, 12.1, ${minute(0)})`,
    );
  });
  database.close();
}

function versionOf(file: string): number {
  const database = new DatabaseSync(file, { readOnly: true });
  const { version } = database.prepare('SELECT user_version AS version FROM pragma_user_version').get() as {
    version: number;
  };
  database.close();
  return version;
}

describe('a store of the first form', () => {
  it('is brought on with all that it holds, and stays beside it as it was', async () => {
    const file = newFile();
    makeFirstForm(file);
    const { ledger, air } = openSqliteStore({ file, ledgerIdForNew: 'new' });
    expect(ledger.ledgerId).toBe('old');
    expect(await ledger.readHead()).toBe(1);
    expect(await air.readSpan(spanOf('bay-1-air'))).toEqual([rowOf()]);
    expect(await air.thin(minute(0))).toMatchObject({ removedCount: 0 });
    await ledger.close();
    expect(versionOf(file)).toBe(SHOP_SCHEMA.steps.length);
    const kept = join(dirname(file), `shop-before-form-${SHOP_SCHEMA.steps.length}.sqlite`);
    expect(versionOf(kept)).toBe(1);
    const old = new DatabaseSync(kept, { readOnly: true });
    expect(old.prepare('SELECT count(*) AS count FROM readings').get()).toEqual({ count: 1 });
    expect(old.prepare('PRAGMA integrity_check').get()).toEqual({ integrity_check: 'ok' });
    old.close();
  });

  it('is not copied again once it has the newest form', async () => {
    const file = newFile();
    makeFirstForm(file);
    await openSqliteStore({ file, ledgerIdForNew: 'new' }).ledger.close();
    const kept = join(
      dirname(file),
      readdirSync(dirname(file)).find((name) => name.includes('before-form')) ?? '',
    );
    const before = readFileSync(kept);
    await openSqliteStore({ file, ledgerIdForNew: 'new' }).ledger.close();
    expect(readFileSync(kept).equals(before)).toBe(true);
    expect(readdirSync(dirname(file)).filter((name) => name.includes('.part'))).toEqual([]);
  });

  it('is not copied when it is new', async () => {
    const file = newFile();
    await openSqliteStore({ file, ledgerIdForNew: 'new' }).ledger.close();
    expect(readdirSync(dirname(file)).filter((name) => name.includes('before-form'))).toEqual([]);
  });
});

/** Three steps, the last of which may fail. */
function schemaWith(last: string): Schema {
  return { applicationId: 7, steps: ['CREATE TABLE one (a)', 'ALTER TABLE one ADD COLUMN b', last] };
}

function openForm(steps: Schema): { database: DatabaseSyncInstance; file: string } {
  const file = newFile();
  const database = new DatabaseSync(file);
  onTestFinished(() => database.close());
  bringUp(database, { ...steps, steps: steps.steps.slice(0, 1) });
  return { database, file };
}

describe('a step to a newer form', () => {
  it('that fails leaves the form before it, whole, and goes through at the next start', () => {
    const { database } = openForm(schemaWith('CREATE TABLE two (a)'));
    const broken = schemaWith(`CREATE TABLE two (a); INSERT INTO nowhere VALUES (1)`);
    expect(() => bringUp(database, broken)).toThrow('no such table: nowhere');
    const versionNow = (): unknown =>
      database.prepare('PRAGMA user_version').get() as { user_version: number };
    expect(versionNow()).toEqual({ user_version: 2 });
    const names = (): unknown => database.prepare('SELECT name FROM sqlite_schema ORDER BY name').all();
    expect(names()).toEqual([{ name: 'one' }]);
    bringUp(database, schemaWith('CREATE TABLE two (a)'));
    expect(versionNow()).toEqual({ user_version: 3 });
    expect(names()).toEqual([{ name: 'one' }, { name: 'two' }]);
  });

  it('is kept before under its own number, over one that an interrupted start left', () => {
    const schema = schemaWith('CREATE TABLE two (a)');
    const { database, file } = openForm(schema);
    keepBeforeForm(database, { file, schema });
    database.exec('INSERT INTO one VALUES (1)');
    keepBeforeForm(database, { file, schema });
    const kept = join(dirname(file), 'shop-before-form-3.sqlite');
    const copy = new DatabaseSync(kept, { readOnly: true });
    expect(copy.prepare('SELECT count(*) AS count FROM one').get()).toEqual({ count: 1 });
    copy.close();
    expect(existsSync(`${kept}.part`)).toBe(false);
  });

  it('leaves what is kept of the old form where a start was interrupted between two steps', () => {
    const schema = schemaWith('CREATE TABLE two (a)');
    const { database, file } = openForm(schema);
    keepBeforeForm(database, { file, schema });
    bringUp(database, { ...schema, steps: schema.steps.slice(0, 2) });
    keepBeforeForm(database, { file, schema });
    const kept = join(dirname(file), 'shop-before-form-3.sqlite');
    expect(versionOf(kept)).toBe(1);
    expect(readdirSync(dirname(file)).filter((name) => name.includes('.part'))).toEqual([]);
  });

  it.each([
    ['cut short', (kept: string) => truncateSync(kept, 5000)],
    ['empty', (kept: string) => truncateSync(kept, 0)],
    ['no store', (kept: string) => writeFileSync(kept, 'nothing of a store'.repeat(100))],
  ])('is kept before in the place of a file that is %s', (_what, spoil) => {
    const schema = schemaWith('CREATE TABLE two (a)');
    const { database, file } = openForm(schema);
    keepBeforeForm(database, { file, schema });
    const kept = join(dirname(file), 'shop-before-form-3.sqlite');
    spoil(kept);
    bringUp(database, { ...schema, steps: schema.steps.slice(0, 2) });
    keepBeforeForm(database, { file, schema });
    expect(versionOf(kept)).toBe(2);
  });
});
