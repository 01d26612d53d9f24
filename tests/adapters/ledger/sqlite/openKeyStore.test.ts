// The file of keys: only its owner may read it, it is never taken for the shop's, and a copy of the shop has nothing of it.
import { chmodSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from '@photostructure/sqlite';
import { describe, expect, it } from 'vitest';
import { openDatabase } from '../../../../server/adapters/ledger/sqlite/openDatabase.ts';
import { openKeyStore } from '../../../../server/adapters/ledger/sqlite/openKeyStore.ts';
import { PortFailure } from '../../../../server/application/ports/portFailure.ts';
import { makeTempFolder } from '../../../support/runServer.ts';

function modeOf(file: string): string {
  return (statSync(file).mode & 0o777).toString(8);
}

describe('openKeyStore', () => {
  it('makes a file, its log included, that only its owner may read', () => {
    const folder = makeTempFolder();
    const database = openKeyStore(folder);
    database.exec(`INSERT INTO passphrase VALUES (1, 'h', 0, 0)`);
    expect(readdirSync(folder).toSorted()).toEqual(['keys.sqlite', 'keys.sqlite-shm', 'keys.sqlite-wal']);
    for (const name of readdirSync(folder)) expect(modeOf(join(folder, name))).toBe('600');
    database.close();
  });

  it('takes the rights of others away that a copied file brought along', () => {
    const folder = makeTempFolder();
    openKeyStore(folder).close();
    chmodSync(join(folder, 'keys.sqlite'), 0o644);
    openKeyStore(folder).close();
    expect(modeOf(join(folder, 'keys.sqlite'))).toBe('600');
  });

  it('syncs every commit into a write-ahead log', () => {
    const database = openKeyStore(makeTempFolder());
    expect(database.prepare('PRAGMA journal_mode').get()).toEqual({ journal_mode: 'wal' });
    expect(database.prepare('PRAGMA synchronous').get()).toEqual({ synchronous: 2 });
    database.close();
  });

  it('keeps what it holds over a second opening', () => {
    const folder = makeTempFolder();
    const first = openKeyStore(folder);
    first.exec(`INSERT INTO passphrase VALUES (1, 'h', 7, 0)`);
    first.close();
    const again = openKeyStore(folder);
    expect(again.prepare('SELECT hash FROM passphrase').get()).toEqual({ hash: 'h' });
    again.close();
  });

  it('refuses the file of a shop, and a newer one of its own, and leaves both as they are', () => {
    const folder = makeTempFolder();
    openDatabase({ file: join(folder, 'keys.sqlite'), ledgerIdForNew: 'l1' }).close();
    expect(() => openKeyStore(folder)).toThrow(PortFailure);
    const other = makeTempFolder();
    openKeyStore(other).close();
    const newer = new DatabaseSync(join(other, 'keys.sqlite'));
    newer.exec('PRAGMA user_version = 999');
    newer.close();
    expect(() => openKeyStore(other)).toThrow(PortFailure);
  });
});
