// A simulated disk: what was committed outlives a crash, what was under way is lost, or kept whole and never acknowledged.
import { copyFileSync, existsSync, mkdtempSync, rmSync, statSync, truncateSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { makeMemoryStore } from '../../../server/adapters/ledger/memory/makeMemoryStore.ts';
import { openSqliteStore } from '../../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import type { AirTable } from '../../../server/application/ports/airTable.ts';
import type { Ledger } from '../../../server/application/ports/ledger.ts';
import type { World } from './world.ts';

export interface Store {
  readonly ledger: Ledger;
  readonly air: AirTable;
}

export interface Disk {
  /** The store as it stands; checks read it past all faults. */
  store(): Store;
  /** Something was acknowledged: what is on disk by now is there for good. */
  acknowledge(): void;
  /** The machine is gone: opens what is left. */
  crash(): void;
  remove(): void;
}

/** Makes an empty disk of the kind that the plan says. */
export function makeDisk(world: World): Disk {
  return world.plan.storeKind === 'memory' ? makeMemoryDisk() : makeFileDisk(world);
}

/** A store in memory keeps what was committed; there is nothing in between. */
function makeMemoryDisk(): Disk {
  const store = makeMemoryStore();
  return {
    store: () => store,
    acknowledge: () => undefined,
    crash: () => undefined,
    remove: () => undefined,
  };
}

/** A real file: at a crash it is copied as it lies there, its log cut off somewhere in the last write, and opened anew. */
function makeFileDisk(world: World): Disk {
  const folder = mkdtempSync(join(tmpdir(), 'sandby-faults-'));
  const chance = world.chance('torn');
  let generation = 0;
  let keptBytes = 0;
  const fileOf = (): string => join(folder, `shop-${generation}.sqlite`);
  const open = (): Store => openSqliteStore({ file: fileOf(), ledgerIdForNew: 'simulated' });
  let store = open();
  return {
    store: () => store,
    acknowledge() {
      keptBytes = sizeOf(`${fileOf()}-wal`);
    },
    crash() {
      const from = fileOf();
      generation += 1;
      const to = fileOf();
      for (const part of ['', '-wal'])
        if (existsSync(`${from}${part}`)) copyFileSync(`${from}${part}`, `${to}${part}`);
      const logBytes = sizeOf(`${to}-wal`);
      // What nobody was told of may be torn at any byte.
      if (logBytes > keptBytes && chance.is(0.8)) {
        truncateSync(`${to}-wal`, chance.whole(keptBytes, logBytes));
        world.count('torn writes');
      }
      void store.ledger.close().catch(() => undefined);
      for (const part of ['', '-wal', '-shm']) rmSync(`${from}${part}`, { force: true });
      store = open();
      keptBytes = sizeOf(`${to}-wal`);
    },
    remove() {
      void store.ledger.close().catch(() => undefined);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

function sizeOf(file: string): number {
  return existsSync(file) ? statSync(file).size : 0;
}
