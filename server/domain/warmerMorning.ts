// What if the bay had been warmer: the same batches solved again in air that heating had kept at a temperature, and how
// sure that is. Uncertain here are the product's time scale and its activation energy, as the shop has learned them.
import type { Instant } from '../contract/index.ts';
import {
  type CardConstants,
  type CardStatement,
  DEFAULT_WINDOW_PRIOR,
  type FilmJob,
  recalibrate,
  solveBatch,
  type WindowPrior,
} from '../engine/index.ts';
import type { AirPoint, BayAir } from './airSeries.ts';
import type { Card } from './card.ts';
import { measurementNear, pointsWithin } from './coldSignal.ts';
import type { AirOfBays } from './filmJob.ts';
import type { LearnedProduct } from './learned.ts';
import type { Span } from './localHours.ts';

/** One way the product may be, and how probable it is. */
export interface ProductNode {
  readonly card: CardStatement;
  readonly constants: CardConstants;
  readonly timeScale: number;
  readonly weight: number;
}

/** What a change takes away from one batch: at each node, and the product whose draw it shares. */
export interface TakenBatch {
  readonly cardId: string;
  /** What the cold cost it, of which something is taken. */
  readonly addedMin: number;
  /** Minutes by node, in the order of productNodes. */
  readonly takenMin: readonly number[];
}

export interface TakenRange {
  readonly p10Min: number;
  readonly p50Min: number;
  readonly p90Min: number;
}

/** A film that is not ready by then counts as ready then (design MODEL §1). */
const HORIZON_MIN = 720;
/** Gauss and Hermite with three points: exact for the mean and the spread of whatever bends no more than a cubic. */
const NODES: readonly { readonly z: number; readonly weight: number }[] = [
  { z: 0, weight: 2 / 3 },
  { z: -Math.sqrt(3), weight: 1 / 6 },
  { z: Math.sqrt(3), weight: 1 / 6 },
];
const ACTIVATION_MIN_KJ_PER_MOL = 5;
/** z of P90 on the standard normal scale. */
const P90_Z = 1.2816;

/** The nine ways a product may be, the most probable first. */
export function productNodes(card: Card, learned: LearnedProduct | null): ProductNode[] {
  const prior: WindowPrior = learned?.belief ?? DEFAULT_WINDOW_PRIOR;
  const meanKJPerMol = prior.activationMeanKJPerMol ?? card.activationKJPerMol;
  return NODES.flatMap((energy) => {
    const activationKJPerMol = Math.max(
      ACTIVATION_MIN_KJ_PER_MOL,
      meanKJPerMol + energy.z * prior.activationSdKJPerMol,
    );
    const varied = { ...card, activationKJPerMol };
    const constants = recalibrate(varied) ?? card.constants;
    const meanLog = prior.logTimeScale + energy.z * (prior.logTimeScaleTiltRatio ?? 0);
    return NODES.map(({ z, weight }) => ({
      card: varied,
      constants,
      timeScale: Math.exp(meanLog + z * prior.logTimeScaleSd),
      weight: weight * energy.weight,
    }));
  });
}

/** The product as it most probably is. */
export function likeliestNode(card: Card, learned: LearnedProduct | null): ProductNode {
  return productNodes(card, learned)[0] as ProductNode;
}

/** How many times as long the card's own film takes in still air that stays at a temperature. */
export function steadySlowdown(card: Card, node: ProductNode, airC: number): number {
  return testMinOf(node, steadyJob(card, airC)) / testMinOf(node, steadyJob(card, card.atC));
}

/** What the change takes from a batch's added minutes, at each node; the likeliest one starts from what was recorded. */
export function takenFrom({
  addedMin,
  card,
  nodes,
  before,
  after,
}: {
  readonly addedMin: number;
  readonly card: Card;
  readonly nodes: readonly ProductNode[];
  readonly before: FilmJob;
  readonly after: FilmJob;
}): number[] {
  const atCard = cardJob(before, card.atC);
  const solved = nodes.map((node) => {
    const cardMin = testMinOf(node, atCard);
    const added = (job: FilmJob): number => Math.max(0, testMinOf(node, job) - cardMin);
    const beforeMin = added(before);
    return { beforeMin, takenMin: beforeMin - added(after) };
  });
  const { beforeMin: likeliestMin } = solved[0] as (typeof solved)[number];
  return solved.map(({ takenMin }) => (likeliestMin === 0 ? 0 : (addedMin * takenMin) / likeliestMin));
}

