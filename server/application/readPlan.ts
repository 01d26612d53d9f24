// Next hands, and what would help a promise in danger: a lamp and a warmer bay are tried with the same machinery as previews.
import type { Instant, PlanEntryWire, PlanHelp, PlanWire } from '../contract/index.ts';
import { instantFromIso, isoFromInstant, isoFromInstantOrNull } from '../contract/index.ts';
import { type BatchState, isCuring } from '../domain/batch.ts';
import type { BatchId, Estimate } from '../domain/facts.ts';
import { minutesBetween } from '../domain/minutes.ts';
import { type PlanEntry, planNextHands } from '../domain/planNextHands.ts';
import { cardOf } from './advanceBatch.ts';
import { readOpenBatches } from './appendFacts.ts';
import type { Preview } from './ports/doors.ts';
import { previewBatch } from './previewEstimate.ts';
import { readBays } from './readSnapshot.ts';
import type { Shop } from './shop.ts';

/** Help is looked for only for so many promises in danger, the first to need someone. */
const HELPED_COUNT_MAX = 3;
/** Of a shop with many bays only the warmest are tried, and only its first lamps. */
const TRIED_COUNT_MAX = 2;
/** A lamp is tried at the distances at which it was measured; the nearest ones are often too hot. */
const SPOT_COUNT_MAX = 4;
/** A move is worth a car's way from so much warmer air on [K]. */
const WARMER_MIN_K = 2;
/** Less is not worth a hand [min]. */
const GAIN_MIN = 1;
/** What was tried is believed for so long, while the estimate under it stands [min of the shop's time]. */
const TRIED_KEPT_MIN = 2;

interface Tried {
  readonly estimate: Estimate;
  readonly triedAt: Instant;
  readonly help: readonly PlanHelp[];
}

/** What was tried last for each batch; one for each shop, gone with it. It only saves work. */
const memories = new WeakMap<Shop, Map<BatchId, Tried>>();

/** The plan at one sequence. */
export async function readPlan(shop: Shop): Promise<PlanWire> {
  const { sequence, states } = await shop.turns(async () => ({
    sequence: await shop.ledger.readHead(),
    states: await readOpenBatches(shop),
  }));
  const nowAt = shop.clock.nowAt();
  const entries = planNextHands(states, { cardOf: (state) => cardOf(shop, state), nowAt });
  const helpOf = await findHelp(shop, entries);
  return {
    sequence,
    nowAt: isoFromInstant(nowAt),
    entries: entries.map((entry) => presentEntry(entry, helpOf.get(entry.state.id) ?? [])),
  };
}

async function findHelp(
  shop: Shop,
  entries: readonly PlanEntry[],
): Promise<ReadonlyMap<BatchId, readonly PlanHelp[]>> {
  const held = memories.get(shop) ?? new Map<BatchId, Tried>();
  const fresh = new Map<BatchId, Tried>();
  for (const { state } of entries.filter(canBeHelped).slice(0, HELPED_COUNT_MAX)) {
    fresh.set(state.id, await tryHelp(shop, state, held.get(state.id)));
  }
  memories.set(shop, fresh);
  return new Map([...fresh].map(([batchId, { help }]) => [batchId, help]));
}

function canBeHelped({ state, danger }: PlanEntry): boolean {
  return danger !== null && isCuring(state) && state.estimate?.p50At !== null;
}

async function tryHelp(shop: Shop, state: BatchState, held: Tried | undefined): Promise<Tried> {
  const nowAt = shop.clock.nowAt();
  const estimate = state.estimate as Estimate;
  const isStillTrue =
    held !== undefined &&
    held.estimate.computedAt === estimate.computedAt &&
    minutesBetween(held.triedAt, nowAt) < TRIED_KEPT_MIN;
  if (isStillTrue) return held;
  const help = [...(await tryLamps(shop, state)), ...(await tryBays(shop, state))];
  return { estimate, triedAt: nowAt, help: help.sort((a, b) => b.gainMin - a.gainMin) };
}

