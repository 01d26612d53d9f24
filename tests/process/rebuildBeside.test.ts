// `npm run rebuild` beside a program that works on the same folder: it compares, and leaves everything as that one has it.
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { DatabaseSync } from '@photostructure/sqlite';
import { expect, it } from 'vitest';
import { lockFolder } from '../../server/adapters/ledger/sqlite/lockFolder.ts';
import { bringUp, SHOP_SCHEMA } from '../../server/adapters/ledger/sqlite/migrations.ts';
import { openSqliteStore } from '../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import type { Sequence } from '../../server/domain/facts.ts';
import { makeTempFolder } from '../support/runServer.ts';

function rebuild(dataFolder: string): { code: number | null; out: string; line: string } {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    ['dist/server/rebuild.js', '--config', 'config/shop.example.json'],
    {
      cwd: resolve(import.meta.dirname, '../..'),
      env: { ...process.env, SANDBY_DATA: dataFolder },
      encoding: 'utf8',
    },
  );
  return { code: status, out: stdout, line: stderr };
}

it('tells what differs, and neither mends it nor takes away the copy that the other one makes', async () => {
  const folder = makeTempFolder();
  lockFolder(folder);
  const file = join(folder, 'sandby.sqlite');
  const { ledger } = openSqliteStore({ file, ledgerIdForNew: 'l1' });
  const stray = { kind: 'card', id: 'stray', isOpen: true, body: {} } as const;
  await ledger.append({ afterSequence: 0 as Sequence, facts: [], views: [stray] });
  writeFileSync(`${file}.copy`, 'half made');
  const { code, out, line } = rebuild(folder);
  expect([code, line]).toEqual([1, '']);
  expect(JSON.parse(out)).toMatchObject({ differences: ['card stray'], isMended: false });
  expect(await ledger.readViews('card', { openOnly: false })).toEqual([stray]);
  expect(existsSync(`${file}.copy`)).toBe(true);
  await ledger.close();
});

it('refuses a store of an older form in one line, and leaves it to the older program that works on it', () => {
  const folder = makeTempFolder();
  lockFolder(folder);
  const older = new DatabaseSync(join(folder, 'sandby.sqlite'));
  bringUp(older, { ...SHOP_SCHEMA, steps: SHOP_SCHEMA.steps.slice(0, 1) });
  const { code, out, line } = rebuild(folder);
  expect([code, out]).toEqual([2, '']);
  expect(line.trimEnd().split('\n')).toHaveLength(1);
  expect(line).toMatch(/another Sandby works on .*sandby\.sqlite.*: the store has form 1/);
  expect(older.prepare('PRAGMA user_version').get()).toEqual({ user_version: 1 });
  expect(readdirSync(folder).filter((name) => name.includes('before-form'))).toEqual([]);
  older.close();
});
