// The last estimate of each open batch, for as long as a new one would say the same. Only saves work: what an estimate
// rests on is written beside it, and when any of that has changed, or its readings grow old, it is not found any more.
import type { Instant } from '../contract/index.ts';
import { newestReading } from '../domain/airSeries.ts';
import type { BatchState } from '../domain/batch.ts';
import type { BatchId, Estimate } from '../domain/facts.ts';
import { type AirOfBays, FRESH_MAX_MIN } from '../domain/filmJob.ts';
import { instantAfter, instantAfterOrNull } from '../domain/minutes.ts';
import type { Shop } from './shop.ts';

/** What news of each bay a pass knew of when it began; the air that it reads is at least as new. */
export type KnownNews = ReadonlyMap<string, number>;

interface Held {
  readonly basis: string;
  /** From then on time itself may change it; null when it no longer will. */
  readonly untilAt: Instant | null;
  readonly estimate: Estimate;
}

interface Memory {
  /** How often each bay had news. */
  readonly newsCounts: Map<string, number>;
  readonly held: Map<BatchId, Held>;
}

/** Below this age a reading is as good as a new one (design MODEL §5); from then on each minute makes a difference. */
const AGELESS_MAX_MIN = 20;

/** One for each shop, gone with it. */
const memories = new WeakMap<Shop, Memory>();

/** Notes that a bay's air has changed: whatever rests on it is void. */
export function noteNews(shop: Shop, bayId: string): void {
  const { newsCounts } = memoryOf(shop);
  newsCounts.set(bayId, (newsCounts.get(bayId) ?? 0) + 1);
}

/** Notes that something was learned of a product. */
export function noteLearned(shop: Shop, cardId: string): void {
  noteNews(shop, productName(cardId));
}

/** The news that there is now; to be asked for before any air is read. */
export function knownNews(shop: Shop): KnownNews {
  return new Map(memoryOf(shop).newsCounts);
}

/** What an estimate of this state would be now, when nothing that it rests on has changed; else null. */
export function findEstimate(shop: Shop, state: BatchState): Estimate | null {
  // A store in trouble is asked at each look, so that nobody is told that all is well by not asking.
  if (shop.troubles.has('ledger')) return null;
  const { held, newsCounts } = memoryOf(shop);
  const found = held.get(state.id);
  const nowAt = shop.clock.nowAt();
  if (found === undefined || nowAt > (found.untilAt ?? nowAt)) return null;
  if (found.basis !== basisOf(shop, state, newsCounts)) return null;
  return { ...found.estimate, computedAt: nowAt };
}

/** Holds an estimate that was made from a state and from air that was read after some news. */
export function holdEstimate(
  shop: Shop,
  state: BatchState,
  { estimate, bays, news }: { estimate: Estimate; bays: AirOfBays; news: KnownNews },
): void {
  const readings = [
    newestReading(state.stays, (bayId) => bays.airOf(bayId).air),
    newestReading(state.stays, (bayId) => bays.airOf(bayId).humidity),
  ].flatMap((reading) => reading?.at ?? []);
  if (readings.length === 0) return;
  const oldestAt = Math.min(...readings) as Instant;
  const untilAt = isTimeless(state, { estimate, newestAt: Math.max(...readings) as Instant })
    ? null
    : instantAfter(oldestAt, AGELESS_MAX_MIN);
  memoryOf(shop).held.set(state.id, { basis: basisOf(shop, state, news), untilAt, estimate });
}

/** Silence is doubted until the film should be ready and told until it is stale; past both nothing asks the time. */
function isTimeless(
  state: BatchState,
  { estimate, newestAt }: { estimate: Estimate; newestAt: Instant },
): boolean {
  const readyAt = instantAfterOrNull(state.mixedAt, estimate.expectedMin);
  const { computedAt } = estimate;
  return readyAt !== null && computedAt >= readyAt && computedAt > instantAfter(newestAt, FRESH_MAX_MIN);
}

/** Lets go of all but these batches. */
export function forgetEstimates(shop: Shop, kept: readonly BatchState[]): void {
  const { held } = memoryOf(shop);
  if (held.size <= kept.length) return;
  const keptIds = new Set(kept.map((state) => state.id));
  for (const batchId of held.keys()) if (!keptIds.has(batchId)) held.delete(batchId);
}

/** People's acts are counted by the version, time's by the stage; air by the news of the bays that it may come from. */
function basisOf(shop: Shop, state: BatchState, news: KnownNews): string {
  const yard = shop.facts.bays.find((bay) => bay.kind === 'yard');
  const bayIds = [...state.stays.map((stay) => stay.bayId), ...(yard === undefined ? [] : [yard.id])];
  const newsOf = (name: string): string => `${name} ${news.get(name) ?? 0}`;
  return [state.version, state.stage, ...bayIds.map(newsOf), newsOf(productName(state.cardId))].join();
}

/** A product among the bays that news is counted of: no bay's id has a blank. */
function productName(cardId: string): string {
  return `product ${cardId}`;
}

function memoryOf(shop: Shop): Memory {
  const known = memories.get(shop) ?? { newsCounts: new Map(), held: new Map() };
  memories.set(shop, known);
  return known;
}
