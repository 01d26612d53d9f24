// Floor's sentences: what a promise has to spare, why it is in danger, what would help, and a row in words for readers.
import type { BatchWire, PlanEntryWire, PlanHelp } from '../../server/contract/index.ts';
import { formatClock, formatClockSpan, type Place } from './clock.ts';
import { formatLength } from './numbers.ts';
import { epochAt, MS_PER_MIN } from './phase.ts';
import type { Words } from './words.en.ts';

export type PromiseTone = 'spare' | 'soon' | 'stop';

/** What sentences of the plan need to know. */
export interface PlanNaming {
  readonly words: Words;
  readonly place: Place;
  readonly bayName: (bayId: string) => string;
  readonly lampName: (lampId: string) => string;
  readonly panelName: (batchId: string) => string;
}

/** A list that names and counts, so that its verb agrees. */
interface Counted {
  readonly names: string;
  readonly count: number;
}

const HOUR_MIN = 60;
const NAMED_COUNT_MAX = 2;

/** A duration people plan with, in whole minutes: "35 min", "2 h 10 min". */
export function formatDuration(durationMin: number, words: Words): string {
  const wholeMin = Math.max(0, Math.round(durationMin));
  const hourCount = Math.floor(wholeMin / HOUR_MIN);
  return words.floor.duration({ hourCount, minutes: wholeMin - hourCount * HOUR_MIN });
}

/** What the promise has to spare, or by how much it is missed; null without a promise or a time. */
export function formatSlack(
  { danger, slackMin, slackP90Min }: Pick<PlanEntryWire, 'danger' | 'slackMin' | 'slackP90Min'>,
  words: Words,
): { readonly text: string; readonly tone: PromiseTone } | null {
  if (slackMin === null || slackP90Min === null) return null;
  if (danger === null) return { text: words.floor.spare(formatDuration(slackMin, words)), tone: 'spare' };
  const duration = formatDuration(atLeastOne(danger.byMin), words);
  return danger.kind === 'tight'
    ? { text: words.floor.tight(duration), tone: 'soon' }
    : { text: words.floor.late(duration), tone: 'stop' };
}

/** Why a promise is in danger, in one sentence. */
export function formatDanger(entry: PlanEntryWire, { words, place }: PlanNaming): string | null {
  const promisedAt = epochAt(entry.promisedAt);
  if (entry.danger === null || promisedAt === null) return null;
  const duration = formatDuration(atLeastOne(entry.danger.byMin), words);
  const clock = formatClock(promisedAt, place);
  switch (entry.danger.kind) {
    case 'late':
      return words.floor.lateFor(duration, clock);
    case 'tight':
      return words.floor.tightFor(duration, clock);
    case 'hands':
      return words.floor.handsFor({ duration, clock, who: entry.by ?? words.floor.everyone });
  }
}

/** What would help, in one line. */
export function formatHelp(help: PlanHelp, naming: PlanNaming): string {
  const { words, place } = naming;
  const duration = formatDuration(help.gainMin, words);
  switch (help.kind) {
    case 'lamp': {
      const lamp = naming.lampName(help.lampId ?? '');
      if (help.distanceCm === undefined) return words.floor.lamp(lamp, duration);
      return words.floor.lampAt({ lamp, distance: formatLength(help.distanceCm, place), duration });
    }
    case 'warmBay':
      return words.floor.warmBay(naming.bayName(help.bayId ?? ''), duration);
    case 'hands': {
      const panels = namesOf(help.batchIds ?? [], naming);
      return help.gainMin < 1 ? words.floor.moreHandsNear(panels) : words.floor.moreHands(panels, duration);
    }
  }
}

/** When it needs someone: "now", "in 4 min", "waiting 3 min"; null where nobody can tell. */
export function formatNeedTime(entry: PlanEntryWire, nowAt: number, words: Words): string | null {
  const needAt = epochAt(entry.needAt);
  if (needAt === null) return null;
  const aheadMin = Math.ceil((needAt - nowAt) / MS_PER_MIN);
  if (aheadMin > 0) return words.floor.inMinutes(aheadMin);
  const sinceMin = Math.floor((nowAt - needAt) / MS_PER_MIN);
  return entry.need === 'waiting' && sinceMin > 0 ? words.floor.since(sinceMin) : words.floor.now;
}

/** The film of a row in words, for whoever cannot see the axis. */
export function describeFilm(
  batch: BatchWire,
  entry: PlanEntryWire | undefined,
  { words, place }: { readonly words: Words; readonly place: Place },
): string {
  const { floor } = words;
  const clockOf = (text: string | null | undefined): string | null => {
    const instantAt = epochAt(text);
    return instantAt === null ? null : formatClock(instantAt, place);
  };
  const build = clockOf(batch.estimate?.buildP50At);
  const edge = clockOf(batch.estimate?.edgeP50At);
  const promised = clockOf(batch.promisedAt);
  const done = clockOf(entry?.doneP50At);
  const likely = formatLikely(batch, words, place);
  const parts = [
    floor.mixedAt(clockOf(batch.mixedAt) ?? ''),
    likely,
    likely === null || build === null || edge === null ? null : floor.partsAt(build, edge),
    ...batch.checks.map(({ at, outcome }) => floor.checks[outcome](clockOf(at) ?? '')),
    promised === null ? null : floor.promise(promised),
    promised === null || done === null ? null : floor.doneAt(done),
  ];
  return parts.filter((part) => part !== null).join('; ');
}

/** "test likely 14:10–14:31"; null where no test is ahead. */
export function formatLikely(batch: BatchWire, words: Words, place: Place): string | null {
  const fromAt = epochAt(batch.estimate?.test.p10At);
  const untilAt = epochAt(batch.estimate?.test.p90At);
  if (fromAt === null || untilAt === null || batch.stage === 'sanding') return null;
  return words.floor.testLikely(formatClockSpan({ fromAt, untilAt }, place));
}

/** The first panels by name, the rest as a number. */
function namesOf(batchIds: readonly string[], { words, panelName }: PlanNaming): Counted {
  const moreCount = batchIds.length - NAMED_COUNT_MAX;
  const named = batchIds.slice(0, NAMED_COUNT_MAX).map((id) => panelName(id));
  const names =
    moreCount > 0 ? `${named.join(', ')} ${words.floor.planMore(moreCount)}` : named.join(words.floor.and);
  return { names, count: batchIds.length };
}

/** Less than a minute late is still late. */
function atLeastOne(durationMin: number): number {
  return Math.max(1, durationMin);
}
