// Who mixes for which car next, and the body that a person then sends to the server.
import { isoFromInstant, isoFromInstantOrNull, type StartBatchWire } from '../../server/contract/index.ts';
import { airAround } from '../air/stepShop.ts';
import { makeBatchTruth } from '../film/batchTruth.ts';
import { productOnDay } from '../film/productOnDay.ts';
import { laterAt } from '../localDay.ts';
import { drawBetween, makeRandom } from '../random.ts';
import type { CoatPlan, PersonPlan, ProductPlan } from '../scenarios/scenario.ts';
import type { Act, Crew, CrewContext, JobProgress, OwnBatch, Task } from './crew.ts';
import { batchKeyOf, markedMixAt, MIX_COUNT_MAX } from './ownBatches.ts';
import type { Job } from './planDay.ts';

export interface Mixing {
  readonly batch: OwnBatch;
  readonly task: Task;
  readonly act: Act;
  readonly progress: JobProgress;
}

/** The mix that this person starts now, or null when no car of theirs is ready. */
export function decideNextMix(context: CrewContext, crew: Crew, person: PersonPlan): Mixing | null {
  const { scenario, day, shop } = context;
  const isTooLate = shop.at >= laterAt(day.midnightAt, scenario.hours.lastMixMin);
  if (isTooLate || crew.batches.length >= scenario.openBatchesMax) return null;
  const ready = context.plan.jobs
    .map((job) => ({ job, progress: crew.progress.get(job.key) ?? notBegun(job) }))
    .filter(({ job, progress }) => isReady(context, { crew, job, progress, person }))
    .toSorted((a, b) => a.progress.readyAt - b.progress.readyAt);
  const [next] = ready;
  return next === undefined ? null : mix(context, { ...next, person });
}

function notBegun(job: Job): JobProgress {
  return { bayId: job.car.bayId, coatIndex: 0, mixCount: 0, readyAt: job.mixAt, isClosed: false };
}

interface Chance {
  readonly crew: Crew;
  readonly job: Job;
  readonly progress: JobProgress;
  readonly person: PersonPlan;
}

function isReady({ shop }: CrewContext, { crew, job, progress, person }: Chance): boolean {
  if (progress.isClosed || progress.mixCount >= MIX_COUNT_MAX || shop.at < progress.readyAt) return false;
  if (job.car.coats[progress.coatIndex] === undefined) return false;
  if (crew.batches.some((batch) => batch.job.key === job.key)) return false;
  // A car that nobody came to for an hour has been done by other hands before this program looked.
  if (progress.mixCount === 0 && shop.at > laterAt(job.mixAt, 60)) return false;
  return job.car.initials === person.initials || shop.at > laterAt(progress.readyAt, 10);
}

function mix(context: CrewContext, { job, progress, person }: Omit<Chance, 'crew'>): Mixing | null {
  const { scenario, seed, shop } = context;
  const coat = job.car.coats[progress.coatIndex];
  const product = scenario.products.find((one) => one.cardId === coat?.cardId);
  if (coat === undefined || product === undefined) return null;
  const key = batchKeyOf({ repairOrder: job.key, mixCount: progress.mixCount });
  const mixedAt = markedMixAt(shop.at, { key, panel: job.car.panel });
  // Whoever forgot the hardener once does not forget it again.
  const mixed = progress.mixCount === progress.coatIndex ? coat : { ...coat, hardenerShare: 1 };
  const batch = makeOwnBatch(context, {
    key,
    job,
    coat: mixed,
    coatIndex: progress.coatIndex,
    bayId: progress.bayId,
    mixedAt,
    product,
    isWeighed: person.weighs,
  });
  const random = makeRandom(seed, `spread ${key}`);
  return {
    batch,
    task: {
      initials: person.initials,
      kind: 'spread',
      batchKey: key,
      untilAt: laterAt(mixedAt, drawBetween(random, SPREADING_MIN)),
    },
    act: { key, at: mixedAt, kind: 'start', body: bodyOf(context, { batch, coat, person }) },
    progress: { ...progress, mixCount: progress.mixCount + 1 },
  };
}

/** A fresh batch with its truth, as it stands in the air of its bay. */
export function makeOwnBatch(
  { scenario, seed, dayIndex, shop }: CrewContext,
  mixed: Pick<OwnBatch, 'key' | 'job' | 'coat' | 'coatIndex' | 'bayId' | 'mixedAt'> & {
    readonly product: ProductPlan;
    readonly isWeighed: boolean;
  },
): OwnBatch {
  const { product, isWeighed, ...known } = mixed;
  const around = airAround(shop, known.bayId);
  const room = shop.rooms.get(known.bayId);
  const truth = makeBatchTruth(
    {
      seed,
      name: mixed.key,
      product: productOnDay(product, dayIndex),
      coat: mixed.coat,
      substrate: known.job.car.substrate,
      isWeighed,
      relativeHumidityPct: around.relativeHumidityPct,
    },
    {
      airC: around.airC,
      bodyC: shop.carsC.get(mixed.job.key) ?? room?.bodyC ?? around.airC,
      isAirMoving: scenario.rooms.some((one) => one.bayId === known.bayId && one.isAirMoving),
    },
  );
  return { ...known, truth, ...NOTHING_SEEN };
}

function bodyOf(
  { shop }: CrewContext,
  { batch, coat, person }: { batch: OwnBatch; coat: CoatPlan; person: PersonPlan },
): StartBatchWire {
  const { job, mixedAt } = batch;
  const { car } = job;
  const promisedAt = isoFromInstantOrNull(job.promisedAt);
  const isStillCold = job.rolledInAt !== null && mixedAt < laterAt(job.rolledInAt, 180);
  return {
    cardId: coat.cardId,
    panel: car.panel,
    repairOrder: job.key,
    ...(promisedAt === null ? {} : { promisedAt }),
    ...(car.remainingWorkMin === null ? {} : { remainingWorkMin: car.remainingWorkMin }),
    bayId: batch.bayId,
    thicknessMm: coat.thicknessMm,
    substrate: car.substrate,
    weighed: person.weighs,
    underlayMm: coat.underlayMm,
    mixedAt: isoFromInstant(mixedAt),
    ...(isStillCold && job.rolledInAt !== null
      ? { rolledInAt: isoFromInstant(job.rolledInAt), outdoorTemperatureC: Math.round(shop.outdoor.airC) }
      : {}),
    by: person.initials,
  };
}

const SPREADING_MIN = [2, 3.4] as const;
const NOTHING_SEEN = {
  gumsCount: 0,
  hasForgottenGums: false,
  lastCheckAt: null,
  noticedAt: null,
  isLampDone: false,
  isMoveDone: false,
  isHopeless: false,
  isKnown: false,
  isTruthTold: false,
} as const;
