// What a sensor said before it was hung in a bay: kept aside then, judged now as if it had been known, and used.
import type { Instant } from '../contract/index.ts';
import { judgeReading } from '../domain/judgeReading.ts';
import { forgetBayAir } from './bayAirMemory.ts';
import type { AirRow } from './ports/airTable.ts';
import type { Shop } from './shop.ts';

/** Trusts what was kept aside of an unknown sensor from an instant on, where it is good by itself; says how many rows. */
export async function takeInKept(
  shop: Shop,
  { sensorId, fromAt }: { sensorId: string; fromAt: Instant },
): Promise<number> {
  const toAt = shop.clock.nowAt();
  const rows = await shop.air.readSpan({ sensorIds: [sensorId], fromAt, toAt, goodOnly: false });
  const kept = rows.filter(({ reason }) => reason === 'unknown-sensor');
  if (kept.length === 0) return 0;
  const trustedCount = await shop.air.trustKept(goodOf(kept));
  forgetBayAir(shop);
  return trustedCount;
}

/** The rows that would be good of a known sensor: neither of another day nor after a jump. Too few to be a stuck sensor's. */
function goodOf(rows: readonly AirRow[]): AirRow[] {
  const doubtedAt = new Set<Instant>();
  let newestAir: AirRow | null = null;
  for (const row of rows) {
    if (row.quantity !== 'airTemperatureC') continue;
    if (isGood(row, newestAir)) newestAir = row;
    else doubtedAt.add(row.at);
  }
  return rows.filter((row) => !doubtedAt.has(row.at) && isGood(row, null));
}

function isGood({ at, recordedAt, measurement }: AirRow, before: AirRow | null): boolean {
  const step = before === null ? null : { changeK: measurement - before.measurement, beforeAt: before.at };
  const verdict = judgeReading({ at, nowAt: recordedAt, isSensorKnown: true, step, isFlat: false });
  return verdict.trust === 'good';
}
