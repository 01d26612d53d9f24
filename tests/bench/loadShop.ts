// The big shop of a load run: twenty bays with ten sensors each, and as many open batches as are asked for.
import { randomUUID } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { postJson } from '../support/http.ts';
import type { Sensor } from './loadSender.ts';

const BAYS_COUNT = 20;
const SENSORS_COUNT = 10;
const PRODUCTS = ['body-filler', 'finishing-putty'];
/** Batches that are mixed side by side, so that filling takes no longer than it must. */
const SIDE_BY_SIDE_COUNT = 4;

interface LoadBay {
  readonly id: string;
  readonly sensors: readonly Sensor[];
}

export const BAYS: readonly LoadBay[] = Array.from({ length: BAYS_COUNT }, (_, bay) => {
  const bayId = `bay-${bay + 1}`;
  const sensors = Array.from({ length: SENSORS_COUNT }, (__, sensor) => ({
    sensorId: `${bayId}-air-${sensor + 1}`,
    bayId,
  }));
  return { id: bayId, sensors };
});

/** Writes the shop's config and says where. */
export function writeConfig(folder: string): string {
  const file = join(folder, 'load.json');
  const config = {
    version: 1,
    shop: { name: 'Big shop', timeZone: 'UTC' },
    http: { host: '127.0.0.1', port: 4180 },
    mqtt: { host: '127.0.0.1', port: 1883, topicPrefix: 'sandby/v1' },
    dataFolder: folder,
    clock: { kind: 'wall' },
    cardsFile: resolve('config/cards.json'),
    bays: BAYS.map(({ id }) => ({ id, name: id, kind: 'bay' })),
    sensors: BAYS.flatMap(({ sensors }) => sensors).map(({ sensorId, bayId }) => ({ id: sensorId, bayId })),
    lamps: [],
    people: [],
    panels: ['Left front door'],
    alerts: { testProbabilityPct: 80, spreadByS: 90, waitingMin: 15 },
  };
  writeFileSync(file, JSON.stringify(config));
  return file;
}

/** Says the air of every bay and starts the batches. */
export async function fillShop(address: string, batchCount: number): Promise<void> {
  const readings = BAYS.map(({ sensors }) => ({ sensorId: sensors[0]?.sensorId, airTemperatureC: 16 }));
  await postJson({ address, path: '/readings' }, readings);
  for (let index = 0; index < batchCount; index += SIDE_BY_SIDE_COUNT) {
    const numbers = Array.from({ length: SIDE_BY_SIDE_COUNT }, (_, beside) => index + beside);
    await Promise.all(
      numbers.filter((number) => number < batchCount).map(async (number) => start(address, number)),
    );
  }
}

/** How many batches are open. */
export async function countOpen(address: string): Promise<number> {
  const response = await fetch(`${address}/api/v1/batches?open=true`);
  return ((await response.json()) as { batches: unknown[] }).batches.length;
}

async function start(address: string, number: number): Promise<void> {
  const body = {
    cardId: PRODUCTS[number % PRODUCTS.length],
    panel: `Panel ${number + 1}`,
    repairOrder: `RO-${number + 1}`,
    bayId: BAYS[number % BAYS_COUNT]?.id,
    thicknessMm: 0.5 + (number % 12) / 3,
    substrate: 'steel',
    mixedAt: new Date(Date.now() - (number % 8) * 60_000).toISOString(),
  };
  const { status, body: answer } = await postJson({ address, path: '/batches' }, body, {
    'idempotency-key': randomUUID(),
  });
  if (status !== 201) throw new Error(`a start got ${status}: ${JSON.stringify(answer)}`);
}
