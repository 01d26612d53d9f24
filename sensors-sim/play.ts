// The play: shop, weather and crew moved on in steps of ten seconds. It knows neither network nor machine clock.
import { type BatchWire, type Instant, MS_PER_MIN } from '../server/contract/index.ts';
import type { Reading } from './air/sensor.ts';
import { makeShop, readingsOf, type Shop, STEP_S, stepShop } from './air/stepShop.ts';
import { instantOfDay, laterAt, type LocalDay, localDayOf } from './localDay.ts';
import { type Adopted, adoptBatches } from './people/adoptBatches.ts';
import {
  type Act,
  type Crew,
  NO_CREW,
  type PeopleView,
  type ServerView,
  type Truth,
  withProgress,
} from './people/crew.ts';
import { makeOwnBatch } from './people/decideNextMix.ts';
import { type DayPlan, planDay } from './people/planDay.ts';
import { ripenAll, stepCrew } from './people/stepCrew.ts';
import type { Scenario } from './scenarios/scenario.ts';

export interface Play {
  readonly scenario: Scenario;
  readonly seed: number;
  readonly timeZone: string;
  readonly day: LocalDay;
  /** Days since the play began. */
  readonly dayIndex: number;
  readonly plan: DayPlan;
  readonly shop: Shop;
  readonly crew: Crew;
}

export interface Progress {
  readonly play: Play;
  readonly readings: readonly Reading[];
  readonly acts: readonly Act[];
  /** True times of own batches, each told once, closed or not. */
  readonly truths: readonly Truth[];
}

export interface StartInputs {
  readonly scenario: Scenario;
  readonly seed: number;
  readonly timeZone: string;
  readonly nowAt: Instant;
  /** What the server shows as open; own batches among them are taken up again. */
  readonly shown: readonly BatchWire[];
  /** Newest reading that the server has; null when it has none. */
  readonly newestReadingAt: Instant | null;
}

/** Ten seconds more. */
export function stepPlay(before: Play, view: PeopleView): Progress {
  const { play, readings } = stepAir(before);
  const { crew, acts, truths } = stepCrew({ ...play, view }, play.crew);
  return { play: { ...play, crew }, readings, acts, truths };
}

/** A play that has caught up with now, with the readings that charts miss and the acts of the last minutes. */
export function startPlay(inputs: StartInputs): Progress {
  const { scenario, seed, timeZone, nowAt, newestReadingAt } = inputs;
  const day = localDayOf(laterAt(nowAt, -SETTLE_MIN), timeZone);
  const shop = makeShop({ scenario, seed, day }, day.midnightAt);
  let play: Play = {
    scenario,
    seed,
    timeZone,
    day,
    dayIndex: localDayOf(nowAt, timeZone).date === day.date ? 0 : -1,
    plan: planDay(scenario, { seed, day }),
    shop,
    crew: NO_CREW,
  };
  const adopted = adoptBatches(inputs.shown, inputs);
  const isSilent = newestReadingAt === null || newestReadingAt < laterAt(nowAt, -SILENT_MIN);
  const isFirstStart = isSilent && adopted.length === 0;
  const readingsFromAt = Math.max(laterAt(nowAt, -PREFILL_MIN), newestReadingAt ?? 0);
  const crewFromAt = isFirstStart ? laterAt(nowAt, -CREW_BACK_MIN) : nowAt;
  const readings: Reading[] = [];
  const acts: Act[] = [];
  const truths: Truth[] = [];
  const view = viewOf(adopted, inputs.shown);
  while (laterAt(play.shop.at, STEP_S / 60) <= nowAt) {
    const step = stepAir(play);
    play = takeUp(step.play, adopted);
    readings.push(...step.readings.filter((reading) => isWorthKeeping(reading, { readingsFromAt, nowAt })));
    if (play.shop.at <= crewFromAt) {
      const ripened = ripenAll({ ...play, view }, play.crew);
      truths.push(...ripened.truths);
      play = { ...play, crew: ripened.crew };
      continue;
    }
    const stepped = stepCrew({ ...play, view }, play.crew);
    acts.push(...stepped.acts);
    truths.push(...stepped.truths);
    play = { ...play, crew: stepped.crew };
  }
  return { play: isFirstStart ? play : closeMissed(play, nowAt), readings, acts, truths };
}

