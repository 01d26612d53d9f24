// A shop without any server, played day by day: yields what sensors said and people did, with the true times, in order.
import { type Instant, isoFromInstant, isoFromInstantOrNull } from '../../server/contract/index.ts';
import type { Reading } from '../air/sensor.ts';
import type { Act, Truth } from '../people/crew.ts';
import { type Play, startPlay, stepAir, stepPlay } from '../play.ts';
import type { PersonPlan, Scenario } from '../scenarios/scenario.ts';
import type { DiaryLine } from './diaryLine.ts';
import { type Memory, remember, viewFrom } from './oldHand.ts';

export interface DiaryInputs {
  readonly scenario: Scenario;
  readonly seed: number;
  readonly timeZone: string;
  readonly fromAt: Instant;
  /** Local days, the one of fromAt included. */
  readonly forDays: number;
  /** Days of air alone before the first mix; two when not told. */
  readonly quietDays?: number;
  /** What holds for everyone of the crew, instead of what the scenario says of each. */
  readonly peopleRules?: Partial<Omit<PersonPlan, 'initials'>>;
}

/** The lines of a diary, one by one, in time order. */
export function* playDiary(inputs: DiaryInputs): Generator<DiaryLine, void, undefined> {
  const { seed, timeZone, fromAt, forDays, quietDays = QUIET_DAYS } = inputs;
  const scenario = withRules(inputs);
  const started = startPlay({ scenario, seed, timeZone, nowAt: fromAt, shown: [], newestReadingAt: fromAt });
  let { play } = started;
  let memory: Memory = new Map();
  let waiting: readonly Dated[] = [];
  const labels = new Map<string, string>();
  // Whoever mixed last is known twelve hours later at the latest; nothing else is told after the last day.
  while (play.dayIndex < forDays || isAnyoneUntold(play)) {
    const isQuiet = play.dayIndex < quietDays;
    const next = isQuiet ? { ...stepAir(play), ...NOTHING } : stepPlay(play, viewFrom(memory, play.crew));
    play = next.play;
    memory = remember(memory, next.acts);
    const isOver = play.dayIndex >= forDays;
    const told = isOver ? { ...NOTHING, readings: [], truths: next.truths } : next;
    if (told.readings.length + told.acts.length + told.truths.length + waiting.length === 0) continue;
    const lines = [...waiting, ...datedLines(told, { play, labels })].toSorted((a, b) => a.at - b.at);
    waiting = lines.filter(({ at }) => at > play.shop.at);
    for (const { line } of lines.slice(0, lines.length - waiting.length)) yield line;
  }
  for (const { line } of waiting) yield line;
}

/** A line with its instant: a mix is begun a moment after the step that decided on it, and waits for the next. */
interface Dated {
  readonly at: Instant;
  readonly line: DiaryLine;
}

function datedLines(
  told: { readings: readonly Reading[]; acts: readonly Act[]; truths: readonly Truth[] },
  { play, labels }: { play: Play; labels: Map<string, string> },
): Dated[] {
  const readings = told.readings.map(({ at, ...said }): Dated => {
    return { at, line: { at: isoFromInstant(at), kind: 'reading', ...said } };
  });
  const acts = told.acts.map((act): Dated => {
    if (act.kind === 'start') labels.set(act.key, `b${labels.size + 1}`);
    const head = { at: isoFromInstant(act.at), kind: 'command', batch: labels.get(act.key) ?? '' } as const;
    const line =
      act.kind === 'start' ? { ...head, type: 'startBatch' as const, ...act.body } : { ...head, ...act.body };
    return { at: act.at, line: { ...line, at: head.at } };
  });
  const truths = told.truths.map(({ batchKey, readyAt }): Dated => {
    const at = readyAt ?? play.shop.at;
    const batch = labels.get(batchKey) ?? '';
    return {
      at,
      line: { at: isoFromInstant(at), kind: 'truth', batch, readyAt: isoFromInstantOrNull(readyAt) },
    };
  });
  return [...readings, ...truths, ...acts];
}

function isAnyoneUntold({ crew }: Play): boolean {
  return crew.silent.length > 0 || crew.batches.some(({ isTruthTold }) => !isTruthTold);
}

function withRules({ scenario, peopleRules = {} }: DiaryInputs): Scenario {
  return { ...scenario, crew: scenario.crew.map((person) => ({ ...person, ...peopleRules })) };
}

const QUIET_DAYS = 2;
const NOTHING: { acts: readonly Act[]; truths: readonly Truth[] } = { acts: [], truths: [] };
