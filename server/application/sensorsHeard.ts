// When each known sensor was last heard: what silence is counted from. Only remembers: readings are in the air table, and a
// program that was off cannot tell who was silent meanwhile, so silence counts from its start at the earliest.
import type { Instant } from '../contract/index.ts';
import type { SensorHeard } from '../domain/alertCandidates.ts';
import type { AirRow, AirTable } from './ports/airTable.ts';
import type { Shop } from './shop.ts';

interface Heard {
  readonly heardAt: Instant;
  readonly isRead: boolean;
}

interface Memory {
  readonly heard: Map<string, Heard>;
  /** Whether those that spoke before the start are among them. */
  isComplete: boolean;
}

/** One for each air table, gone with it. */
const memories = new WeakMap<AirTable, Memory>();

/** Notes stored readings; one that was set aside says nothing of now. */
export function noteHeard(shop: Shop, rows: readonly Pick<AirRow, 'sensorId' | 'at' | 'trust'>[]): void {
  const { heard } = memoryOf(shop);
  const nowAt = shop.clock.nowAt();
  for (const { sensorId, at, trust } of rows) {
    const before = heard.get(sensorId);
    const heardAt = Math.min(at, nowAt) as Instant;
    // What is held from after now was heard before the clock was put back: anything said since is newer.
    const isNewer = before?.isRead !== true || heardAt > before.heardAt || before.heardAt > nowAt;
    if (trust !== 'aside' && isNewer) heard.set(sensorId, { heardAt, isRead: true });
  }
}

/** Every known sensor that ever spoke. */
export async function readHeard(shop: Shop): Promise<SensorHeard[]> {
  const memory = memoryOf(shop);
  if (!memory.isComplete) {
    const heardAt = shop.clock.nowAt();
    for (const { sensorId } of await shop.air.readSensors()) {
      if (!memory.heard.has(sensorId)) memory.heard.set(sensorId, { heardAt, isRead: false });
    }
    memory.isComplete = true;
  }
  // A clock that was put back leaves no telling who was silent meanwhile, as a start does: silence counts from now.
  const nowAt = shop.clock.nowAt();
  for (const [sensorId, { heardAt }] of memory.heard) {
    if (heardAt > nowAt) memory.heard.set(sensorId, { heardAt: nowAt, isRead: false });
  }
  return [...memory.heard].flatMap(([sensorId, heard]) => {
    const bayId = shop.facts.bayOfSensor.get(sensorId);
    return bayId === undefined ? [] : [{ sensorId, bayId, ...heard }];
  });
}

function memoryOf({ air }: Shop): Memory {
  const known = memories.get(air) ?? { heard: new Map<string, Heard>(), isComplete: false };
  memories.set(air, known);
  return known;
}
