// What comes of a task when its time is over: an act at the server, and what the person knows or does next.
import { type BatchCommandWire, type Instant, isoFromInstant } from '../../server/contract/index.ts';
import { isPowdering } from '../film/batchTruth.ts';
import { laterAt } from '../localDay.ts';
import { drawBetween, drawChance, drawNormal, makeRandom } from '../random.ts';
import { type Act, type Crew, type CrewContext, type OwnBatch, type Task, withBatch } from './crew.ts';
import { guessMin } from './decideNextTask.ts';

export interface Outcome {
  readonly crew: Crew;
  readonly acts: readonly Act[];
}

/** Ends one task. */
export function finishTask(context: CrewContext, crewBefore: Crew, task: Task): Outcome {
  const crew = { ...crewBefore, tasks: crewBefore.tasks.filter((one) => one !== task) };
  const batch = crew.batches.find((one) => one.key === task.batchKey);
  if (batch === undefined) return { crew, acts: [] };
  const stage = context.view.batches.get(batch.key)?.stage;
  const { lamp, move } = batch.job.car;
  const done = { context, crew, batch, task };
  switch (task.kind) {
    case 'spread':
      return say(done, { type: 'markSpread' });
    case 'test':
      // Somebody else may have answered meanwhile.
      return stage === 'sanding' ? { crew, acts: [] } : judge(done);
    case 'sand':
      // Somebody took "powders" back: it is to be tested again.
      return stage === 'kicked' || stage === 'test'
        ? { crew, acts: [] }
        : say(done, { type: 'finishSanding' });
    case 'lamp': {
      const after = withBatch(crew, batch.key, { isLampDone: true });
      const { lampId, distanceCm } = context.scenario.lamp;
      return say(
        { ...done, crew: after },
        { type: 'switchLamp', lampId, distanceCm, forMin: lamp?.forMin ?? 0 },
      );
    }
    case 'move': {
      const bayId = move?.bayId ?? batch.bayId;
      return say(
        { ...done, crew: withBatch(crew, batch.key, { isMoveDone: true, bayId }) },
        { type: 'moveToBay', bayId },
      );
    }
  }
}

interface Done {
  readonly context: CrewContext;
  readonly crew: Crew;
  readonly batch: OwnBatch;
  readonly task: Task;
}

function say({ crew, batch, task }: Done, command: BatchCommandWire): Outcome {
  const at = Math.max(task.untilAt, batch.mixedAt) as Instant;
  const body = { ...command, at: isoFromInstant(at), by: task.initials };
  return { crew, acts: [{ key: batch.key, at, kind: 'command', body }] };
}

/** The paper tells: the true film, felt by a thumb that is a little off and now and then plainly wrong. */
function judge(done: Done): Outcome {
  const { context, crew, batch, task } = done;
  const random = makeRandom(context.seed, `thumb ${batch.key} ${batch.gumsCount} ${task.initials}`);
  const person = context.scenario.crew.find((one) => one.initials === task.initials);
  const feltRatio = Math.exp((person?.thumbSd ?? 0) * drawNormal(random));
  const isMistaken = drawChance(random, PROBABILITY_MISTAKEN);
  const powders = isPowdering(batch.truth, feltRatio) !== isMistaken;
  const seen = { lastCheckAt: task.untilAt, noticedAt: null };
  if (powders)
    return startSanding(
      { ...done, crew: withBatch(crew, batch.key, seen) },
      drawBetween(random, SANDING_MIN),
    );
  const waitedMin = (task.untilAt - batch.mixedAt) / 60_000;
  if (batch.gumsCount >= 2 && waitedMin > context.scenario.hopelessRatio * guessMin(context, batch)) {
    return say({ ...done, crew: withBatch(crew, batch.key, { isHopeless: true }) }, { type: 'scrap' });
  }
  const forgets = drawChance(random, person?.probabilityForgetsGums ?? 0);
  const change = {
    ...seen,
    gumsCount: batch.gumsCount + 1,
    hasForgottenGums: batch.hasForgottenGums || forgets,
    // Who said nothing comes back by the old screen, a while later.
    noticedAt: forgets ? laterAt(task.untilAt, COMES_BACK_MIN) : null,
  };
  const after = withBatch(crew, batch.key, change);
  return forgets
    ? { crew: after, acts: [] }
    : say({ ...done, crew: after }, { type: 'recordCheck', outcome: 'gums' });
}

function startSanding(done: Done, lastsMin: number): Outcome {
  const { crew, batch, task } = done;
  const sanding: Task = { ...task, kind: 'sand', untilAt: laterAt(task.untilAt, lastsMin) };
  return say(
    { ...done, crew: { ...crew, tasks: [...crew.tasks, sanding] } },
    { type: 'recordCheck', outcome: 'powders', firstTry: batch.gumsCount === 0 },
  );
}

const PROBABILITY_MISTAKEN = 0.02;
const SANDING_MIN = [6, 12] as const;
const COMES_BACK_MIN = 4;
