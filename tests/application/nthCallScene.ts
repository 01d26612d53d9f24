// The shop in which every use case is tried: a wet batch, one to test, one being sanded, a quiet sensor, a stranger's readings.
// It is played once and then put into each new store entry by entry, so that a trial costs no film.
import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import { makeMemoryStore } from '../../server/adapters/ledger/memory/makeMemoryStore.ts';
import { openDatabase } from '../../server/adapters/ledger/sqlite/openDatabase.ts';
import { makeSqliteCopier } from '../../server/adapters/ledger/sqlite/makeSqliteCopier.ts';
import { makeSqliteStore } from '../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import { ownStoreWork } from '../../server/adapters/ledger/sqlite/storeWork.ts';
import { advanceTime } from '../../server/application/advanceTime.ts';
import { catchUp, makeShop } from '../../server/application/openShop.ts';
import type { AirRow, AirTable } from '../../server/application/ports/airTable.ts';
import type { Clock } from '../../server/application/ports/clock.ts';
import type { Doors } from '../../server/application/ports/doors.ts';
import type { Ledger, LedgerEntry } from '../../server/application/ports/ledger.ts';
import type { StoreCopier } from '../../server/application/ports/storeCopier.ts';
import { rebuildViews } from '../../server/application/rebuildViews.ts';
import type { Shop } from '../../server/application/shop.ts';
import { type Instant, instantFromMs } from '../../server/contract/index.ts';
import type { Sequence } from '../../server/domain/facts.ts';
import { makeDoors } from '../../server/makeDoors.ts';
import { canonicalJson } from '../support/canonicalJson.ts';
import { failDatabase } from '../support/failingDatabase.ts';
import { interceptPort, type PortCall } from '../support/interceptPort.ts';
import { failing, makeCallCounter, type CallCounter, type Trial } from '../support/nthCall.ts';
import { replayedShop } from '../support/replayedShop.ts';
import { OPENS_AT, PLAIN_BATCH } from '../support/testShop.ts';

export interface Asked {
  readonly shop: Shop;
  readonly doors: Doors;
  /** Timers that the shop has set, run now. */
  readonly runTimers: () => Promise<void>;
  /** The act by which the batch that is being sanded came so far. */
  readonly sandingActSequence: number;
}

export type Ask = (asked: Asked) => Promise<unknown>;

export interface Scene {
  /** A trial of an ask on a store in memory, whose ports' calls fail. */
  inMemory(ask: Ask): Promise<Trial>;
  /** A trial on a file, whose statements fail. */
  onFile(ask: Ask): Promise<Trial>;
}

const MIN_MS = 60_000;
const SCENE_MIN = 40;
export const NOW_AT = instantFromMs(OPENS_AT + SCENE_MIN * MIN_MS);
const KNOWN_SENSORS = ['bay-1-air', 'bay-2-air', 'stranger'];
const FACTS_MAX = 100_000;
const SETTINGS = replayedShop();

/** Plays the scene; files are made in a folder. */
export async function makeScene(folder: string): Promise<Scene> {
  const played = await playScene();
  const sceneFile = join(folder, 'scene.sqlite');
  const database = openDatabase({ file: sceneFile, ledgerIdForNew: 'scene' });
  const store = makeSqliteStore(database);
  await putScene(store, played);
  await store.ledger.close();
  let fileCount = 0;
  return {
    async inMemory(ask) {
      const plain = makeMemoryStore();
      await putScene(plain, played);
      const calls = makeCallCounter();
      const ledger = interceptPort(plain.ledger, failing(calls, 'ledger'));
      const air = interceptPort(plain.air, failing(calls, 'air'));
      const copier = interceptPort<StoreCopier>(COPIER, failing(calls, 'ledger'));
      return makeTrial(played, { plain, shopParts: { ledger, air, copier }, calls, ask });
    },
    async onFile(ask) {
      fileCount += 1;
      const file = join(folder, `trial-${fileCount}.sqlite`);
      copyFileSync(sceneFile, file);
      const calls = makeCallCounter();
      const failingStore = makeSqliteStore(
        failDatabase(openDatabase({ file, ledgerIdForNew: 'none' }), calls),
      );
      const copier = makeSqliteCopier(ownStoreWork, file);
      // What is stored is looked at by a connection of its own, past all failures.
      const plain = makeSqliteStore(openDatabase({ file, ledgerIdForNew: 'none' }));
      const shown = async <T>(call: PortCall<T>): Promise<T> => {
        const result = await call.work();
        if (call.isWrite) await calls.onWrite();
        return result;
      };
      const ledger = interceptPort(failingStore.ledger, shown);
      const air = interceptPort(failingStore.air, shown);
      return makeTrial(played, { plain, shopParts: { ledger, air, copier }, calls, ask });
    },
  };
}

interface Played {
  readonly sandingActSequence: number;
  readonly entries: readonly LedgerEntry[];
  readonly rows: readonly (readonly AirRow[])[];
}

interface Store {
  readonly ledger: Ledger;
  readonly air: AirTable;
}

