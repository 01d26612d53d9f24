// What must hold of the store as a whole: views are what the facts give, readings are there once and none is invented.
import { rebuildViews } from '../../../server/application/rebuildViews.ts';
import type { AirRow } from '../../../server/application/ports/airTable.ts';
import { instantFromMs } from '../../../server/contract/index.ts';
import type { Fact, Sequence } from '../../../server/domain/facts.ts';
import type { Store } from './disk.ts';
import type { Message, Said } from './message.ts';

const FACTS_MAX = 1_000_000;

/** All facts of a store. */
export async function readAllFacts({ ledger }: Store): Promise<readonly Fact[]> {
  return ledger.readFacts({ afterSequence: 0 as Sequence, limit: FACTS_MAX });
}

/** Every row of some sensors. */
export async function readAllAir({ air }: Store, sensorIds: readonly string[]): Promise<readonly AirRow[]> {
  return air.readSpan({
    sensorIds,
    fromAt: instantFromMs(0),
    toAt: instantFromMs(8.64e15),
    goodOnly: false,
  });
}

/** What is wrong with a store's facts and views. */
export async function checkViews({ ledger }: Store): Promise<string[]> {
  const { differences } = await rebuildViews(ledger, { isMending: false });
  return differences.map((name) => `view ${name} is not what the facts give`);
}

/** What is wrong between the messages of sensors and the rows of the air table. */
export function checkReadings(messages: readonly Message[], rows: readonly AirRow[]): string[] {
  const found: string[] = [];
  const counts = new Map<string, AirRow[]>();
  for (const row of rows) {
    const name = nameOf(row);
    counts.set(name, [...(counts.get(name) ?? []), row]);
  }
  const told = new Set<string>();
  for (const { says, isAcknowledged, deliveryCount } of messages) {
    for (const said of says) {
      told.add(nameOf(said));
      const there = (counts.get(nameOf(said)) ?? []).filter(({ at }) => said.at === null || at === said.at);
      const most = said.at === null ? deliveryCount : 1;
      if (isAcknowledged && there.length === 0)
        found.push(`reading ${nameOf(said)} was acknowledged and is not there`);
      if (there.length > most) found.push(`reading ${nameOf(said)} is there ${there.length} times`);
    }
  }
  for (const name of counts.keys()) if (!told.has(name)) found.push(`reading ${name} was said by nobody`);
  return found;
}

function nameOf({
  sensorId,
  quantity,
  measurement,
}: Pick<Said, 'sensorId' | 'quantity' | 'measurement'>): string {
  return `${sensorId} ${quantity} ${measurement}`;
}
