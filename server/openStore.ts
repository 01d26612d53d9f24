// Opens the store of a real shop for the program that works on it, says in words why it cannot be, and keeps it in order.
import { randomUUID } from 'node:crypto';
import { join } from 'node:path';
import { makeCopyRun } from './application/copyRun.ts';
import { keepCopies } from './application/keepCopies.ts';
import { lookOverStore, type StoreLook } from './application/lookOverStore.ts';
import type { PortFailure } from './application/ports/portFailure.ts';
import type { Shop } from './application/shop.ts';
import { keepThin } from './application/thinReadings.ts';
import type { Settings } from './adapters/config/readConfig.ts';
import { copiesIn, makeCopyShelf } from './adapters/ledger/sqlite/makeCopyShelf.ts';
import { removeDatabase } from './adapters/ledger/sqlite/durableFile.ts';
import { stagedFileOf } from './adapters/ledger/sqlite/stageStore.ts';
import { openSqliteStore } from './adapters/ledger/sqlite/openSqliteStore.ts';
import { isDamage } from './adapters/ledger/sqlite/storeDamage.ts';
import type { StoreWork } from './adapters/ledger/sqlite/storeWork.ts';
import { StartError } from './commandLine.ts';
import { instantFromMs } from './contract/index.ts';
import { newestFirst } from './domain/copyPlan.ts';

export type OpenStore = ReturnType<typeof openSqliteStore> & Required<Pick<Shop, 'copies'>>;

const KEYS_NAME = 'keys.sqlite';
const NEW_KEYS =
  `the shop itself is not touched by this, and no copy holds keys: move every ${KEYS_NAME}* out of that folder, ` +
  'set the passphrase (npm run passphrase), start, and pair devices, make sensor users and name webhooks anew';

/** The store's file in a data folder. */
export function storeFileIn(dataFolder: string): string {
  return join(dataFolder, 'sandby.sqlite');
}

/** Opens the store of a folder that this process has locked. */
export function openShopStore({ dataFolder, storePlan }: Settings, work: StoreWork): OpenStore {
  const file = storeFileIn(dataFolder);
  // What an interrupted restore left beside it.
  removeDatabase(stagedFileOf(file));
  const store = openSqliteStore({ file, ledgerIdForNew: randomUUID() }, work);
  const shelf = makeCopyShelf({ file, folder: storePlan.copyFolder }, work);
  return { ...store, copies: makeCopyRun(shelf, storePlan.copies) };
}

/** The one line for a store that cannot be opened; of a damaged one also how to go on. */
export function whyNotOpened(
  { port, cause }: PortFailure,
  { dataFolder, storePlan }: Pick<Settings, 'dataFolder' | 'storePlan'>,
): StartError {
  const why = cause instanceof Error ? cause.message : String(cause);
  const part = port === 'keys' ? `${KEYS_NAME}: ` : '';
  const line = `the data folder ${dataFolder} cannot be used: ${part}${why}`;
  if (!isDamage(cause)) return new StartError(line);
  // A copy of the shop would put older batches in the place of whole ones, and bring no key back.
  if (port === 'keys') return new StartError(`${line}; ${NEW_KEYS}`);
  const [newest] = newestFirst(copiesIn(storePlan.copyFolder), instantFromMs(Date.now()));
  const copy = newest === undefined ? 'COPY' : join(storePlan.copyFolder, newest.name);
  return new StartError(`${line}; put a good copy in its place: npm run --silent restore -- ${copy}`);
}

/** Copies on a schedule, thinning, and one look through all of it, for as long as the shop's clock runs. */
export function keepStore(shop: Shop, { dataFolder, storePlan }: Settings, work: StoreWork): void {
  keepCopies(shop);
  keepThin(shop, { keepDays: storePlan.keepReadingsDays, quietMin: storePlan.copies.quietMin });
  lookOverStore(shop, async (): Promise<StoreLook> => {
    const verdict = await work.check(storeFileIn(dataFolder));
    if (verdict.kind === 'sound') return { kind: 'sound' };
    return verdict.kind === 'failed'
      ? { kind: 'unfinished' }
      : { kind: 'damaged', sentence: verdict.sentence };
  });
}