async function tryLamps(shop: Shop, state: BatchState): Promise<PlanHelp[]> {
  const nowAt = shop.clock.nowAt();
  if (state.lamps.some(({ untilAt }) => untilAt > nowAt)) return [];
  const spots = shop.facts.lamps
    .slice(0, TRIED_COUNT_MAX)
    .flatMap(({ id, distances }) => distances.map(({ distanceCm }) => ({ lampId: id, distanceCm })));
  const tried = spots.slice(0, SPOT_COUNT_MAX).map(async (spot): Promise<PlanHelp[]> => {
    const gainMin = gainOf(await previewBatch(shop, { batchId: state.id, ...spot }), state, nowAt);
    return gainMin === null ? [] : [{ kind: 'lamp', gainMin, ...spot }];
  });
  const bestFirst = (await Promise.all(tried)).flat().sort((a, b) => b.gainMin - a.gainMin);
  return bestFirst.filter(
    ({ lampId }, index) => bestFirst.findIndex((help) => help.lampId === lampId) === index,
  );
}

async function tryBays(shop: Shop, state: BatchState): Promise<PlanHelp[]> {
  const bays = await readBays(shop);
  const nowAt = shop.clock.nowAt();
  const own = bays.find(({ id }) => id === state.bayId)?.airTemperatureC ?? null;
  const warmer = bays
    .filter(({ id, kind, trust }) => id !== state.bayId && kind !== 'yard' && trust === 'good')
    .map(({ id, airTemperatureC }) => ({ id, offsetK: (airTemperatureC ?? -Infinity) - (own ?? Infinity) }))
    .filter(({ offsetK }) => offsetK >= WARMER_MIN_K)
    .sort((a, b) => b.offsetK - a.offsetK)
    .slice(0, TRIED_COUNT_MAX);
  const tried = warmer.map(async ({ id }): Promise<PlanHelp[]> => {
    const gainMin = gainOf(await previewBatch(shop, { batchId: state.id, bayId: id }), state, nowAt);
    return gainMin === null ? [] : [{ kind: 'warmBay', gainMin, bayId: id }];
  });
  return (await Promise.all(tried)).flat();
}

/** How much earlier the test may begin [min]; null where it is not worth a hand, or too hot. */
function gainOf(preview: Preview, state: BatchState, nowAt: Instant): number | null {
  if (preview.kind === 'refused' || preview.estimate.notes.includes('too-hot')) return null;
  const p50At = instantFromIso(preview.estimate.test.p50At ?? '');
  if (p50At === null) return null;
  // What lies behind us is gained no more.
  const gainMin = minutesBetween(Math.max(nowAt, p50At) as Instant, state.estimate?.p50At as Instant);
  return gainMin < GAIN_MIN ? null : gainMin;
}

function presentEntry(entry: PlanEntry, tried: readonly PlanHelp[]): PlanEntryWire {
  const { state, danger } = entry;
  const { panel, repairOrder, bayId, by, stage, remainingWorkMin } = state;
  return {
    batchId: state.id,
    panel,
    repairOrder,
    bayId,
    by,
    stage,
    need: entry.need,
    needAt: isoFromInstantOrNull(entry.needAt),
    promisedAt: isoFromInstantOrNull(state.promisedAt),
    remainingWorkMin,
    doneP50At: isoFromInstantOrNull(entry.doneP50At),
    doneP90At: isoFromInstantOrNull(entry.doneP90At),
    slackMin: entry.slackMin,
    slackP90Min: entry.slackP90Min,
    danger: danger === null ? null : { kind: danger.kind, byMin: danger.byMin, help: helpFor(danger, tried) },
  };
}

/** Hands first where they are all that is missing. */
function helpFor(
  { kind, rivalIds, handsGainMin }: NonNullable<PlanEntry['danger']>,
  tried: readonly PlanHelp[],
): PlanHelp[] {
  const hands: PlanHelp[] =
    rivalIds.length === 0 ? [] : [{ kind: 'hands', gainMin: handsGainMin, batchIds: [...rivalIds] }];
  return kind === 'hands' ? [...hands, ...tried] : [...tried, ...hands];
}