/**
 * The sum over batches with its range: batches of one product share its draw, products are independent. The sum is
 * taken as lognormal with the mean and the spread that the nodes give, and no more can be taken than was added.
 */
export function takenRange(
  batches: readonly TakenBatch[],
  nodes: readonly Pick<ProductNode, 'weight'>[],
): TakenRange {
  let meanMin = 0;
  let variance = 0;
  for (const cardId of new Set(batches.map((batch) => batch.cardId))) {
    const own = batches.filter((batch) => batch.cardId === cardId);
    const sums = nodes.map((_, index) =>
      own.reduce((sum, { takenMin }) => sum + (takenMin[index] as number), 0),
    );
    const mean = nodes.reduce((sum, { weight }, index) => sum + weight * (sums[index] as number), 0);
    meanMin += mean;
    variance += nodes.reduce(
      (sum, { weight }, index) => sum + weight * ((sums[index] as number) - mean) ** 2,
      0,
    );
  }
  if (meanMin <= 0) return { p10Min: 0, p50Min: 0, p90Min: 0 };
  const logVariance = Math.log(1 + variance / meanMin ** 2);
  const p50Min = meanMin / Math.exp(logVariance / 2);
  const reach = Math.exp(P90_Z * Math.sqrt(logVariance));
  const wholeMin = batches.reduce((sum, { addedMin }) => sum + addedMin, 0);
  return {
    p10Min: Math.min(p50Min / reach, wholeMin),
    p50Min: Math.min(p50Min, wholeMin),
    p90Min: Math.min(p50Min * reach, wholeMin),
  };
}

/** The air of all bays with one of them kept at a temperature in some spells; elsewhere and otherwise as it was. */
export function heatBay(
  bays: AirOfBays,
  {
    bayId,
    spells,
    heatC,
  }: { readonly bayId: string; readonly spells: readonly Span[]; readonly heatC: number },
): AirOfBays {
  const known = bays.airOf(bayId);
  const heated: BayAir = { ...known, air: heatAir(known.air, { spells, heatC }) };
  return { ...bays, airOf: (id) => (id === bayId ? heated : bays.airOf(id)) };
}

/** Lifts the air to a temperature in some spells, as steps; where it was warmer it stays so. */
function heatAir(
  air: readonly AirPoint[],
  { spells, heatC }: { readonly spells: readonly Span[]; readonly heatC: number },
): AirPoint[] {
  const heated: AirPoint[] = [];
  let restAt = Number.NEGATIVE_INFINITY;
  const lift = ({ at, measurement }: AirPoint): AirPoint => ({
    at,
    measurement: Math.max(heatC, measurement),
  });
  for (const { fromAt, toAt } of spells) {
    const [startC, endC] = [measurementNear(air, fromAt), measurementNear(air, toAt)];
    heated.push(...pointsWithin(air, { fromAt: restAt as Instant, toAt: (fromAt - 1) as Instant }));
    if (startC !== null)
      heated.push(
        { at: fromAt, measurement: startC },
        lift({ at: (fromAt + 1) as Instant, measurement: startC }),
      );
    heated.push(
      ...pointsWithin(air, { fromAt: (fromAt + 2) as Instant, toAt: (toAt - 1) as Instant }).map(lift),
    );
    if (endC !== null)
      heated.push(lift({ at: toAt, measurement: endC }), { at: (toAt + 1) as Instant, measurement: endC });
    restAt = toAt + 2;
  }
  heated.push(...pointsWithin(air, { fromAt: restAt as Instant, toAt: Number.POSITIVE_INFINITY as Instant }));
  return heated;
}

function testMinOf(node: ProductNode, job: FilmJob): number {
  const { testMin } = solveBatch(node.card, node.constants, { ...job, timeScale: node.timeScale });
  return testMin ?? HORIZON_MIN;
}

/** The same film, hardener and panel with everything at the card's temperature (design MODEL §8). */
function cardJob({ substrate, thicknessMm, hardenerPct, underlayMm = 0 }: FilmJob, atC: number): FilmJob {
  return { substrate, thicknessMm, hardenerPct, underlayMm, airC: [[0, atC]], humidityPct: [[0, 50]] };
}

function steadyJob(card: Card, airC: number): FilmJob {
  return cardJob(
    {
      substrate: 'steel',
      thicknessMm: card.thicknessMm,
      hardenerPct: card.hardenerPct,
      airC: [],
      humidityPct: [],
    },
    airC,
  );
}
