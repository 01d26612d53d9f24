// A whole shop in memory for tests of the use cases: real middle, memory ledger, simulated clock, no sockets.
import { makeMemoryStore } from '../../server/adapters/ledger/memory/makeMemoryStore.ts';
import { readConfig } from '../../server/adapters/config/readConfig.ts';
import { handleCommand, startBatch } from '../../server/application/handleCommand.ts';
import { calibrateCards, catchUp, makeShop } from '../../server/application/openShop.ts';
import type { Answer } from '../../server/application/ports/doors.ts';
import { recordReading } from '../../server/application/recordReading.ts';
import { recallSettings } from '../../server/application/settingsView.ts';
import type { Shop } from '../../server/application/shop.ts';
import {
  type AirMessage,
  type BatchCommand,
  type BatchWire,
  type ChangeWire,
  type Instant,
  instantFromIso,
  type StartBatch,
} from '../../server/contract/index.ts';
import { makeSimulatedClock, type SimulatedClock } from './simulatedClock.ts';

export interface TestShop {
  readonly shop: Shop;
  readonly clock: SimulatedClock;
  readonly changes: ChangeWire[];
  readonly air: AirMessage[];
  readonly logged: string[];
}

export const OPENS_AT = instantFromIso('2026-01-12T07:00:00Z') as Instant;

/** A cold door panel of the plainest kind. */
export const PLAIN_BATCH: StartBatch = {
  cardId: 'body-filler',
  panel: 'Left front door',
  bayId: 'bay-1',
  thicknessMm: 2,
  substrate: 'steel',
  hardenerPct: 2,
};

/** Opens the example shop in memory at seven in the morning. */
export async function openTestShop(replaced: Partial<Shop> = {}): Promise<TestShop> {
  const settings = readConfig('config/shop.example.json', {});
  const calibrated = calibrateCards(settings.cards);
  if (calibrated.kind === 'rejected') throw new Error('the shipped cards must calibrate');
  const clock = makeSimulatedClock(OPENS_AT);
  const changes: ChangeWire[] = [];
  const air: AirMessage[] = [];
  const logged: string[] = [];
  let count = 0;
  const shop = makeShop({
    facts: settings.shop,
    cards: calibrated.cards,
    ...makeMemoryStore(),
    clock,
    live: {
      publishChange: (change) => changes.push(change),
      publishAir: (message) => air.push(message),
      publishResync: () => logged.push('resync'),
    },
    log: {
      info: (event) => logged.push(event),
      warn: (event) => logged.push(event),
      error: (event) => logged.push(event),
    },
    makeId: () => `batch-${(count += 1)}`,
    ...replaced,
  });
  await recallSettings(shop);
  await catchUp(shop);
  return { shop, clock, changes, air, logged };
}

/** A reading of bay 1's sensor now. */
export async function sayAir(
  { shop, clock }: TestShop,
  airTemperatureC: number,
  more: { relativeHumidityPct?: number; sensorId?: string; at?: Instant } = {},
): ReturnType<typeof recordReading> {
  const { sensorId = 'bay-1-air', at = clock.nowAt(), relativeHumidityPct } = more;
  return recordReading(shop, [{ index: 0, sensorId, at, airTemperatureC, relativeHumidityPct }]);
}

let keyCount = 0;

/** Starts a batch with a key of its own and returns it. */
export async function start({ shop }: TestShop, body: Partial<StartBatch> = {}): Promise<BatchWire> {
  keyCount += 1;
  return done(await startBatch(shop, { key: `start-${keyCount}`, body: { ...PLAIN_BATCH, ...body } }));
}

/** Does something with a batch under a key of its own. */
export async function act({ shop }: TestShop, batchId: string, body: BatchCommand): Promise<Answer> {
  keyCount += 1;
  return handleCommand(shop, batchId, { key: `act-${keyCount}`, body });
}

/** The batch of an answer that must have been accepted. */
export function done(answer: Answer): BatchWire {
  if (answer.kind !== 'done') throw new Error(`refused: ${JSON.stringify(answer)}`);
  return answer.batch;
}

/** Minutes from mixing to an instant of a batch. */
export function minutesIn(batch: BatchWire, instantAt: string | null | undefined): number {
  return (Date.parse(String(instantAt)) - Date.parse(batch.mixedAt)) / 60_000;
}
