// How much of everything there is just now: what the figures for a monitoring program are read from.
import type { BatchState } from '../domain/batch.ts';
import { readBook } from './advanceAlerts.ts';
import { readOpenBatches } from './appendFacts.ts';
import type { ShopFigures } from './ports/doors.ts';
import type { AlertView } from './present.ts';
import { readHeard } from './sensorsHeard.ts';
import type { Shop } from './shop.ts';

/** Counts open batches by stage, open alerts by kind, and sensors by whether they are heard. */
export async function readFigures(shop: Shop): Promise<ShopFigures> {
  const alerts = await shop.ledger.readViews('alert', { openOnly: true });
  return {
    sequence: await shop.ledger.readHead(),
    openBatchCounts: countBy(await readOpenBatches(shop), ({ stage }: BatchState) => stage),
    openAlertCounts: countBy(alerts, ({ body }) => (body as AlertView).kind),
    sensorCounts: await countSensors(shop),
    copyAgeS: await copyAgeOf(shop),
  };
}

async function copyAgeOf({ copies, clock }: Shop): Promise<number | null> {
  const madeAts = ((await copies?.shelf.list()) ?? []).map(({ madeAt }) => madeAt);
  return madeAts.length === 0 ? null : (clock.nowAt() - Math.max(...madeAts)) / 1000;
}

async function countSensors(shop: Shop): Promise<Map<string, number>> {
  const { silences } = await readBook(shop);
  const heard = new Set((await readHeard(shop)).map(({ sensorId }) => sensorId));
  const hung = [...shop.facts.bayOfSensor.keys()];
  const unknown = (await shop.air.readSensors()).filter(({ sensorId }) => !shop.facts.sensors.has(sensorId));
  const states = hung.map((sensorId) => {
    if (!heard.has(sensorId)) return 'never';
    return silences[sensorId]?.isQuiet === true ? 'quiet' : 'heard';
  });
  return countBy([...states, ...unknown.map(() => 'unknown')], (state) => state);
}

function countBy<Thing>(things: readonly Thing[], nameOf: (thing: Thing) => string): Map<string, number> {
  const counts = new Map<string, number>();
  for (const thing of things) counts.set(nameOf(thing), (counts.get(nameOf(thing)) ?? 0) + 1);
  return counts;
}
