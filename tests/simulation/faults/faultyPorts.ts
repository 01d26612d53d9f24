// The ports of one life of the shop: each call may fail, come late, or be the last thing that this life does.
import type { AirTable } from '../../../server/application/ports/airTable.ts';
import type { Ledger } from '../../../server/application/ports/ledger.ts';
import { PortFailure, type PortName } from '../../../server/application/ports/portFailure.ts';
import { interceptPort, type PortCall } from '../../support/interceptPort.ts';
import type { Disk, Store } from './disk.ts';
import type { FactLog } from './factLog.ts';
import type { World } from './world.ts';

/** One run of the program, from its start to its crash. */
export interface Life {
  readonly number: number;
  isAlive: boolean;
  /** Ends this life at once: nothing of it goes on. */
  crash(why: string): void;
}

/** How the disk is at the moment. */
export interface DiskTrouble {
  /** Nothing is done, or nothing is written, before this elapsed time. */
  untilMs: number;
  isReadable: boolean;
}

export interface FaultyPorts {
  readonly ledger: Ledger;
  readonly air: AirTable;
  /** At the crash: what was under way is done or not, in order, up to the first that is not. */
  leave(): void;
}

/** Spoils a store on purpose, so that the checks can show that they see it. */
export type Spoil = (store: Store) => Store;

interface LifeParts {
  readonly life: Life;
  readonly disk: Disk;
  readonly log: FactLog;
  readonly spoil: Spoil;
  readonly trouble: DiskTrouble;
}

/** Makes the ports of a life; every entry that is committed goes into the log. */
export function makeFaultyPorts(world: World, { life, disk, log, spoil, trouble }: LifeParts): FaultyPorts {
  const chance = world.chance('ports');
  const pending: PortCall[] = [];
  const plain = disk.store();
  const shown: Ledger = {
    ...plain.ledger,
    async append(entry) {
      const appended = await plain.ledger.append(entry);
      if (appended.kind === 'appended') log.take(entry);
      return appended;
    },
  };
  const store = spoil({ ledger: shown, air: plain.air });

  async function call<T>(port: PortName, one: PortCall<T>): Promise<T> {
    if (!life.isAlive) return never();
    const { operation, isWrite } = one;
    const { failShare, crashShare, slowShare, slowMaxMs } = world.plan;
    const isOut = world.time.elapsedMs() < trouble.untilMs && (isWrite || !trouble.isReadable);
    const fails = chance.is(failShare);
    // Most of what can go wrong goes wrong at writes.
    const crashes = chance.is(isWrite ? crashShare * 10 : crashShare);
    const isSlow = chance.is(slowShare);
    if (isOut || fails) {
      world.count('port failures');
      world.note(`fail ${port}.${operation}`);
      throw new PortFailure(port, operation, { isRetriable: true, cause: new Error('simulated') });
    }
    if (crashes && chance.is(isWrite ? 0.3 : 0.5)) {
      life.crash(`before ${port}.${operation}`);
      return never();
    }
    if (isWrite) pending.push(one);
    if (isSlow) await world.wait(chance.between(0, slowMaxMs));
    if (!life.isAlive) return never();
    // Whatever comes of it, it is under way no more.
    if (isWrite) pending.splice(pending.indexOf(one), 1);
    const result = await settled(one.work());
    if (crashes && isWrite) world.count('writes kept unacknowledged');
    if (crashes && life.isAlive) life.crash(`after ${port}.${operation}`);
    if (isSlow && life.isAlive) await world.wait(chance.between(0, slowMaxMs));
    if (!life.isAlive) return never();
    if (isWrite) {
      disk.acknowledge();
      log.acknowledge();
    }
    if (result.kind === 'failed') throw result.cause;
    return result.value;
  }

  return {
    ledger: interceptPort(store.ledger, (one) => call('ledger', one)),
    air: interceptPort(store.air, (one) => call('air', one)),
    leave() {
      for (const one of pending.splice(0)) {
        if (!chance.is(0.5)) return;
        world.count('writes kept unacknowledged');
        world.note(`kept unacknowledged ${one.operation}`);
        void settled(one.work());
      }
    },
  };
}

type Settled<T> =
  { readonly kind: 'done'; readonly value: T } | { readonly kind: 'failed'; readonly cause: unknown };

async function settled<T>(work: Promise<T>): Promise<Settled<T>> {
  try {
    return { kind: 'done', value: await work };
  } catch (cause) {
    return { kind: 'failed', cause };
  }
}

/** What a life that is over waits for. */
function never<T>(): Promise<T> {
  return new Promise(() => undefined);
}
