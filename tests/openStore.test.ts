// The one line of a start over a damaged folder: it names what is damaged, and the way on that helps there.
import { existsSync, mkdirSync, readdirSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { openKeyStore } from '../server/adapters/ledger/sqlite/openKeyStore.ts';
import { openSqliteStore } from '../server/adapters/ledger/sqlite/openSqliteStore.ts';
import { PortFailure } from '../server/application/ports/portFailure.ts';
import { storeFileIn, whyNotOpened } from '../server/openStore.ts';
import { makeTempFolder } from './support/runServer.ts';

const NOISE = 'nothing of a database\n'.repeat(300);

function failureOf(open: () => unknown): PortFailure {
  try {
    open();
  } catch (error) {
    if (error instanceof PortFailure) return error;
    throw error;
  }
  throw new Error('it was opened');
}

/** The line for a data folder whose copies lie in it. */
function lineFor(failure: PortFailure, dataFolder: string): string {
  const copies = { everyMin: 1440, quietMin: 150, keepCount: 14 };
  const storePlan = { copyFolder: join(dataFolder, 'copies'), copies, keepReadingsDays: 400 };
  return whyNotOpened(failure, { dataFolder, storePlan }).message;
}

it('of a damaged store names its newest copy, and none from a clock that ran ahead while there are others', () => {
  const folder = makeTempFolder();
  const file = storeFileIn(folder);
  writeFileSync(file, NOISE);
  const failure = failureOf(() => openSqliteStore({ file, ledgerIdForNew: 'l1' }));
  expect(lineFor(failure, folder)).toMatch(/put a good copy in its place: .*restore -- COPY$/);
  mkdirSync(join(folder, 'copies'));
  const name = (day: string): string => join(folder, 'copies', `sandby-${day}T02-30-00Z.sqlite`);
  writeFileSync(name('9999-01-01'), '');
  expect(lineFor(failure, folder)).toContain(`restore -- ${name('9999-01-01')}`);
  for (const day of ['2026-01-11', '2026-01-12', '2026-01-10']) writeFileSync(name(day), '');
  expect(lineFor(failure, folder)).toMatch(/cannot be used: file is not a database; put a good copy/);
  expect(lineFor(failure, folder)).toContain(`restore -- ${name('2026-01-12')}`);
});

it('of damaged keys names their file, and tells to begin with new ones, never to put an older shop in place', () => {
  const folder = makeTempFolder();
  mkdirSync(join(folder, 'copies'));
  writeFileSync(join(folder, 'copies', 'sandby-2026-01-12T02-30-00Z.sqlite'), '');
  writeFileSync(join(folder, 'keys.sqlite'), NOISE);
  const line = lineFor(
    failureOf(() => openKeyStore(folder)),
    folder,
  );
  expect(line).toContain(`the data folder ${folder} cannot be used: keys.sqlite: file is not a database; `);
  expect(line).toMatch(/move every keys\.sqlite\* out of that folder, set the passphrase/);
  expect(line).not.toMatch(/restore|\n/);
  // What it says helps.
  const away = makeTempFolder();
  for (const name of readdirSync(folder).filter((one) => one.startsWith('keys.sqlite')))
    renameSync(join(folder, name), join(away, name));
  openKeyStore(folder).close();
  expect(existsSync(join(folder, 'keys.sqlite'))).toBe(true);
});

it('of keys that are not damaged says which file it is about, and leaves the rest to people', () => {
  const folder = makeTempFolder();
  const failure = new PortFailure('keys', 'open', {
    isRetriable: false,
    cause: new Error('of another program'),
  });
  expect(lineFor(failure, folder)).toBe(
    `the data folder ${folder} cannot be used: keys.sqlite: of another program`,
  );
});
