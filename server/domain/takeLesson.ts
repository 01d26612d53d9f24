// What a batch that was closed by hand teaches: read once when it is closed, and kept as a fact.
import type { Instant } from '../contract/index.ts';
import { MODEL_VERSION, readLesson } from '../engine/index.ts';
import { doubtAir } from './airDoubt.ts';
import { isFresh } from './airSeries.ts';
import type { BatchState, Check } from './batch.ts';
import type { Card } from './card.ts';
import { foldBatch, undoneSequences } from './evolveBatch.ts';
import type { Fact, FactOf, FirstCheck, Lesson, LessonSeen } from './facts.ts';
import { type AirOfBays, filmJobFrom, type FilmQuestion, FRESH_MAX_MIN } from './filmJob.ts';
import { minutesBetween } from './minutes.ts';
import { probabilityAt } from './phase.ts';
import { uncertaintyOf } from './uncertainty.ts';

export interface LessonInputs {
  readonly card: Card;
  readonly bays: AirOfBays;
  /** All facts of the batch, the act that closed it among them. */
  readonly facts: readonly Fact[];
}

/** A batch that powders later than this waited for somebody, not for its film. */
const OVERNIGHT_MIN = 6 * 60;
/** The doubling rule (common practice, no source). */
const DOUBLING_K = 10;

/**
 * The lesson of a batch that has just been closed; null when nobody ever tested it, or when it powdered before it was
 * scrapped: then that has taught already, and its first check must not count twice.
 */
export function takeLesson(state: BatchState, inputs: LessonInputs): Lesson | null {
  if (state.stage === 'scrapped' && state.sandingAt !== null) return null;
  const checks = checksIn(inputs.facts);
  const first = checks[0];
  if (first === undefined) return null;
  const { card, bays } = inputs;
  // Sanding begins with a "powders".
  const closing = state.stage === 'scrapped' ? null : (checks.findLast(isPowders) as FactOf<'CheckRecorded'>);
  const film = filmJobFrom(state, bays, closing?.at ?? first.at);
  const whyNot = whyNotOf(state, { closing, film, bays });
  return {
    cardId: state.cardId,
    constants: card.constants,
    modelVersion: MODEL_VERSION,
    closingSequence: (closing ?? (inputs.facts.findLast(isScrap) as Fact)).sequence,
    seen:
      whyNot === null
        ? readSeen(state, closing as FactOf<'CheckRecorded'>, { ...inputs, film: film as FilmQuestion })
        : null,
    whyNot,
    firstCheck: firstCheckOf(first, inputs, film),
  };
}

function checksIn(facts: readonly Fact[]): FactOf<'CheckRecorded'>[] {
  const undone = undoneSequences(facts);
  return facts.filter(
    (fact): fact is FactOf<'CheckRecorded'> => fact.type === 'CheckRecorded' && !undone.has(fact.sequence),
  );
}

function isPowders({ body }: FactOf<'CheckRecorded'>): boolean {
  return body.outcome === 'powders';
}

function isScrap({ type }: Fact): boolean {
  return type === 'BatchScrapped';
}

function whyNotOf(
  state: BatchState,
  {
    closing,
    film,
    bays,
  }: { closing: FactOf<'CheckRecorded'> | null; film: FilmQuestion | null; bays: AirOfBays },
): Lesson['whyNot'] {
  if (closing === null) return 'scrapped';
  const { mixedAt, stays } = state;
  if (minutesBetween(mixedAt, closing.at) > OVERNIGHT_MIN || closing.at <= mixedAt) return 'overnight';
  if (film === null || !isFresh(film.newestReading, closing.at, FRESH_MAX_MIN)) return 'no-air';
  const { silentMaxMin } = doubtAir({ stays, mixedAt, nowAt: closing.at, readyAt: closing.at }, (bayId) =>
    bays.airOf(bayId),
  );
  return silentMaxMin > FRESH_MAX_MIN ? 'no-air' : null;
}

function readSeen(
  state: BatchState,
  closing: FactOf<'CheckRecorded'>,
  { card, bays, film }: LessonInputs & { film: FilmQuestion },
): LessonSeen {
  const { mixedAt, stays } = state;
  const before = (check: Check): boolean => check.at < closing.at && check.at > mixedAt;
  const gummed = state.checks.filter((check) => check.outcome === 'gums' && before(check));
  const gumsAt = gummed.length === 0 ? null : (Math.max(...gummed.map((check) => check.at)) as Instant);
  const alerted = state.alerts.find((alert) => alert.kind === 'test' && alert.raisedAt < closing.at);
  const alertAt = alerted?.raisedAt ?? null;
  const doubt = doubtAir({ stays, mixedAt, nowAt: closing.at, readyAt: closing.at }, (bayId) =>
    bays.airOf(bayId),
  );
  const instants = [gumsAt ?? closing.at, alertAt ?? closing.at, closing.at];
  const { logScales, withinLogSd } = readLesson(
    { card, constants: card.constants, job: film.job },
    instants.map((at) => minutesBetween(mixedAt, at)),
    uncertaintyOf(state, doubt),
  );
  const [gums, alert, check] = logScales as [readonly number[], readonly number[], readonly number[]];
  return {
    gumsLogScales: gumsAt === null ? null : gums,
    alertLogScales: alertAt === null ? null : alert,
    checkLogScales: check,
    withinLogSd,
    firstTry: closing.body.firstTry,
  };
}

/** What stood on the slip just before anyone touched the film. */
function firstCheckOf(
  first: FactOf<'CheckRecorded'>,
  { card, facts }: LessonInputs,
  film: FilmQuestion | null,
): FirstCheck {
  const before = foldBatch(facts.filter((fact) => fact.sequence < first.sequence)) as BatchState;
  const airStartC = film?.job.airC[0]?.[1] ?? null;
  return {
    atMin: minutesBetween(before.mixedAt, first.at),
    outcome: first.body.outcome,
    probability: probabilityAt(before, before.estimate, first.at),
    isCalled: before.alerts.some((alert) => alert.kind === 'test' && alert.raisedAt <= first.at),
    timerMin: card.sandMin,
    doublingMin: airStartC === null ? null : card.sandMin * 2 ** ((card.atC - airStartC) / DOUBLING_K),
  };
}