/** Ten seconds more of air, with nobody at work. */
export function stepAir(play: Play): { play: Play; readings: readonly Reading[] } {
  const nextAt = laterAt(play.shop.at, STEP_S / 60);
  const day = dayAfter(play, nextAt);
  const isNewDay = day !== play.day;
  const plan = isNewDay ? planDay(play.scenario, { seed: play.seed, day }) : play.plan;
  const crew = isNewDay ? forgetClosed(play.crew) : play.crew;
  const dayIndex = play.dayIndex + (isNewDay ? 1 : 0);
  const today = { ...play, day, dayIndex, plan, crew };
  const shop = stepShop(today, play.shop);
  return { play: { ...today, shop }, readings: readingsOf(today, shop) };
}

/** The day of the next step; the calendar is only asked near midnight, at the quarters of an hour that it can be at. */
function dayAfter({ day, timeZone }: Play, nextAt: Instant): LocalDay {
  if (nextAt < instantOfDay(day, 23 * 60) || nextAt % QUARTER_MS >= STEP_S * 1000) return day;
  const found = localDayOf(nextAt, timeZone);
  return found.date === day.date ? day : found;
}

function forgetClosed(crew: Crew): Crew {
  const open = new Set(crew.batches.map((batch) => batch.job.key));
  return { ...crew, progress: new Map([...crew.progress].filter(([jobKey]) => open.has(jobKey))) };
}

/** Adopted batches begin at their mixing, or with the play when they are older. */
function takeUp(play: Play, adopted: readonly Adopted[]): Play {
  const { shop } = play;
  return adopted
    .filter(
      ({ known }) => known.mixedAt <= shop.at && !play.crew.batches.some(({ key }) => key === known.key),
    )
    .reduce((soFar, { known, progress, isWeighed }) => {
      const product = play.scenario.products.find(({ cardId }) => cardId === known.coat.cardId);
      if (product === undefined) return soFar;
      const view = { batches: new Map<string, BatchWire>(), pendingKeys: new Set<string>() };
      const batch = { ...makeOwnBatch({ ...play, view }, { ...known, product, isWeighed }), ...known };
      const crew = { ...soFar.crew, batches: [...soFar.crew.batches, batch] };
      return { ...soFar, crew: withProgress(crew, known.job.key, progress) };
    }, play);
}

function viewOf(adopted: readonly Adopted[], shown: readonly BatchWire[]): ServerView {
  const batches = new Map(
    adopted.flatMap(({ known }) => {
      const batch = shown.find(
        (one) => one.repairOrder === known.job.key && one.panel === known.job.car.panel,
      );
      return batch === undefined ? [] : [[known.key, batch] as const];
    }),
  );
  return { batches, pendingKeys: new Set() };
}

/** Old readings thin out to one in two minutes; the last minutes are kept as they were spoken. */
function isWorthKeeping(
  { at }: Reading,
  { readingsFromAt, nowAt }: { readingsFromAt: number; nowAt: Instant },
): boolean {
  if (at <= readingsFromAt) return false;
  return at > laterAt(nowAt, -10) || Math.floor(at / 30_000) % 4 === 0;
}

/** After a restart, cars whose time is past were seen to by the run before. */
function closeMissed(play: Play, nowAt: Instant): Play {
  const missed = play.plan.jobs.filter((job) => job.mixAt < nowAt && !play.crew.progress.has(job.key));
  const closed = { coatIndex: 0, mixCount: 0, readyAt: nowAt, isClosed: true };
  return {
    ...play,
    crew: missed.reduce(
      (crew, job) => withProgress(crew, job.key, { ...closed, bayId: job.car.bayId }),
      play.crew,
    ),
  };
}

/** Walls and cars have forgotten their invented start by then. */
const SETTLE_MIN = 24 * 60;
/** A shop that was silent for so long has no run before this one to respect. */
const SILENT_MIN = 30;
const QUARTER_MS = 15 * MS_PER_MIN;
const PREFILL_MIN = 6 * 60;
/** On a first start people have been at work for so long already. */
const CREW_BACK_MIN = 12;
