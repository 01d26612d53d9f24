// The trusted air of the bays in which one batch stood, from shortly before its mixing until its film had cured.
import type { Instant } from '../contract/index.ts';
import { mergeSensors } from '../domain/airSeries.ts';
import type { BatchState } from '../domain/batch.ts';
import { FRESH_MAX_MIN } from '../domain/filmJob.ts';
import { instantAfter } from '../domain/minutes.ts';
import type { SeriesOfBays } from '../domain/recordAir.ts';
import { pointsOf } from './readBayAir.ts';
import { readBaySpan } from './readBayRows.ts';
import type { Shop } from './shop.ts';

/** A film that nobody closed for days is told by its first hours: longer than any film cures. */
const CURING_MAX_MIN = 24 * 60;

/** Reads what the bays of a batch said while it cured. */
export async function readRecordAir(
  shop: Shop,
  { stays, mixedAt }: BatchState,
  untilAt: Instant,
): Promise<SeriesOfBays> {
  const fromAt = instantAfter(mixedAt, -FRESH_MAX_MIN);
  const toAt = Math.min(untilAt, instantAfter(mixedAt, CURING_MAX_MIN)) as Instant;
  const rowsOf = new Map(
    await Promise.all(
      [...new Set(stays.map(({ bayId }) => bayId))].map(async (bayId) => {
        const rows = await readBaySpan(shop, { bayId, fromAt, toAt, goodOnly: true });
        return [bayId, rows] as const;
      }),
    ),
  );
  return {
    airOf: (bayId) => mergeSensors(pointsOf(rowsOf.get(bayId) ?? [], 'airTemperatureC')),
    humidityOf: (bayId) => mergeSensors(pointsOf(rowsOf.get(bayId) ?? [], 'relativeHumidityPct')),
  };
}
