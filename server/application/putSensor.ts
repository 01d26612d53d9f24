// A sensor as a person sets it: hung in a bay by one tap, taken down, named, put right.
import type { PutSensor, Rejection, SensorWire } from '../contract/index.ts';
import { moveSensor } from '../domain/moveSensor.ts';
import { keptOf, unseenTouches } from '../domain/settings.ts';
import type { SensorSetting } from '../domain/settingsChange.ts';
import { changeSetup, type SetupDecision } from './changeSetup.ts';
import type { SetupAnswer, SetupAsk } from './ports/setupDoors.ts';
import { presentSensor } from './readSensors.ts';
import { forgetSensors } from './sensorMemory.ts';
import type { Shop } from './shop.ts';
import { takeInKept } from './takeInKept.ts';

/** Changes a sensor, or says why not. What it said lately and was kept aside counts for its bay from now on. */
export async function putSensor(
  shop: Shop,
  sensorId: string,
  { key, body }: SetupAsk<PutSensor>,
): Promise<SetupAnswer<SensorWire>> {
  const answer = await changeSetup(shop, {
    key,
    fingerprint: JSON.stringify(['sensor', sensorId, body]),
    by: body.by ?? null,
    async decide({ sensors }) {
      const kept = keptOf(sensors, sensorId);
      const touches = unseenTouches(kept, body.expectedVersion);
      if (touches !== null) return { kind: 'stale', version: kept?.version ?? 0, touches };
      return decideSensor(shop, sensorId, body);
    },
    present: (ahead, byHand) => presentSensor(ahead, sensorId, byHand),
  });
  // What is remembered of it is from before: the next reading begins from the air table.
  if (answer.kind === 'done') forgetSensors(shop, [sensorId]);
  return answer;
}

async function decideSensor(shop: Shop, sensorId: string, asked: PutSensor): Promise<SetupDecision> {
  const known = shop.facts.sensors.get(sensorId);
  if (known === undefined && !(await hasSpoken(shop, sensorId))) return { kind: 'unknown' };
  const held: SensorSetting = known ?? { sensorId, name: null, stays: [] };
  const rejections = judgeSensor(shop, held, asked);
  if (rejections.length > 0) return { kind: 'rejected', rejections };
  const change = moveSensor(held, asked, shop.clock.nowAt());
  const stay = change?.sensor.stays.at(-1);
  // Before the fact: should that not be stored, the rows are of a sensor without a bay and nobody reads them.
  if (stay !== undefined && stay.fromAt !== null && stay.untilAt === null)
    await takeInKept(shop, { sensorId, fromAt: stay.fromAt });
  return { kind: 'change', change, isNew: false };
}

async function hasSpoken(shop: Shop, sensorId: string): Promise<boolean> {
  return (await shop.air.readSensors()).some((sensor) => sensor.sensorId === sensorId);
}

function judgeSensor(shop: Shop, held: SensorSetting, asked: PutSensor): Rejection[] {
  const { bayId } = asked;
  const bayIds = shop.facts.bays.map((bay) => bay.id);
  if (bayId !== undefined && bayId !== null && !bayIds.includes(bayId)) {
    return [{ path: 'bayId', reason: 'names no bay of this shop', allowed: `${bayIds.join(', ')} or null` }];
  }
  const willHang = bayId === undefined ? shop.facts.bayOfSensor.has(held.sensorId) : bayId !== null;
  const offsets = ['airTemperatureOffsetK', 'relativeHumidityOffsetPct'] as const;
  return willHang
    ? []
    : offsets
        .filter((path) => asked[path] !== undefined)
        .map((path) => ({
          path,
          reason: 'is for a sensor that hangs in a bay',
          allowed: 'together with a bayId, or later',
        }));
}
