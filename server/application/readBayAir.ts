// The trusted air of bays over the span that a batch needs, read once for all batches of a pass.
import type { Instant } from '../contract/index.ts';
import type { BayAir, SensorPoint } from '../domain/airSeries.ts';
import type { BatchState } from '../domain/batch.ts';
import { type AirOfBays, HISTORY_MIN } from '../domain/filmJob.ts';
import { instantAfter } from '../domain/minutes.ts';
import { recallBayAir } from './bayAirMemory.ts';
import type { AirRow, Quantity } from './ports/airTable.ts';
import type { Shop } from './shop.ts';

const NO_AIR: BayAir = { air: [], humidity: [] };

/** Reads the air that a batch has met, from before its mixing until now, in every bay it stood in and the yard. */
export type AirReader = (state: BatchState) => Promise<AirOfBays>;

/** Makes a reader for one pass: what it has read of a bay it does not read again for the next batch. */
export function makeAirReader(shop: Shop): AirReader {
  const held = new Map<string, { readonly fromAt: Instant; readonly air: BayAir }>();
  async function airOfBay(bayId: string, fromAt: Instant): Promise<BayAir> {
    const known = held.get(bayId);
    if (known !== undefined && known.fromAt <= fromAt) return known.air;
    const air = await recallBayAir(shop, { bayId, fromAt });
    held.set(bayId, { fromAt, air });
    return air;
  }
  return async function readAir(state) {
    const firstAt = Math.min(state.mixedAt, state.rolledInAt ?? state.mixedAt) as Instant;
    const fromAt = instantAfter(firstAt, -HISTORY_MIN);
    const yardId = shop.facts.bays.find((bay) => bay.kind === 'yard')?.id;
    const bayIds = new Set(state.stays.map((stay) => stay.bayId));
    if (state.rolledInAt !== null && yardId !== undefined) bayIds.add(yardId);
    const airs = new Map<string, BayAir>();
    for (const bayId of bayIds) airs.set(bayId, await airOfBay(bayId, fromAt));
    return {
      airOf: (bayId) => airs.get(bayId) ?? NO_AIR,
      isAirMoving: (bayId) => shop.facts.bays.find((bay) => bay.id === bayId)?.isAirMoving ?? false,
      outside: yardId === undefined ? [] : (airs.get(yardId)?.air ?? []),
    };
  };
}

/** The sensors that hang in a bay now. */
export function sensorsOfBay(shop: Shop, bayId: string): string[] {
  return [...shop.facts.bayOfSensor].filter(([, bay]) => bay === bayId).map(([sensorId]) => sensorId);
}

/** The points of one quantity among rows. */
export function pointsOf(rows: readonly AirRow[], quantity: Quantity): SensorPoint[] {
  return rows
    .filter((row) => row.quantity === quantity)
    .map(({ sensorId, at, measurement }) => ({ sensorId, at, measurement }));
}

/** The newest row of a quantity; null when there is none. */
export function newestOf(rows: readonly AirRow[], quantity: Quantity): AirRow | null {
  return rows.filter((row) => row.quantity === quantity).toSorted((a, b) => b.at - a.at)[0] ?? null;
}
