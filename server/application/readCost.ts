// What a bay's air costs over some days: from its own history and the batches that cured in it. Nothing is stored.
import {
  type ColdCause,
  COLD_CAUSES,
  type CostWire,
  type Instant,
  isoFromInstant,
  WEEKDAYS,
} from '../contract/index.ts';
import type { BatchState } from '../domain/batch.ts';
import type { Card } from '../domain/card.ts';
import { type ColdSignal, pointsWithin } from '../domain/coldSignal.ts';
import { type LocalHour, makeWallClock, type Span } from '../domain/localHours.ts';
import { climateOf } from '../domain/panelTrail.ts';
import { minutesBetween } from '../domain/minutes.ts';
import { curedFrom, splitByCause, spreadOverHours, sumDays, sumWeeks } from '../domain/slowdownCost.ts';
import { likeliestNode, steadySlowdown } from '../domain/warmerMorning.ts';
import { cardOf } from './advanceBatch.ts';
import { readLearned } from './lessonViews.ts';
import type { CostAnswer, CostQuestion } from './ports/doors.ts';
import { previewStart } from './previewEstimate.ts';
import { type CostGround, readCostGround } from './readCostGround.ts';
import { readWhatIf } from './readWhatIf.ts';
import type { Shop } from './shop.ts';

/** Steady air is solved to this step of temperature: finer than any sensor, and few different films [1/K]. */
const STEPS_PER_K = 10;

/** Reads the cost of a bay's air. */
export async function readCost(shop: Shop, bayId: string, question: CostQuestion): Promise<CostAnswer> {
  if (!shop.facts.bays.some((bay) => bay.id === bayId)) return { kind: 'unknown-bay' };
  const card = question.cardId === null ? [...shop.cards.values()][0] : shop.cards.get(question.cardId);
  if (card === undefined) return { kind: 'unknown-card' };
  const ground = await readCostGround(shop, bayId, question);
  const { span, hours, signal, states, cured, pause } = ground;
  const addedMin = sumOf(cured.map((batch) => batch.addedMin));
  const days = sumDays(cured, hours);
  await pause();
  const climate = climateWire(shop, ground);
  await pause();
  const cost: CostWire = {
    bayId,
    fromAt: isoFromInstant(span.fromAt),
    toAt: isoFromInstant(span.toAt),
    ...(await slowdownNow(shop, bayId, card)),
    addedMin,
    batchCount: cured.length,
    untimedCount: states.length - cured.length,
    readingMin: pointsWithin(signal.air, span).length,
    days: [...days].map(([date, sum]) => ({ date, ...sum })),
    weeks: [...sumWeeks(days)].map(([mondayDate, sum]) => ({ mondayDate, ...sum })),
    causes: await causesOf(shop, ground, addedMin),
    doorCount: signal.doors.filter(({ fromAt }) => fromAt >= span.fromAt && fromAt < span.toAt).length,
    humidMin: humidMinOf(signal, span),
    map: await mapOf(shop, ground, card),
    whatIf: await readWhatIf(shop, ground, question),
    batches: states.map((state) => batchOf(state, span)),
    climate,
  };
  await pause();
  return { kind: 'done', cost };
}

/** The card's own film, mixed now: what Mix would say of it. */
async function slowdownNow(
  shop: Shop,
  bayId: string,
  card: Card,
): Promise<Pick<CostWire, 'cardId' | 'slowdown' | 'expectedMin' | 'cardMin'>> {
  const preview = await previewStart(shop, {
    cardId: card.id,
    panel: '-',
    bayId,
    thicknessMm: card.thicknessMm,
    substrate: 'steel',
    hardenerPct: card.hardenerPct,
  });
  if (preview.kind === 'refused' || !preview.estimate.supported) {
    return { cardId: card.id, slowdown: null, expectedMin: null, cardMin: null };
  }
  const { slowdown, expectedMin, cardMin } = preview.estimate;
  return { cardId: card.id, slowdown, expectedMin, cardMin };
}

