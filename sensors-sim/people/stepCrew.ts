// Ten seconds in the life of the crew: films ripen, tasks end, free hands take the next one.
import { type Instant, instantFromIso } from '../../server/contract/index.ts';
import { airAround, STEP_S } from '../air/stepShop.ts';
import { stepBatchTruth } from '../film/batchTruth.ts';
import { laterAt, minuteOfDay } from '../localDay.ts';
import { drawBetween, makeRandom } from '../random.ts';
import type { PersonPlan } from '../scenarios/scenario.ts';
import {
  type Crew,
  type CrewContext,
  type JobProgress,
  type OwnBatch,
  withoutBatch,
  withProgress,
} from './crew.ts';
import { decideNextMix } from './decideNextMix.ts';
import { decideNextTask } from './decideNextTask.ts';
import { finishTask, type Outcome } from './finishTask.ts';

/** The crew at the shop's instant, and the acts that fall on it. */
export function stepCrew(context: CrewContext, before: Crew): Outcome {
  const seen = seeScreen(context, before);
  let outcome: Outcome = { crew: ripenAll(context, seen), acts: [] };
  for (const task of seen.tasks.filter(({ untilAt }) => untilAt <= context.shop.at)) {
    outcome = after(outcome, finishTask(context, outcome.crew, task));
  }
  // What has just been said is not on any screen yet.
  const pendingKeys = new Set([...context.view.pendingKeys, ...outcome.acts.map(({ key }) => key)]);
  const next = { ...context, view: { ...context.view, pendingKeys } };
  for (const person of context.scenario.crew) {
    if (isFree(next, outcome.crew, person)) outcome = after(outcome, takeNext(next, outcome.crew, person));
  }
  return outcome;
}

function after(first: Outcome, second: Outcome): Outcome {
  return { crew: second.crew, acts: [...first.acts, ...second.acts] };
}

/** Takes over what the server shows: what is gone was closed by someone, what is new to test is noticed. */
function seeScreen(context: CrewContext, crew: Crew): Crew {
  const { view, shop } = context;
  return crew.batches.reduce((soFar, batch) => {
    if (view.pendingKeys.has(batch.key)) return soFar;
    const shown = view.batches.get(batch.key);
    if (shown === undefined) {
      return batch.isKnown ? withoutBatch(soFar, batch, nextCoat(context, batch)) : soFar;
    }
    const noticedAt = shown.stage === 'test' ? (batch.noticedAt ?? shop.at) : batch.noticedAt;
    const batches = soFar.batches.map((one) =>
      one.key === batch.key ? { ...one, isKnown: true, bayId: shown.bayId, noticedAt } : one,
    );
    return { ...soFar, batches };
  }, crew);
}

/** After sanding the car is blown off and gets its next coat, if it has one; after scrapping the same coat again. */
function nextCoat({ seed, shop }: CrewContext, batch: OwnBatch): Partial<JobProgress> {
  const coatIndex = batch.isHopeless ? batch.coatIndex : batch.coatIndex + 1;
  const cleaningMin = drawBetween(makeRandom(seed, `clean ${batch.key}`), CLEANING_MIN);
  return {
    bayId: batch.bayId,
    coatIndex,
    readyAt: laterAt(shop.at, cleaningMin),
    isClosed: batch.job.car.coats[coatIndex] === undefined,
  };
}

/** Lets every film ripen, whatever the people do. */
export function ripenAll(context: CrewContext, crew: Crew): Crew {
  return { ...crew, batches: crew.batches.map((one) => ripen(context, one)) };
}

function ripen(context: CrewContext, batch: OwnBatch): OwnBatch {
  const { shop, scenario } = context;
  if (shop.at <= batch.mixedAt) return batch;
  const { airC } = airAround(shop, batch.bayId);
  const isAirMoving = scenario.rooms.some((one) => one.bayId === batch.bayId && one.isAirMoving);
  const lampWPerM2 = lampOn(context, batch);
  return { ...batch, truth: stepBatchTruth(batch.truth, { airC, isAirMoving, lampWPerM2, stepS: STEP_S }) };
}

/** What lamps give this film now, by the spells that the server knows of. */
function lampOn({ shop, scenario, view }: CrewContext, batch: OwnBatch): number {
  const { distanceCm, absorbedWPerM2 } = scenario.lamp;
  const isOn = (fromAt: Instant | null, untilAt: Instant | null): boolean =>
    fromAt !== null && untilAt !== null && fromAt <= shop.at && shop.at < untilAt;
  return (view.batches.get(batch.key)?.lamps ?? [])
    .filter((spell) => isOn(instantFromIso(spell.fromAt), instantFromIso(spell.untilAt)))
    .reduce((sum, spell) => sum + absorbedWPerM2 * (distanceCm / (spell.distanceCm ?? distanceCm)) ** 1.5, 0);
}

function isFree({ day, shop, scenario }: CrewContext, crew: Crew, person: PersonPlan): boolean {
  const minuteMin = minuteOfDay(day, shop.at);
  const { opensMin, closesMin } = scenario.hours;
  if (minuteMin < opensMin || minuteMin >= closesMin) return false;
  if (person.breaksMin.some(([from, until]) => minuteMin >= from && minuteMin < until)) return false;
  return !crew.tasks.some((task) => task.initials === person.initials);
}

function takeNext(context: CrewContext, crew: Crew, person: PersonPlan): Outcome {
  const task = decideNextTask(context, crew, person);
  if (task !== null) return { crew: { ...crew, tasks: [...crew.tasks, task] }, acts: [] };
  const mixing = decideNextMix(context, crew, person);
  if (mixing === null) return { crew, acts: [] };
  const { batch, act, progress } = mixing;
  const begun = { ...crew, batches: [...crew.batches, batch], tasks: [...crew.tasks, mixing.task] };
  return { crew: withProgress(begun, batch.job.key, progress), acts: [act] };
}

const CLEANING_MIN = [3, 8] as const;
