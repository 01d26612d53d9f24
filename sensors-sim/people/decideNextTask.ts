// What a person with free hands does next: sand what powders, test what is due, lamp, move, and only then mix.
import { instantFromIso, MS_PER_MIN } from '../../server/contract/index.ts';
import { airAround } from '../air/stepShop.ts';
import { laterAt } from '../localDay.ts';
import { drawBetween, drawChance, drawNormal, makeRandom } from '../random.ts';
import type { PersonPlan } from '../scenarios/scenario.ts';
import type { Crew, CrewContext, OwnBatch, ShownBatch, Task } from './crew.ts';

/** The task that most needs this person, or null when nothing that is open needs anyone. */
export function decideNextTask(context: CrewContext, crew: Crew, person: PersonPlan): Task | null {
  const needs = crew.batches.flatMap((batch) => {
    const isTaken = crew.tasks.some((task) => task.batchKey === batch.key);
    const shown = context.view.batches.get(batch.key);
    if (isTaken || shown === undefined || context.view.pendingKeys.has(batch.key)) return [];
    const kind = needOf(context, { batch, shown, person });
    return kind === null ? [] : [{ batch, kind, isOwn: batch.job.car.initials === person.initials }];
  });
  const [first] = needs.toSorted(
    (a, b) =>
      URGENCY.indexOf(a.kind) - URGENCY.indexOf(b.kind) ||
      Number(b.isOwn) - Number(a.isOwn) ||
      a.batch.mixedAt - b.batch.mixedAt,
  );
  if (first === undefined) return null;
  const { batch, kind } = first;
  const random = makeRandom(context.seed, `${kind} ${batch.key} ${batch.gumsCount}`);
  const untilAt = laterAt(context.shop.at, drawBetween(random, LASTS_MIN[kind]));
  return { initials: person.initials, kind, batchKey: batch.key, untilAt };
}

interface Look {
  readonly batch: OwnBatch;
  readonly shown: ShownBatch;
  readonly person: PersonPlan;
}

function needOf(context: CrewContext, look: Look): Task['kind'] | null {
  const { batch, shown } = look;
  const { at } = context.shop;
  switch (shown.stage) {
    case 'sanding':
      return 'sand';
    case 'wet':
      return shown.spreadAt === null ? 'spread' : null;
    case 'kicked':
    case 'test': {
      if (isTestDue(context, look)) return 'test';
      const { lamp, move } = batch.job.car;
      const isLampCoat = lamp !== null && (batch.coatIndex === 0 || lamp.isEachCoat);
      if (isLampCoat && !batch.isLampDone && at >= laterAt(batch.mixedAt, lamp.afterMin)) return 'lamp';
      if (batch.coatIndex > 0) return null;
      if (move !== null && !batch.isMoveDone && at >= laterAt(batch.mixedAt, move.afterMin)) return 'move';
      return null;
    }
    case 'sanded':
    case 'scrapped':
      return null;
  }
}

/** People go some minutes after the screen says "test", a few a bit early, and by feeling when it says nothing. */
function isTestDue(context: CrewContext, look: Look): boolean {
  const { batch, shown, person } = look;
  const { at } = context.shop;
  const p50At = instantFromIso(shown.estimate?.test.p50At ?? '');
  if (batch.noticedAt === null && p50At === null) return isGuessedDue(context, look);
  const random = makeRandom(context.seed, `look ${batch.key} ${batch.gumsCount}`);
  const reactionMin = drawBetween(random, REACTION_MIN);
  const earlyShare = drawBetween(random, EARLY_SHARE);
  const isImpatient = drawChance(random, person.probabilityImpatient);
  if (batch.noticedAt !== null || p50At === null) {
    return at >= laterAt(batch.noticedAt ?? at, reactionMin);
  }
  const earlyAt = batch.mixedAt + earlyShare * (p50At - batch.mixedAt);
  return isImpatient && batch.lastCheckAt === null && at >= earlyAt;
}

/** Without a screen a person goes by the tin and the cold, each in their own way, and again some minutes after "gums". */
function isGuessedDue(context: CrewContext, { batch, person }: Look): boolean {
  const { at } = context.shop;
  const waitedMin = (at - batch.mixedAt) / MS_PER_MIN;
  const lampScale = batch.isLampDone ? context.scenario.lamp.guessScale : 1;
  const expectedMin = guessMin(context, batch) * person.guessScale * lampScale;
  if (waitedMin < expectedMin / 2) return false;
  const random = makeRandom(context.seed, `guess ${batch.key} ${batch.gumsCount} ${person.initials}`);
  const spreadRatio = Math.exp(person.guessSd * drawNormal(random));
  if (waitedMin < expectedMin * spreadRatio) return false;
  return batch.lastCheckAt === null || at >= laterAt(batch.lastCheckAt, drawBetween(random, person.againMin));
}

/** What an old hand would say without a screen: the tin, and twice as long for each ten degrees. */
export function guessMin({ scenario, shop }: CrewContext, batch: OwnBatch): number {
  const tinMin = scenario.products.find((product) => product.cardId === batch.coat.cardId)?.tinMin ?? 20;
  return tinMin * 2 ** ((20 - airAround(shop, batch.bayId).airC) / 10);
}

const URGENCY: readonly Task['kind'][] = ['sand', 'test', 'spread', 'lamp', 'move'];
const LASTS_MIN = {
  spread: [2, 3.4],
  test: [0.6, 1.2],
  sand: [6, 12],
  lamp: [1, 1.5],
  move: [3, 5],
} as const;
const REACTION_MIN = [0.3, 4.5] as const;
const EARLY_SHARE = [0.75, 0.95] as const;
