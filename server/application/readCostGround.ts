// What an answer about a bay's air is made from: the air of the span and around it, and the batches that cured there.
import type { Instant } from '../contract/index.ts';
import type { BatchState } from '../domain/batch.ts';
import { type ColdSignal, findDoors, findHumidSpells, meanHalfHours } from '../domain/coldSignal.ts';
import { type LocalHour, makeWallClock, type Span } from '../domain/localHours.ts';
import { instantAfter } from '../domain/minutes.ts';
import { batchesOfBay, type CuredBatch, curedFrom } from '../domain/slowdownCost.ts';
import type { CostQuestion } from './ports/doors.ts';
import { type MinuteAir, readMinuteAir } from './readMinuteAir.ts';
import type { Shop } from './shop.ts';
import { makeSlices } from './slices.ts';

export interface CostGround {
  readonly bayId: string;
  readonly span: Span;
  readonly hours: readonly LocalHour[];
  readonly minutes: MinuteAir;
  readonly signal: ColdSignal;
  readonly states: readonly BatchState[];
  readonly cured: readonly CuredBatch[];
  readonly pause: () => Promise<void>;
}

/** The air around the span that its batches and causes still need [min]. */
const BEFORE_MIN = 24 * 60;
const AFTER_MIN = 13 * 60;
/** Reads all that an answer needs. */
export async function readCostGround(shop: Shop, bayId: string, question: CostQuestion): Promise<CostGround> {
  const pause = makeSlices(shop.clock);
  const wall = makeWallClock(shop.facts.timeZone);
  const span = spanOf(shop, question);
  const toAt = Math.min(instantAfter(span.toAt, AFTER_MIN), instantAfter(shop.clock.nowAt(), 1)) as Instant;
  const minutes = await readMinuteAir(shop, {
    bayId,
    fromAt: instantAfter(span.fromAt, -BEFORE_MIN),
    toAt,
    pause,
  });
  const views = await shop.ledger.readViews('batch', { openOnly: false });
  await pause();
  const states = batchesOfBay(
    // Of a product that the settings know no more, nothing can be solved.
    views.map(({ body }) => body as BatchState).filter(({ cardId }) => shop.cards.has(cardId)),
    { ...span, bayId },
  );
  const cured = states.flatMap((state) => curedFrom(state) ?? []);
  await pause();
  const signal = await readSignal(minutes, pause);
  await pause();
  return { bayId, span, hours: wall.hoursOf(span), minutes, signal, states, cured, pause };
}

/** Seven local days up to now, where nothing else is asked. */
function spanOf(shop: Shop, { fromAt, toAt }: CostQuestion): Span {
  const endAt = toAt ?? shop.clock.nowAt();
  return {
    fromAt: fromAt ?? makeWallClock(shop.facts.timeZone).midnightBefore(endAt, SPAN_DEFAULT_DAYS - 1),
    toAt: endAt,
  };
}

const SPAN_DEFAULT_DAYS = 7;

/** A quarter of a year is many readings: each kind of sign is looked for in a slice of its own. */
async function readSignal({ air, humidity }: MinuteAir, pause: () => Promise<void>): Promise<ColdSignal> {
  const doors = findDoors(air);
  await pause();
  const humidSpells = findHumidSpells(humidity);
  await pause();
  return { air, humidity, doors, humidSpells, halfHoursC: meanHalfHours(air) };
}
