// What counting costs: the same reading through the doors, bare and counted, side by side.
import { countDoors, countLedger } from '../../server/adapters/metrics/countDoors.ts';
import { makeMemoryStore } from '../../server/adapters/ledger/memory/makeMemoryStore.ts';
import { openMeter } from '../../server/adapters/metrics/openMeter.ts';
import type { Doors } from '../../server/application/ports/doors.ts';
import { makeDoors } from '../../server/makeDoors.ts';
import { openTestShop } from '../support/testShop.ts';
import { type Contender, measureRounds, type Pace } from './measure.ts';

const READINGS_A_TURN_COUNT = 100;

/** Readings a second through the whole middle, in memory: with no counters, and with all of them. */
export async function measureCounting(): Promise<Record<'bare' | 'counted', Pace>> {
  const { counters } = openMeter();
  const { ledger, air } = makeMemoryStore();
  const bare = await openTestShop();
  const counted = await openTestShop({ counters, air, ledger: countLedger(ledger, counters) });
  const refused = (): [] => [];
  const doors = makeDoors(bare.shop, { version: '', refused });
  const countedDoors = countDoors(makeDoors(counted.shop, { version: '', refused }), {
    counters,
    door: 'http',
  });
  return measureRounds({ bare: contender(doors), counted: contender(countedDoors) });
}

/** The same reading again and again: nothing grows, and every part of the way is gone. */
function contender(doors: Doors): Contender {
  const reading = {
    index: 0,
    sensorId: 'bay-1-air',
    at: doors.nowAt(),
    airTemperatureC: 18,
    relativeHumidityPct: 50,
  };
  return {
    count: READINGS_A_TURN_COUNT,
    turn: async () => {
      for (let index = 0; index < READINGS_A_TURN_COUNT; index += 1) await doors.recordReading([reading]);
    },
  };
}