async function putScene({ ledger, air }: Store, { entries, rows }: Played): Promise<void> {
  for (const one of rows) await air.record(one);
  for (const entry of entries) await ledger.append(entry);
}

/** The clock stands still; timers wait until they are run. */
function makeStillClock(nowAt: () => Instant): { clock: Clock; runTimers: () => Promise<void> } {
  let timers: (() => void)[] = [];
  const clock: Clock = {
    rate: 1,
    nowAt,
    elapsedMs: () => 0,
    wakeAt: () => undefined,
    after(_delayMs, onDue) {
      timers.push(onDue);
      return () => {
        timers = timers.filter((one) => one !== onDue);
      };
    },
    breathe: () => Promise.resolve(),
    stop: () => undefined,
  };
  async function runTimers(): Promise<void> {
    for (const run of timers.splice(0)) run();
    for (let turn = 0; turn < 4; turn += 1) await new Promise((resolve) => setImmediate(resolve));
  }
  return { clock, runTimers };
}

function openShop(parts: Store & { copier?: StoreCopier; clock: Clock; makeId: () => string }): Shop {
  return makeShop({
    ...SETTINGS,
    ...parts,
    live: { publishChange: () => undefined, publishAir: () => undefined, publishResync: () => undefined },
  });
}

async function playScene(): Promise<Played> {
  const entries: LedgerEntry[] = [];
  const rows: (readonly AirRow[])[] = [];
  const { ledger, air } = makeMemoryStore();
  let nowAt: Instant = OPENS_AT;
  let idCount = 0;
  const shop = openShop({
    ledger: {
      ...ledger,
      append: (entry) => {
        entries.push(entry);
        return ledger.append(entry);
      },
    },
    air: {
      ...air,
      record: (some) => {
        rows.push(some);
        return air.record(some);
      },
    },
    clock: makeStillClock(() => nowAt).clock,
    makeId: () => `batch-${(idCount += 1)}`,
  });
  const doors = makeDoors(shop, { version: '', refused: () => [] });
  await catchUp(shop);
  const say = (sensorId: string, airTemperatureC: number): Promise<unknown> =>
    doors.recordReading([{ index: 0, sensorId, at: nowAt, airTemperatureC, relativeHumidityPct: 50 }]);
  const start = (panel: string, by: string): Promise<unknown> =>
    doors.startBatch({ key: `scene ${panel}`, body: { ...PLAIN_BATCH, thicknessMm: 0.5, panel, by } });
  await say('bay-2-air', 19);
  await say('stranger', 17);
  for (let passedMin = 0; passedMin < SCENE_MIN; passedMin += 5) {
    nowAt = instantFromMs(OPENS_AT + passedMin * MIN_MS);
    await say('bay-1-air', 21);
    await say('stranger', 17 + passedMin / 100);
    if (passedMin === 5) await start('Roof', 'AB');
    if (passedMin === 5) await start('Sill', 'CD');
    if (passedMin > 5) await advanceTime(shop);
  }
  nowAt = NOW_AT;
  await say('bay-1-air', 21.1);
  await advanceTime(shop);
  const body = { type: 'recordCheck', outcome: 'powders' } as const;
  await doors.handleCommand('batch-2', { key: 'scene powders', body });
  await start('Bonnet', 'EF');
  const sandingActSequence = (await doors.readBatch('batch-2'))?.lastAct?.factSequence ?? 0;
  return { entries, rows, sandingActSequence };
}

interface TrialParts {
  readonly plain: Store;
  readonly shopParts: Store & { copier: StoreCopier };
  readonly calls: CallCounter;
  readonly ask: Ask;
}

function makeTrial({ sandingActSequence }: Played, { plain, shopParts, calls, ask }: TrialParts): Trial {
  // The same name for each try: a new one would be another batch.
  const { clock, runTimers } = makeStillClock(() => NOW_AT);
  const shop = openShop({ ...shopParts, clock, makeId: () => 'batch-asked' });
  const doors = makeDoors(shop, { version: '', refused: () => [] });
  return {
    calls,
    ask: () => ask({ shop, doors, runTimers, sandingActSequence }),
    async stored() {
      const facts = await plain.ledger.readFacts({ afterSequence: 0 as Sequence, limit: FACTS_MAX });
      const rows = await plain.air.readSpan({
        sensorIds: KNOWN_SENSORS,
        fromAt: instantFromMs(0),
        toAt: instantFromMs(8.64e15),
        goodOnly: false,
      });
      return canonicalJson({ facts, rows, answer: await plain.ledger.readAnswer('asked') });
    },
    faults: async () => (await rebuildViews(plain.ledger, { isMending: false })).differences,
    async end() {
      await shopParts.ledger.close();
      await plain.ledger.close();
    },
  };
}

const COPIER: StoreCopier = {
  copy: async () => ({ sizeBytes: 1, content: oneByte(), letGo: () => undefined }),
};

async function* oneByte(): AsyncGenerator<Uint8Array> {
  yield new Uint8Array(1);
}
