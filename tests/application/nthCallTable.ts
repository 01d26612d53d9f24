// Every use case of the shop with an ask that it accepts, for the trials in which each call fails once.
import { catchUp } from '../../server/application/openShop.ts';
import { advanceTime } from '../../server/application/advanceTime.ts';
import type { Answer, CostQuestion, Doors } from '../../server/application/ports/doors.ts';
import { rebuildViews } from '../../server/application/rebuildViews.ts';
import { recallSettings } from '../../server/application/settingsView.ts';
import { takeInKept } from '../../server/application/takeInKept.ts';
import { type BatchCommand, instantFromMs } from '../../server/contract/index.ts';
import { OPENS_AT, PLAIN_BATCH } from '../support/testShop.ts';
import { type Ask, NOW_AT } from './nthCallScene.ts';

export interface UseCase {
  readonly name: string;
  /** The door by which it is reached; null for one that only the program itself asks. */
  readonly door: keyof Doors | null;
  readonly ask: Ask;
  /** How many states of the store there are, the first and the last included. */
  readonly states: number;
}

const KEY = 'asked';
const [WET, TO_TEST, SANDING] = ['batch-3', 'batch-1', 'batch-2'] as const;
const FROM_AT = OPENS_AT;
const TO_AT = instantFromMs(OPENS_AT + 60 * 60_000);

/** Doors that ask no port: there is nothing to fail. */
export const PORTLESS: readonly (keyof Doors)[] = [
  'nowAt',
  'previewCard',
  'readRefusedPayloads',
  'noteBroker',
];

/** Doors to the copies on a shelf of files; they are tried with real files and a full disk (tests/adapters/ledger/sqlite). */
export const OF_SHELF: readonly (keyof Doors)[] = ['readCopies', 'makeCopy', 'openKeptCopy'];

const NO_FILTER = { from: null, to: null, cardId: null, by: null, bayId: null, stage: null, text: null };
const COST: CostQuestion = {
  fromAt: FROM_AT,
  toAt: TO_AT,
  cardId: 'body-filler',
  heatFrom: '06:00',
  heatTo: '10:00',
  heatC: 18,
};
const CARD = {
  name: 'Own filler',
  fill: 'regular',
  atC: 20,
  thicknessMm: 1,
  hardenerPct: 2,
  workingMin: 5,
  sandMin: 17.5,
  lowestC: 10,
  thicknessMaxMm: 6,
} as const;

