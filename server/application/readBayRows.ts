// The rows of a bay: what its sensors said while they hung there, put right by their offsets. Every reader of a bay's air
// comes through here.
import type { Instant } from '../contract/index.ts';
import type { SensorStay } from '../domain/settingsChange.ts';
import type { AirRow, AirSpan, Quantity } from './ports/airTable.ts';
import type { Shop } from './shop.ts';

/** Which rows of a bay are asked for. */
export interface BaySpan extends Pick<AirSpan, 'fromAt' | 'toAt' | 'goodOnly'> {
  readonly bayId: string;
}

/** The rows of a bay over a span, both ends included, in order of instant, then sensor, then quantity. */
export async function readBaySpan(
  shop: Shop,
  { bayId, fromAt, toAt, goodOnly }: BaySpan,
): Promise<readonly AirRow[]> {
  const stays = staysIn(shop, bayId);
  if (stays.size === 0 || toAt < fromAt) return [];
  const rows = await shop.air.readSpan({ sensorIds: [...stays.keys()], fromAt, toAt, goodOnly });
  return correctedRows(rows, stays);
}

/** The newest good row of each quantity of each sensor of a bay, not after an instant. */
export async function readBayLatest(
  shop: Shop,
  bayId: string,
  notAfterAt: Instant,
): Promise<readonly AirRow[]> {
  const stays = staysIn(shop, bayId);
  const rows: AirRow[] = [];
  for (const [untilAt, sensorIds] of sensorsByEnd(stays, notAfterAt)) {
    rows.push(...(await shop.air.readLatest(sensorIds, untilAt)));
  }
  return correctedRows(rows, stays);
}

/** Rows as a bay's air; those that were said elsewhere are left out. */
export function correctRows(shop: Shop, bayId: string, rows: readonly AirRow[]): readonly AirRow[] {
  return correctedRows(rows, staysIn(shop, bayId));
}

/** The stays of every sensor that ever hung in a bay. */
function staysIn(shop: Shop, bayId: string): Map<string, readonly SensorStay[]> {
  const found = new Map<string, readonly SensorStay[]>();
  for (const { sensorId, stays } of shop.facts.sensors.values()) {
    const here = stays.filter((stay) => stay.bayId === bayId);
    if (here.length > 0) found.set(sensorId, here);
  }
  return found;
}

/** Sensors by the instant up to which they may be asked: one that hangs elsewhere now has its last word behind it. */
function sensorsByEnd(
  stays: ReadonlyMap<string, readonly SensorStay[]>,
  notAfterAt: Instant,
): Map<Instant, string[]> {
  const byEnd = new Map<Instant, string[]>();
  for (const [sensorId, here] of stays) {
    const begun = here.findLast(({ fromAt }) => fromAt === null || fromAt <= notAfterAt);
    if (begun === undefined) continue;
    const endAt = Math.min(notAfterAt, begun.untilAt === null ? notAfterAt : begun.untilAt - 1) as Instant;
    byEnd.set(endAt, [...(byEnd.get(endAt) ?? []), sensorId]);
  }
  return byEnd;
}

/** The rows as the bay's air, without those that were said elsewhere. Asked for each estimate: one plain loop. */
function correctedRows(
  rows: readonly AirRow[],
  staysOf: ReadonlyMap<string, readonly SensorStay[]>,
): readonly AirRow[] {
  const corrected: AirRow[] = [];
  for (const row of rows) {
    const stay = staysOf.get(row.sensorId)?.find((one) => isWithin(one, row.at));
    if (stay === undefined) continue;
    const measurement = correctedMeasurement(row.quantity, row.measurement, stay);
    corrected.push(measurement === row.measurement ? row : { ...row, measurement });
  }
  return corrected;
}

function isWithin({ fromAt, untilAt }: SensorStay, instantAt: Instant): boolean {
  return (fromAt === null || instantAt >= fromAt) && (untilAt === null || instantAt < untilAt);
}

function correctedMeasurement(
  quantity: Quantity,
  measurement: number,
  { airTemperatureOffsetK, relativeHumidityOffsetPct }: SensorStay,
): number {
  switch (quantity) {
    case 'airTemperatureC':
      return measurement + airTemperatureOffsetK;
    // An offset takes no air below bone dry; above 100 % the film asks no further (design MODEL §6).
    case 'relativeHumidityPct':
      return Math.max(0, measurement + relativeHumidityOffsetPct);
    case 'panelTemperatureC':
      return measurement;
  }
}
