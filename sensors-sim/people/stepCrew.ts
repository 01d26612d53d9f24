// Ten seconds in the life of the crew: films ripen, tasks end, free hands take the next one.
import { type Instant, instantFromIso } from '../../server/contract/index.ts';
import { airAround, STEP_S } from '../air/stepShop.ts';
import { isPowdering, stepBatchTruth } from '../film/batchTruth.ts';
import { laterAt, minuteOfDay } from '../localDay.ts';
import { drawBetween, makeRandom } from '../random.ts';
import type { PersonPlan } from '../scenarios/scenario.ts';
import {
  type Crew,
  type CrewContext,
  type JobProgress,
  type OwnBatch,
  type Truth,
  withoutBatch,
  withProgress,
} from './crew.ts';
import { decideNextMix } from './decideNextMix.ts';
import { decideNextTask } from './decideNextTask.ts';
import { finishTask, type Outcome } from './finishTask.ts';

export interface Ripened {
  readonly crew: Crew;
  readonly truths: readonly Truth[];
}

/** The crew at the shop's instant, the acts that fall on it, and the true times that have come. */
export function stepCrew(context: CrewContext, before: Crew): Outcome & Ripened {
  if (!isManned(context) && before.batches.length + before.silent.length + before.tasks.length === 0) {
    return { crew: before, acts: [], truths: [] };
  }
  const { crew, truths } = ripenAll(context, seeScreen(context, before));
  let outcome: Outcome = { crew, acts: [] };
  for (const task of crew.tasks.filter(({ untilAt }) => untilAt <= context.shop.at)) {
    outcome = after(outcome, finishTask(context, outcome.crew, task));
  }
  // What has just been said is not on any screen yet.
  const pendingKeys = new Set([...context.view.pendingKeys, ...outcome.acts.map(({ key }) => key)]);
  const next = { ...context, view: { ...context.view, pendingKeys } };
  for (const person of context.scenario.crew) {
    if (isFree(next, outcome.crew, person)) outcome = after(outcome, takeNext(next, outcome.crew, person));
  }
  return { ...outcome, truths };
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
    if (batch.isKnown && batch.bayId === shown.bayId && batch.noticedAt === noticedAt) return soFar;
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
export function ripenAll(context: CrewContext, crew: Crew): Ripened {
  if (crew.batches.length + crew.silent.length === 0) return { crew, truths: [] };
  const truths: Truth[] = [];
  const tell = (batch: OwnBatch): OwnBatch => {
    const truth = truthOf(context, batch);
    if (truth === null) return batch;
    truths.push(truth);
    return { ...batch, isTruthTold: true };
  };
  const batches = crew.batches.map((one) => tell(ripen(context, one)));
  const silent = crew.silent.map((one) => tell(ripen(context, one))).filter((one) => !one.isTruthTold);
  return { crew: { ...crew, batches, silent }, truths };
}

/** The true time of a batch at the instant at which it comes, or at which it is given up. */
function truthOf({ shop }: CrewContext, batch: OwnBatch): Truth | null {
  if (batch.isTruthTold) return null;
  if (isPowdering(batch.truth)) return { batchKey: batch.key, readyAt: shop.at };
  return shop.at >= laterAt(batch.mixedAt, GIVEN_UP_MIN) ? { batchKey: batch.key, readyAt: null } : null;
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

/** Whether people are in the shop. */
function isManned({ day, shop, scenario, plan }: CrewContext): boolean {
  const minuteMin = minuteOfDay(day, shop.at);
  const { opensMin, closesMin } = scenario.hours;
  return plan.isOpen && minuteMin >= opensMin && minuteMin < closesMin;
}

function isFree(context: CrewContext, crew: Crew, person: PersonPlan): boolean {
  if (!isManned(context)) return false;
  const minuteMin = minuteOfDay(context.day, context.shop.at);
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

const GIVEN_UP_MIN = 12 * 60;
const CLEANING_MIN = [3, 8] as const;