async function causesOf(shop: Shop, ground: CostGround, addedMin: number): Promise<CostWire['causes']> {
  const sums = new Map<ColdCause, number>(COLD_CAUSES.map((code) => [code, 0]));
  for (const batch of ground.cured) {
    const minutes = splitByCause(batch, ground.signal, cardOf(shop, batch.state));
    for (const code of COLD_CAUSES) sums.set(code, (sums.get(code) ?? 0) + minutes[code]);
    await ground.pause();
  }
  return [...sums]
    .map(([code, minutes]) => ({ code, minutes, share: addedMin === 0 ? 0 : minutes / addedMin }))
    .toSorted((a, b) => b.minutes - a.minutes);
}

function humidMinOf({ humidSpells }: ColdSignal, { fromAt, toAt }: Span): number {
  return sumOf(
    humidSpells.map((spell) =>
      Math.max(
        0,
        minutesBetween(Math.max(fromAt, spell.fromAt) as Instant, Math.min(toAt, spell.toAt) as Instant),
      ),
    ),
  );
}

interface Cell {
  totalSlowdown: number;
  hoursCount: number;
  addedMin: number;
}

/** One steady film an hour of history, and the minutes of batches where they were spent. */
async function mapOf(shop: Shop, ground: CostGround, card: Card): Promise<CostWire['map']> {
  const { hours, signal, cured, pause } = ground;
  const node = likeliestNode(card, await readLearned(shop, card.id));
  const slowdowns = new Map<number, number>();
  const cells = WEEKDAYS.flatMap(() =>
    Array.from({ length: 24 }, (): Cell => ({ totalSlowdown: 0, hoursCount: 0, addedMin: 0 })),
  );
  const cellOf = ({ weekday, hourIndex }: Pick<LocalHour, 'weekday' | 'hourIndex'>): Cell =>
    cells[WEEKDAYS.indexOf(weekday) * 24 + hourIndex] as Cell;
  for (const hour of hours) {
    const points = pointsWithin(signal.air, hour);
    if (points.length === 0) continue;
    const meanC = sumOf(points.map(({ measurement }) => measurement)) / points.length;
    const step = Math.round(meanC * STEPS_PER_K);
    const known = slowdowns.get(step) ?? steadySlowdown(card, node, step / STEPS_PER_K);
    slowdowns.set(step, known);
    const cell = cellOf(hour);
    cell.totalSlowdown += known;
    cell.hoursCount += 1;
    await pause();
  }
  const wall = makeWallClock(shop.facts.timeZone);
  for (const batch of cured) {
    const cure = { fromAt: batch.state.mixedAt, toAt: batch.readyAt };
    for (const part of spreadOverHours(batch, wall.hoursOf(cure))) cellOf(part).addedMin += part.addedMin;
    await pause();
  }
  return cells.map(({ totalSlowdown, hoursCount, addedMin }, index) => ({
    weekday: WEEKDAYS[Math.floor(index / 24)] as CostWire['map'][number]['weekday'],
    hour: `${String(index % 24).padStart(2, '0')}:00`,
    slowdown: hoursCount === 0 ? null : totalSlowdown / hoursCount,
    addedMin,
  }));
}

function climateWire(shop: Shop, { bayId, span, minutes }: CostGround): CostWire['climate'] {
  const isAirMoving = shop.facts.bays.find(({ id }) => id === bayId)?.isAirMoving ?? false;
  const climate = climateOf(minutes, { ...span, isAirMoving });
  return {
    stepMin: climate.stepMin,
    at: climate.at.map(isoFromInstant),
    airTemperatureC: climate.airTemperatureC.map(tenthOrNull),
    relativeHumidityPct: climate.relativeHumidityPct.map(tenthOrNull),
    panelTemperatureC: climate.panelTemperatureC.map(tenthOrNull),
    dewDistanceK: climate.dewDistanceK.map(tenthOrNull),
  };
}

function tenthOrNull(value: number | null): number | null {
  return value === null ? null : Math.round(value * 10) / 10;
}

function batchOf(state: BatchState, { toAt }: Span): CostWire['batches'][number] {
  const { id, panel, cardId, mixedAt, closedAt } = state;
  return {
    id,
    panel,
    cardId,
    mixedAt: isoFromInstant(mixedAt),
    untilAt: isoFromInstant(Math.min(closedAt ?? toAt, toAt) as Instant),
    addedMin: curedFrom(state)?.addedMin ?? null,
  };
}

function sumOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}
