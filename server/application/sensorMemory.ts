// What a new reading is held against: each known sensor's last good air and for how long it has said the same. Only saves
// reads: it is made from the air table when a sensor first speaks, and forgotten when in doubt.
import type { Instant } from '../contract/index.ts';
import { extendRuns, NO_RUNS, RUNS_MIN, type SensorRuns, type SensorWord } from '../domain/sensorRuns.ts';
import { instantAfter } from '../domain/minutes.ts';
import type { AirRow, AirTable } from './ports/airTable.ts';
import type { Shop } from './shop.ts';

export interface SensorMemory {
  runs: SensorRuns;
  /** The newest good air temperature [°C]. */
  newestAir: { readonly at: Instant; readonly measurement: number } | null;
}

/** One for each air table, gone with it. */
const memories = new WeakMap<AirTable, Map<string, SensorMemory>>();

/** What is remembered of a sensor that speaks of an instant; changed in place by whoever judges its readings. */
export async function recallSensor(
  shop: Shop,
  { sensorId, at }: { sensorId: string; at: Instant },
): Promise<SensorMemory> {
  const known = memoriesOf(shop).get(sensorId);
  if (known !== undefined) return known;
  const rows = await shop.air.readSpan({
    sensorIds: [sensorId],
    fromAt: instantAfter(at, -RUNS_MIN),
    toAt: instantAfter(shop.clock.nowAt(), 1),
    goodOnly: false,
  });
  // Another message of this sensor may have been judged while this one was waiting.
  const meanwhile = memoriesOf(shop).get(sensorId);
  if (meanwhile !== undefined) return meanwhile;
  const memory = memoryFrom(rows);
  memoriesOf(shop).set(sensorId, memory);
  return memory;
}

/** Lets the next reading of these sensors begin from the air table again. */
export function forgetSensors(shop: Shop, sensorIds: Iterable<string>): void {
  for (const sensorId of sensorIds) memoriesOf(shop).delete(sensorId);
}

function memoriesOf({ air }: Shop): Map<string, SensorMemory> {
  const known = memories.get(air) ?? new Map<string, SensorMemory>();
  memories.set(air, known);
  return known;
}

function memoryFrom(rows: readonly AirRow[]): SensorMemory {
  const kept = rows.filter((row) => row.trust !== 'aside');
  const newest = kept.findLast((row) => row.trust === 'good' && row.quantity === 'airTemperatureC');
  return {
    runs: wordsFrom(kept).reduce(extendRuns, NO_RUNS),
    newestAir: newest === undefined ? null : { at: newest.at, measurement: newest.measurement },
  };
}

/** What was said of one instant stands together in the rows. */
function wordsFrom(rows: readonly AirRow[]): SensorWord[] {
  const words: SensorWord[] = [];
  for (const { at, quantity, measurement } of rows) {
    const last = words.at(-1);
    if (last?.at === at) words[words.length - 1] = { ...last, [quantity]: measurement };
    else words.push({ at, [quantity]: measurement });
  }
  return words;
}
