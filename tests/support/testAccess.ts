// Access of a shop in memory: real use cases, a real file of keys in a folder that goes away, a clock that waits to be moved.
import { makeSecrets } from '../../server/adapters/access/makeSecrets.ts';
import { makeSqliteAccess } from '../../server/adapters/ledger/sqlite/makeSqliteAccess.ts';
import { openKeyStore } from '../../server/adapters/ledger/sqlite/openKeyStore.ts';
import { openAccess } from '../../server/application/access.ts';
import type { Access } from '../../server/application/accessParts.ts';
import type { Ended, Tokens } from '../../server/application/ports/accessDoors.ts';
import type { Instant } from '../../server/contract/index.ts';
import { makeTempFolder } from './runServer.ts';
import { openTestShop, type TestShop } from './testShop.ts';

export interface TestAccess extends TestShop {
  readonly access: Access;
  readonly ended: Ended[];
  readonly folder: string;
}

export const NOBODY: Tokens = { device: null, session: null };
export const SOURCE = '192.0.2.7';

/** Opens it; a folder that is given again has what was kept there. */
export async function openTestAccess(folder = makeTempFolder()): Promise<TestAccess> {
  const test = await openTestShop();
  const store = makeSqliteAccess(openKeyStore(folder));
  const access = await openAccess({ shop: test.shop, store, secrets: quickSecrets() });
  const ended: Ended[] = [];
  access.listeners.push((one) => ended.push(one));
  return { ...test, access, ended, folder };
}

/** Sets the passphrase as the command does. */
export async function keepPassphrase({ access }: TestAccess, passphrase: string, at = 1): Promise<void> {
  const hash = await access.secrets.hashPassphrase(passphrase);
  await access.store.putPassphrase({ hash, changedAt: at as Instant, isTold: false });
}

/** The slow hash has a test of its own; here each sign-in would wait for it. */
function quickSecrets(): Access['secrets'] {
  const secrets = makeSecrets();
  return {
    ...secrets,
    hashPassphrase: async (passphrase) => secrets.digest(passphrase),
    isPassphrase: async (passphrase, hash) => secrets.digest(passphrase) === hash,
  };
}
