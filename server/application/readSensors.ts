// Every sensor that is known or ever spoke, with where it hangs and what it said last.
import { isoFromInstantOrNull, type SensorWire } from '../contract/index.ts';
import { currentStay } from '../domain/moveSensor.ts';
import { keptOf, type SettingsByHand } from '../domain/settings.ts';
import type { SensorSeen } from './ports/airTable.ts';
import { presentTouches } from './presentSettings.ts';
import { readByHand } from './settingsView.ts';
import type { Shop } from './shop.ts';

/** Every sensor; one without a bay is unknown and its readings are kept aside. */
export async function readSensors(shop: Shop): Promise<SensorWire[]> {
  const byHand = await readByHand(shop);
  const seen = new Map((await shop.air.readSensors()).map((sensor) => [sensor.sensorId, sensor]));
  const sensorIds = new Set([...shop.facts.sensors.keys(), ...seen.keys()]);
  return [...sensorIds].map((sensorId) => wireOf(shop, { sensorId, seen: seen.get(sensorId), byHand }));
}

/** One sensor, with what was said of it by hand. */
export async function presentSensor(
  shop: Shop,
  sensorId: string,
  byHand: SettingsByHand,
): Promise<SensorWire> {
  const seen = (await shop.air.readSensors()).find((sensor) => sensor.sensorId === sensorId);
  return wireOf(shop, { sensorId, seen, byHand });
}

function wireOf(
  { facts }: Shop,
  { sensorId, seen, byHand }: { sensorId: string; seen: SensorSeen | undefined; byHand: SettingsByHand },
): SensorWire {
  const setting = facts.sensors.get(sensorId);
  const kept = keptOf(byHand.sensors, sensorId);
  const bayId = facts.bayOfSensor.get(sensorId) ?? null;
  const stay = setting === undefined || bayId === null ? null : currentStay(setting);
  return {
    id: sensorId,
    version: kept?.version ?? 0,
    name: setting?.name ?? null,
    bayId,
    sinceAt: isoFromInstantOrNull(stay?.fromAt),
    airTemperatureOffsetK: stay?.airTemperatureOffsetK ?? 0,
    relativeHumidityOffsetPct: stay?.relativeHumidityOffsetPct ?? 0,
    lastSeenAt: isoFromInstantOrNull(seen?.lastAt),
    lastValues: seen?.lastValues ?? SILENT,
    changes: presentTouches(kept?.touches ?? []),
  };
}

const SILENT = { airTemperatureC: null, relativeHumidityPct: null, panelTemperatureC: null };
