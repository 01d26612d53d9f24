// The air of each bay as the batches of a pass ask for it, kept from one pass to the next. Only saves work: it is read from
// the air table when a bay is first asked for, goes on with what is stored, and is let go when in doubt.
import type { Instant } from '../contract/index.ts';
import { aheadErrorSdKOf } from '../domain/aheadError.ts';
import type { BayAir } from '../domain/airSeries.ts';
import { AHEAD_MAX_MIN, instantAfter } from '../domain/minutes.ts';
import { type AirTrail, makeAirTrail } from './airTrail.ts';
import type { AirRow } from './ports/airTable.ts';
import { correctRows, readBayLatest, readBaySpan } from './readBayRows.ts';
import type { Shop } from './shop.ts';

interface Held {
  /** The settings that say which sensors hang where. */
  readonly facts: Shop['facts'];
  readonly fromAt: Instant;
  readonly air: AirTrail;
  readonly humidity: AirTrail;
  /** The earliest instant that was asked for since some time: older air is let go then. */
  askedFromAt: Instant;
  askedSinceAt: Instant;
}

interface Memory {
  readonly bays: Map<string, Held>;
  /** How often rows of a bay were noted: what came while its air was read may not be in it. */
  readonly notedCounts: Map<string, number>;
}

/** One for each shop, gone with it. */
const memories = new WeakMap<Shop, Memory>();

/** What nobody has asked for in so long is let go. */
const FORGET_AFTER_MIN = 60;

/** The trusted air of a bay from an instant on; what was last said before it still holds at its start. */
export async function recallBayAir(
  shop: Shop,
  { bayId, fromAt }: { bayId: string; fromAt: Instant },
): Promise<BayAir> {
  const known = memoryOf(shop).bays.get(bayId);
  const isKnown = known?.facts === shop.facts && known.fromAt <= fromAt;
  const held = isKnown ? known : await readAnew(shop, bayId, fromAt);
  held.askedFromAt = Math.min(held.askedFromAt, fromAt) as Instant;
  const air = held.air.seriesFrom(fromAt);
  return { air, aheadErrorSdK: aheadErrorSdKOf(air), humidity: held.humidity.seriesFrom(fromAt) };
}

/** Goes on with good rows of a bay that were stored just now. */
export function noteBayRows(shop: Shop, bayId: string, rows: readonly AirRow[]): void {
  const { bays, notedCounts } = memoryOf(shop);
  notedCounts.set(bayId, (notedCounts.get(bayId) ?? 0) + 1);
  const corrected = correctRows(shop, bayId, rows);
  // Said late by a sensor that hung in another bay then.
  if (corrected.length < rows.length) forgetBayAir(shop);
  const held = bays.get(bayId);
  if (held === undefined) return;
  const isTaken = held.facts === shop.facts && corrected.every((row) => take(held, row));
  if (isTaken) forgetOld(shop, bayId, held);
  else bays.delete(bayId);
}

/** Reads all air anew the next time: rows were changed that are old already. */
export function forgetBayAir(shop: Shop): void {
  memoryOf(shop).bays.clear();
}

async function readAnew(shop: Shop, bayId: string, fromAt: Instant): Promise<Held> {
  const { facts } = shop;
  const { bays, notedCounts } = memoryOf(shop);
  const notedCount = notedCounts.get(bayId);
  const nowAt = shop.clock.nowAt();
  // A sensor's clock may run ahead of ours by as much as judgeReading lets pass.
  const span = await readBaySpan(shop, {
    bayId,
    fromAt,
    toAt: instantAfter(nowAt, AHEAD_MAX_MIN),
    goodOnly: true,
  });
  const before = await readBayLatest(shop, bayId, fromAt);
  const made = {
    facts,
    fromAt,
    air: makeAirTrail(),
    humidity: makeAirTrail(),
    askedFromAt: fromAt,
    askedSinceAt: nowAt,
  };
  // What was last said before the span still holds at its start: a shop that was silent is not a shop without air.
  for (const row of [...before, ...span].toSorted((a, b) => a.at - b.at)) take(made, row);
  if (notedCounts.get(bayId) === notedCount) bays.set(bayId, made);
  return made;
}

/** False where a row does not fit the trails any more. */
function take({ air, humidity }: Held, { quantity, sensorId, at, measurement }: AirRow): boolean {
  switch (quantity) {
    case 'airTemperatureC':
      return air.add({ sensorId, at, measurement });
    case 'relativeHumidityPct':
      return humidity.add({ sensorId, at, measurement });
    case 'panelTemperatureC':
      return true;
  }
}

/** A batch that is closed needs its air no more. */
function forgetOld(shop: Shop, bayId: string, held: Held): void {
  const nowAt = shop.clock.nowAt();
  if (nowAt < instantAfter(held.askedSinceAt, FORGET_AFTER_MIN)) return;
  const { askedFromAt: fromAt } = held;
  held.air.forgetBefore(fromAt);
  held.humidity.forgetBefore(fromAt);
  memoryOf(shop).bays.set(bayId, { ...held, fromAt, askedFromAt: nowAt, askedSinceAt: nowAt });
}

function memoryOf(shop: Shop): Memory {
  const known = memories.get(shop) ?? { bays: new Map(), notedCounts: new Map() };
  memories.set(shop, known);
  return known;
}
