// The program as it runs, crashes and is started again: the real middle, doors and feed memory over faulty ports.
import { makeClockOn } from '../../../server/adapters/clock/pacedClock.ts';
import { type FeedMemory, makeFeedMemory } from '../../../server/adapters/feed/feedMemory.ts';
import { makeRefusedList, type RefusedList } from '../../../server/adapters/broker/refusedList.ts';
import { catchUp, findStrays, makeShop } from '../../../server/application/openShop.ts';
import type { Doors } from '../../../server/application/ports/doors.ts';
import type { Clock } from '../../../server/application/ports/clock.ts';
import type { LiveFeed } from '../../../server/application/ports/live.ts';
import { PortFailure } from '../../../server/application/ports/portFailure.ts';
import { recallSettings } from '../../../server/application/settingsView.ts';
import type { Shop } from '../../../server/application/shop.ts';
import type { AirMessage, ChangeWire } from '../../../server/contract/index.ts';
import { makeDoors } from '../../../server/makeDoors.ts';
import { replayedShop } from '../../support/replayedShop.ts';
import { readAllFacts } from './checkStore.ts';
import { type Disk, makeDisk } from './disk.ts';
import type { FactLog } from './factLog.ts';
import { type DiskTrouble, type FaultyPorts, type Life, makeFaultyPorts, type Spoil } from './faultyPorts.ts';
import type { World } from './world.ts';

/** A message of the live feed. */
export type Told =
  | { readonly kind: 'change'; readonly change: ChangeWire }
  | { readonly kind: 'air'; readonly air: AirMessage }
  | { readonly kind: 'resync' };

/** What is reached when the program is up. */
export interface Running {
  readonly life: Life;
  readonly shop: Shop;
  readonly doors: Doors;
  readonly refused: RefusedList;
  readonly feed: FeedMemory;
  /** Screens that are connected. */
  readonly listeners: Set<(told: Told) => void>;
}

export interface Program {
  readonly disk: Disk;
  /** Null while it is down or starting. */
  running(): Running | null;
  /** Starts it, and again after each crash. */
  start(): void;
  crash(why: string): void;
  /** Calls fail for a while, or only writes. */
  beginOutage(forMs: number, isReadable: boolean): void;
  /** Ends what is left of an outage. */
  endOutage(): void;
}

const SETTINGS = replayedShop();
/** After a crash something starts the program again, at once or after this long at the most. */
const CALM_DOWN_MS = 500;

/** Makes a program that is not started; every entry that its disk takes goes into the log. */
export function makeProgram(world: World, { log, spoil }: { log: FactLog; spoil: Spoil }): Program {
  const disk = makeDisk(world);
  const trouble: DiskTrouble = { untilMs: 0, isReadable: false };
  const chance = world.chance('program');
  let lifeCount = 0;
  let current: { life: Life; ports: FaultyPorts; clock: Clock; running: Running | null } | null = null;

  function crash(why: string): void {
    if (current === null) return;
    world.count('crashes');
    world.note(`crash ${why}`);
    const { life, ports, clock } = current;
    life.isAlive = false;
    current = null;
    ports.leave();
    clock.stop();
    disk.crash();
    void readAllFacts(disk.store()).then((kept) => log.giveUp(kept));
    const isCalm = world.plan.downMaxMs === 0;
    world.after(isCalm ? CALM_DOWN_MS : chance.between(10, world.plan.downMaxMs), start);
  }

  function start(): void {
    lifeCount += 1;
    const life: Life = {
      number: lifeCount,
      isAlive: true,
      crash: (why) => (life.isAlive ? crash(why) : undefined),
    };
    const machine = makeClockOn(world.time, { rate: 1, nowAt: () => world.time.nowAt() });
    const clock: Clock = { ...machine, breathe: () => Promise.resolve() };
    const ports = makeFaultyPorts(world, { life, disk, log, spoil, trouble });
    current = { life, ports, clock, running: null };
    world.note(`start ${life.number}`);
    void run(life, { ports, clock });
  }

  async function run(life: Life, { ports, clock }: { ports: FaultyPorts; clock: Clock }): Promise<void> {
    try {
      const running = await boot(world, { life, ports, clock });
      if (current?.life === life) current.running = running;
    } catch (cause) {
      if (!(cause instanceof PortFailure)) world.violate(`a start ends with ${String(cause)}`);
      life.crash('at its start');
    }
  }

  return {
    disk,
    running: () => current?.running ?? null,
    start,
    crash,
    beginOutage(forMs, isReadable) {
      world.note(`outage ${Math.round(forMs)} ${isReadable}`);
      Object.assign(trouble, { untilMs: world.time.elapsedMs() + forMs, isReadable });
    },
    endOutage() {
      trouble.untilMs = 0;
    },
  };
}

/** As the composition root does it, less the sockets. */
async function boot(
  world: World,
  { life, ports, clock }: { life: Life; ports: FaultyPorts; clock: Clock },
): Promise<Running> {
  const feed = makeFeedMemory();
  const refused = makeRefusedList();
  const listeners = new Set<(told: Told) => void>();
  const shop = makeShop({
    ...SETTINGS,
    ledger: ports.ledger,
    air: ports.air,
    clock,
    live: makeLive(life, { feed, listeners }),
    makeId: () => `batch-${world.next()}`,
  });
  await recallSettings(shop);
  const [stray] = await findStrays(shop);
  if (stray !== undefined) world.violate(`an open batch would be lost: ${stray}`);
  await catchUp(shop);
  feed.begin({ ledgerId: shop.ledger.ledgerId, sequence: await shop.ledger.readHead() });
  const doors = makeDoors(shop, { version: '', refused: () => refused.list() });
  return { life, shop, doors, refused, feed, listeners };
}

function makeLive(
  life: Life,
  { feed, listeners }: { feed: FeedMemory; listeners: ReadonlySet<(told: Told) => void> },
): LiveFeed {
  const tell = (told: Told): void => {
    if (life.isAlive) for (const listen of listeners) listen(told);
  };
  return {
    publishChange(change) {
      feed.takeChange(change);
      tell({ kind: 'change', change });
    },
    publishAir: (air) => tell({ kind: 'air', air }),
    publishResync(sequence) {
      feed.takeResync(sequence);
      tell({ kind: 'resync' });
    },
  };
}
