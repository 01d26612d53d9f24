// The people of the shop and the batches they started: who is busy with what, and what each batch really is.
import type { BatchCommandWire, BatchWire, Instant, StartBatchWire } from '../../server/contract/index.ts';
import type { Shop, ShopContext } from '../air/stepShop.ts';
import type { BatchTruth } from '../film/batchTruth.ts';
import type { CoatPlan } from '../scenarios/scenario.ts';
import type { Job } from './planDay.ts';

/** A batch that this simulator started; batches of others never get here. */
export interface OwnBatch {
  /** Names the mix for all days: repair order and how many mixes the car had before. */
  readonly key: string;
  readonly job: Job;
  readonly coat: CoatPlan;
  readonly coatIndex: number;
  readonly bayId: string;
  readonly mixedAt: Instant;
  readonly truth: BatchTruth;
  readonly gumsCount: number;
  readonly hasForgottenGums: boolean;
  readonly lastCheckAt: Instant | null;
  /** When the screen was first seen to say "test". */
  readonly noticedAt: Instant | null;
  readonly isLampDone: boolean;
  readonly isMoveDone: boolean;
  /** Given up: once the server has closed it, the same coat is mixed again. */
  readonly isHopeless: boolean;
  /** Whether the server has shown it among its open batches yet. */
  readonly isKnown: boolean;
  /** Whether it has powdered once, or was given up: its true time has been told. */
  readonly isTruthTold: boolean;
}

export interface JobProgress {
  /** Where the car stands now. */
  readonly bayId: string;
  readonly coatIndex: number;
  readonly mixCount: number;
  readonly readyAt: Instant;
  readonly isClosed: boolean;
}

export interface Task {
  readonly initials: string;
  readonly kind: 'spread' | 'test' | 'sand' | 'lamp' | 'move';
  readonly batchKey: string;
  readonly untilAt: Instant;
}

export interface Crew {
  readonly batches: readonly OwnBatch[];
  /** Closed ones whose film has not powdered yet: nobody sees them, but their true time is still to come. */
  readonly silent: readonly OwnBatch[];
  readonly tasks: readonly Task[];
  readonly progress: ReadonlyMap<string, JobProgress>;
}

/** What a person does at the server's HTTP door. */
export type Act = { readonly key: string; readonly at: Instant } & (
  | { readonly kind: 'start'; readonly body: StartBatchWire }
  | { readonly kind: 'command'; readonly body: BatchCommandWire }
);

/** When a batch powdered everywhere for the first time, as nobody in the shop knows it; null: not within 12 hours. */
export interface Truth {
  readonly batchKey: string;
  readonly readyAt: Instant | null;
}

/** What people look at of a batch. */
export type ShownBatch = Pick<BatchWire, 'stage' | 'bayId' | 'spreadAt' | 'lamps' | 'estimate'>;

/** What a screen, or an old hand's memory, last showed of own batches, by their keys. */
export interface PeopleView {
  readonly batches: ReadonlyMap<string, ShownBatch>;
  /** Own batches whose last act is still under way: what is shown of them is old. */
  readonly pendingKeys: ReadonlySet<string>;
}

/** What the server last showed. */
export interface ServerView extends PeopleView {
  readonly batches: ReadonlyMap<string, BatchWire>;
}

/** Everything a person may look at for a decision. */
export interface CrewContext extends ShopContext {
  readonly shop: Shop;
  readonly view: PeopleView;
}

export const NO_CREW: Crew = { batches: [], silent: [], tasks: [], progress: new Map() };

/** The crew with one batch changed. */
export function withBatch(crew: Crew, key: string, change: Partial<OwnBatch>): Crew {
  return { ...crew, batches: crew.batches.map((one) => (one.key === key ? { ...one, ...change } : one)) };
}

/** The crew with one car's progress set. */
export function withProgress(crew: Crew, jobKey: string, progress: JobProgress): Crew {
  return { ...crew, progress: new Map([...crew.progress, [jobKey, progress]]) };
}

/** The crew without a batch and without anyone working on it; its car goes on as told. */
export function withoutBatch(crew: Crew, batch: OwnBatch, next: Partial<JobProgress>): Crew {
  const before = crew.progress.get(batch.job.key);
  const rest = {
    ...crew,
    batches: crew.batches.filter((one) => one.key !== batch.key),
    silent: batch.isTruthTold ? crew.silent : [...crew.silent, batch],
    tasks: crew.tasks.filter((task) => task.batchKey !== batch.key),
  };
  return before === undefined ? rest : withProgress(rest, batch.job.key, { ...before, ...next });
}