export const USE_CASES: readonly UseCase[] = [
  acts('startBatch', 'startBatch', async ({ doors }) =>
    first(
      await doors.startBatch({ key: KEY, body: { ...PLAIN_BATCH, thicknessMm: 0.5, panel: 'Front bumper' } }),
    ),
  ),
  command('markSpread', WET, { type: 'markSpread' }),
  command('recordCheck gums', TO_TEST, { type: 'recordCheck', outcome: 'gums' }),
  command('recordCheck powders', TO_TEST, { type: 'recordCheck', outcome: 'powders', firstTry: true }),
  command('finishSanding', SANDING, { type: 'finishSanding' }),
  command('scrap', WET, { type: 'scrap' }),
  command('moveToBay', WET, { type: 'moveToBay', bayId: 'bay-2' }),
  command('switchLamp', WET, { type: 'switchLamp', lampId: 'lamp-1', distanceCm: 90, forMin: 5 }),
  acts('undo', 'handleCommand', async ({ doors, sandingActSequence }) => {
    const body: BatchCommand = { type: 'undo', factSequence: sandingActSequence };
    return first(await doors.handleCommand(SANDING, { key: KEY, body }));
  }),
  acts(
    'a refused command',
    'handleCommand',
    async ({ doors }) => first(await doors.handleCommand(WET, { key: KEY, body: { type: 'finishSanding' } })),
    1,
  ),
  acts('acknowledgeAlert of a batch', 'acknowledgeAlert', async ({ doors }) =>
    first(await doors.acknowledgeAlert(`${TO_TEST}.test.1`, { key: KEY, body: {} })),
  ),
  acts('acknowledgeAlert of the shop', 'acknowledgeAlert', async ({ doors }) =>
    first(await doors.acknowledgeAlert('shop.sensorQuiet.1', { key: KEY, body: { by: 'AB' } })),
  ),
  acts('putSettings', 'putSettings', ({ doors }) =>
    doors.putSettings({ key: KEY, body: { by: 'AB', alerts: { spreadByS: 60 } } }),
  ),
  acts('putCard', 'putCard', ({ doors }) => doors.putCard('own', { key: KEY, body: { ...CARD, by: 'AB' } })),
  acts(
    'putSensor',
    'putSensor',
    ({ doors }) => doors.putSensor('stranger', { key: KEY, body: { bayId: 'bay-2', by: 'AB' } }),
    // What it said and was kept aside is taken in first; without its bay nobody reads it.
    3,
  ),
  {
    name: 'recordReading',
    door: 'recordReading',
    states: 2,
    async ask({ doors }) {
      const { recorded, repeated, setAside } = await doors.recordReading([
        { index: 0, sensorId: 'bay-1-air', at: NOW_AT, airTemperatureC: 21.2, relativeHumidityPct: 51 },
      ]);
      // Stored the first time, it is a repeat the second time.
      return { told: recorded + repeated, setAside };
    },
  },
  {
    name: 'a pass over a bay',
    door: null,
    states: 3,
    async ask({ shop, doors, runTimers }) {
      await doors.recordReading([{ index: 0, sensorId: 'bay-2-air', at: NOW_AT, airTemperatureC: 24 }]);
      await runTimers();
      // What a failed pass left undone is made up for at the next minute's look.
      await advanceTime(shop);
    },
  },
  { name: 'advanceTime', door: null, states: 1, ask: ({ shop }) => advanceTime(shop) },
  { name: 'catchUp', door: null, states: 1, ask: ({ shop }) => catchUp(shop) },
  { name: 'recallSettings', door: null, states: 1, ask: ({ shop }) => recallSettings(shop) },
  { name: 'rebuildViews', door: null, states: 1, ask: ({ shop }) => rebuildViews(shop.ledger) },
  {
    name: 'takeInKept',
    door: null,
    states: 2,
    ask: async ({ shop }) => {
      await takeInKept(shop, { sensorId: 'stranger', fromAt: FROM_AT });
    },
  },
  reads('makeBackup', async ({ doors }) => {
    const backup = await doors.makeBackup();
    if (backup.kind === 'made') backup.copy.letGo();
    return backup.kind;
  }),
  reads('previewStart', ({ doors }) => doors.previewStart({ ...PLAIN_BATCH, thicknessMm: 0.5 })),
  reads('previewBatch', ({ doors }) => doors.previewBatch({ batchId: WET, bayId: 'bay-2' })),
  // A shop whose store has just failed says so until something is stored again: that is as it should be.
  reads('readSnapshot', async ({ doors }) => ({
    ...(await doors.readSnapshot()),
    health: null,
    troubles: null,
    ledgerId: null,
  })),
  reads('readAlerts', ({ doors }) => doors.readAlerts()),
  reads('readBatches', ({ doors }) => doors.readBatches({ openOnly: true })),
  reads('readBatch', ({ doors }) => doors.readBatch(WET)),
  reads('readBays', ({ doors }) => doors.readBays()),
  reads('readAirHistory', ({ doors }) =>
    doors.readAirHistory('bay-1', { fromAt: FROM_AT, toAt: TO_AT, stepMin: 5 }),
  ),
  reads('readCost', ({ doors }) => doors.readCost('bay-1', COST)),
  reads('readCards', ({ doors }) => doors.readCards()),
  reads('readReliability', ({ doors }) => doors.readReliability()),
  reads('readRecords', ({ doors }) => doors.readRecords({ filter: NO_FILTER, limit: 10, beforeAt: null })),
  reads('readRepairOrder', ({ doors }) => doors.readRepairOrder('4711')),
  reads('readRecordRows', ({ doors }) => gather(doors.readRecordRows(NO_FILTER))),
  reads('readPlan', ({ doors }) => doors.readPlan()),
  reads('readSensors', ({ doors }) => doors.readSensors()),
  reads('readHealth', async ({ doors }) => (await doors.readHealth()).sequence),
  reads('readFigures', async ({ doors }) => (await doors.readFigures()).sequence),
  reads('readSettings', ({ doors }) => doors.readSettings()),
  reads('readCard', ({ doors }) => doors.readCard('body-filler')),
];

/** An act of a person: one entry, so that there is nothing between before and after. */
function acts(name: string, door: keyof Doors, ask: Ask, states = 2): UseCase {
  return { name, door, ask, states };
}

function command(name: string, batchId: string, body: BatchCommand): UseCase {
  return acts(name, 'handleCommand', async ({ doors }) =>
    first(await doors.handleCommand(batchId, { key: KEY, body })),
  );
}

function reads(door: keyof Doors, ask: Ask): UseCase {
  return { name: door, door, ask, states: 1 };
}

/** An answer less the mark that it was given before. */
function first(answer: Answer): unknown {
  return answer.kind === 'done' || answer.kind === 'seen' ? { ...answer, isRepeat: null } : answer;
}

async function gather<T>(rows: AsyncIterable<T>): Promise<T[]> {
  const all: T[] = [];
  for await (const row of rows) all.push(row);
  return all;
}
