// What if the mornings had been heated: the batches of the last days of a span solved again in the changed air.
import { type CostWire, type Instant, minutesOf, WHAT_IF_DAYS } from '../contract/index.ts';
import type { BayAir } from '../domain/airSeries.ts';
import type { BatchState } from '../domain/batch.ts';
import { pointsWithin } from '../domain/coldSignal.ts';
import { type AirOfBays, filmJobFrom, HISTORY_MIN } from '../domain/filmJob.ts';
import { makeWallClock, type Span, spellsBetween } from '../domain/localHours.ts';
import { instantAfter } from '../domain/minutes.ts';
import type { CuredBatch } from '../domain/slowdownCost.ts';
import {
  heatBay,
  type ProductNode,
  productNodes,
  type TakenBatch,
  takenFrom,
  takenRange,
} from '../domain/warmerMorning.ts';
import { cardOf } from './advanceBatch.ts';
import { readLearned } from './lessonViews.ts';
import type { CostQuestion } from './ports/doors.ts';
import type { CostGround } from './readCostGround.ts';
import { type MinuteAir, readMinuteAir } from './readMinuteAir.ts';
import type { Shop } from './shop.ts';

/** A film is followed no longer than this after mixing [min]. */
const FOLLOWED_MIN = 13 * 60;

/** What the heating would have taken away; null where no batch cured in those days. */
export async function readWhatIf(
  shop: Shop,
  ground: CostGround,
  { heatFrom, heatTo, heatC }: CostQuestion,
): Promise<CostWire['whatIf']> {
  const wall = makeWallClock(shop.facts.timeZone);
  const { span, cured, bayId } = ground;
  const endAt = Math.min(span.toAt, shop.clock.nowAt()) as Instant;
  const startAt = wall.midnightBefore((endAt - 1) as Instant, WHAT_IF_DAYS - 1);
  const tried = { fromAt: Math.max(span.fromAt, startAt) as Instant, toAt: endAt };
  const batches = cured.filter(({ state }) => state.mixedAt >= tried.fromAt);
  const hours = wall.hoursOf({ fromAt: startAt, toAt: endAt });
  const first = hours.find(({ toAt }) => toAt > tried.fromAt);
  const last = hours.at(-1);
  if (batches.length === 0 || first === undefined || last === undefined) return null;
  const spells = spellsBetween(hours, { fromMin: minutesOf(heatFrom), toMin: minutesOf(heatTo) });
  const { taken, nodes } = await solveAgain(shop, ground, {
    batches,
    tried,
    heat: (bays) => heatBay(bays, { bayId, spells, heatC }),
  });
  return {
    fromDate: first.date,
    toDate: last.date,
    heatFrom: clockText(heatFrom),
    heatTo: clockText(heatTo),
    heatC,
    batchCount: batches.length,
    addedMin: batches.reduce((sum, { addedMin }) => sum + addedMin, 0),
    taken: takenRange(taken, nodes),
  };
}

interface Trial {
  readonly batches: readonly CuredBatch[];
  readonly tried: Span;
  readonly heat: (bays: AirOfBays) => AirOfBays;
}

async function solveAgain(
  shop: Shop,
  ground: CostGround,
  { batches, tried, heat }: Trial,
): Promise<{ taken: TakenBatch[]; nodes: readonly ProductNode[] }> {
  const airs = new Map<string, MinuteAir>([[ground.bayId, ground.minutes]]);
  const nodesOf = new Map<string, ProductNode[]>();
  const taken: TakenBatch[] = [];
  for (const { state, addedMin } of batches) {
    const card = cardOf(shop, state);
    const nodes = nodesOf.get(card.id) ?? productNodes(card, await readLearned(shop, card.id));
    nodesOf.set(card.id, nodes);
    const bays = await baysAround(shop, state, { airs, tried, pause: ground.pause });
    const nowAt = Math.min(shop.clock.nowAt(), instantAfter(state.mixedAt, FOLLOWED_MIN)) as Instant;
    const before = filmJobFrom(state, bays, nowAt);
    const after = filmJobFrom(state, heat(bays), nowAt);
    if (before === null || after === null) continue;
    const takenMin: number[] = [];
    for (const minutes of takenFrom({ addedMin, card, nodes, before: before.job, after: after.job })) {
      takenMin.push(minutes);
    }
    taken.push({ cardId: card.id, addedMin, takenMin });
    await ground.pause();
  }
  return { taken, nodes: [...nodesOf.values()][0] ?? [] };
}

/** The air that one batch met, cut to its time; bays it was moved through are read when first asked for. */
async function baysAround(
  shop: Shop,
  state: BatchState,
  { airs, tried, pause }: { airs: Map<string, MinuteAir>; tried: Span; pause: () => Promise<void> },
): Promise<AirOfBays> {
  const yardId = shop.facts.bays.find(({ kind }) => kind === 'yard')?.id;
  const bayIds = new Set(state.stays.map(({ bayId }) => bayId));
  if (state.rolledInAt !== null && yardId !== undefined) bayIds.add(yardId);
  const firstAt = Math.min(state.mixedAt, state.rolledInAt ?? state.mixedAt) as Instant;
  const around = {
    fromAt: instantAfter(firstAt, -HISTORY_MIN),
    toAt: instantAfter(state.mixedAt, FOLLOWED_MIN),
  };
  const cut = new Map<string, BayAir>();
  for (const bayId of bayIds) {
    const known =
      airs.get(bayId) ??
      (await readMinuteAir(shop, {
        bayId,
        fromAt: instantAfter(tried.fromAt, -24 * 60),
        toAt: instantAfter(tried.toAt, FOLLOWED_MIN),
        pause,
      }));
    airs.set(bayId, known);
    cut.set(bayId, { air: pointsWithin(known.air, around), humidity: pointsWithin(known.humidity, around) });
  }
  return {
    airOf: (bayId) => cut.get(bayId) ?? { air: [], humidity: [] },
    isAirMoving: (bayId) => shop.facts.bays.find(({ id }) => id === bayId)?.isAirMoving ?? false,
    outside: yardId === undefined ? [] : (cut.get(yardId)?.air ?? []),
  };
}

/** A time of day as the answer tells it: "6" is "06:00". */
function clockText(clock: string): string {
  const [hourText = '0', minuteText = '00'] = clock.split(':');
  return `${hourText.padStart(2, '0')}:${minuteText}`;
}
