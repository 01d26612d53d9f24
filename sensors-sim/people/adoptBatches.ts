// Finds the batches that an earlier run of this program left open, so that a restart finishes what it began.
import { type BatchWire, type Instant, instantFromIso } from '../../server/contract/index.ts';
import { localDayOf } from '../localDay.ts';
import type { CarPlan, Scenario } from '../scenarios/scenario.ts';
import type { JobProgress, OwnBatch } from './crew.ts';
import { keyOfOwn } from './ownBatches.ts';
import { type Job, planDay } from './planDay.ts';

export interface Adopted {
  readonly isWeighed: boolean;
  readonly known: Omit<OwnBatch, 'truth'>;
  readonly progress: JobProgress;
}

export interface AdoptInputs {
  readonly scenario: Scenario;
  readonly seed: number;
  readonly timeZone: string;
  readonly nowAt: Instant;
}

/** The own ones among the open batches, without their truth, which grows again as the air is played back. */
export function adoptBatches(shown: readonly BatchWire[], inputs: AdoptInputs): Adopted[] {
  return shown.flatMap((batch) => {
    const key = keyOfOwn(batch);
    const mixedAt = instantFromIso(batch.mixedAt);
    const isKnownProduct = inputs.scenario.products.some(({ cardId }) => cardId === batch.cardId);
    if (key === null || mixedAt === null || mixedAt > inputs.nowAt || !isKnownProduct) return [];
    const job = jobOf(batch, mixedAt, inputs);
    const gums = batch.checks.filter(({ outcome }) => outcome === 'gums');
    const coatIndex = job.car.coats.findIndex(
      ({ cardId, thicknessMm }) => cardId === batch.cardId && thicknessMm === batch.thicknessMm,
    );
    const { cardId, thicknessMm, underlayMm } = batch;
    return [
      {
        isWeighed: batch.weighed,
        known: {
          key,
          job,
          coat: job.car.coats[coatIndex] ?? { cardId, thicknessMm, underlayMm, hardenerShare: 1 },
          coatIndex,
          bayId: batch.bayId,
          mixedAt,
          gumsCount: gums.length,
          hasForgottenGums: false,
          lastCheckAt: instantFromIso(batch.checks.at(-1)?.at ?? ''),
          noticedAt: null,
          isLampDone: batch.lamps.length > 0,
          isMoveDone: batch.bayId !== job.car.bayId,
          isHopeless: false,
          isKnown: true,
          isTruthTold: false,
        },
        progress: {
          bayId: batch.bayId,
          coatIndex,
          mixCount: Number(key.split('/')[1]) + 1,
          readyAt: mixedAt,
          isClosed: false,
        },
      },
    ];
  });
}

/** The job as planned for its day, or, when another seed planned it, a car with this one coat. */
function jobOf(batch: BatchWire, mixedAt: Instant, { scenario, seed, timeZone }: AdoptInputs): Job {
  const plan = planDay(scenario, { seed, day: localDayOf(mixedAt, timeZone) });
  const planned = plan.jobs.find((job) => job.key === batch.repairOrder && job.car.panel === batch.panel);
  if (planned !== undefined) return planned;
  const { panel, substrate, bayId, cardId, thicknessMm, underlayMm } = batch;
  const car: CarPlan = {
    panel,
    substrate,
    bayId,
    initials: batch.by ?? '',
    mixMin: 0,
    rolledInMin: null,
    promisedMin: null,
    remainingWorkMin: null,
    lamp: null,
    move: null,
    coats: [{ cardId, thicknessMm, underlayMm, hardenerShare: 1 }],
  };
  return { key: batch.repairOrder ?? '', car, mixAt: mixedAt, rolledInAt: null, promisedAt: null };
}
