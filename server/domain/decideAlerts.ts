// Warnings of the whole shop: what has lasted long enough becomes a line, many of a kind become one line, what has ended goes.
// Pure: asked again after every look, it answers with facts, and with the next instant at which it may answer otherwise.
import type { Instant } from '../contract/index.ts';
import { evolveBook } from './alertBook.ts';
import { findCandidates, type SensorHeard, type ShopQuestion } from './alertCandidates.ts';
import { planLines } from './alertFolding.ts';
import { HOLDS } from './alertRules.ts';
import type { WarningKind } from './alertSigns.ts';
import type { FactDraft } from './facts.ts';
import { instantAfter } from './minutes.ts';

export interface AlertDecision {
  readonly facts: readonly FactDraft[];
  /** Null when only news can change anything. */
  readonly nextAt: Instant | null;
}

/** Decides which sensors are quiet or back, and which warnings come, grow, shrink and go. */
export function decideAlerts(question: ShopQuestion): AlertDecision {
  const heard = question.sensors.flatMap((sensor) => hearSensor(sensor, question));
  const asked = { ...question, book: heard.reduce(evolveBook, question.book) };
  const facts: FactDraft[] = [...heard];
  const turns: Instant[] = [...endsOf(asked)];
  for (const kind of WARNING_KINDS) {
    const fresh = findCandidates(kind, asked);
    const lines = planLines(kind, { ...asked, fresh });
    facts.push(...lines.facts);
    turns.push(...fresh.map(({ dueAt }) => dueAt), ...lines.turnsAt);
  }
  const later = turns.filter((turnAt) => turnAt > question.nowAt);
  return { facts, nextAt: later.length === 0 ? null : (Math.min(...later) as Instant) };
}

/** A sensor that said nothing for long is quiet; its first reading after that says that it is back. */
function hearSensor(sensor: SensorHeard, { book, nowAt, settings }: ShopQuestion): FactDraft[] {
  const { sensorId, bayId, heardAt, isRead } = sensor;
  const silence = book.silences[sensorId];
  const common = { version: 1, at: nowAt, by: null, batchId: null, bayId } as const;
  if (silence?.isQuiet === true) {
    // A silence from after now was noted before the clock was put back: whatever is read now came later.
    const isBack = isRead && (heardAt > silence.lastAt || silence.lastAt > nowAt);
    return isBack ? [{ type: 'SensorSeen', ...common, body: { sensorId } }] : [];
  }
  if (nowAt < instantAfter(heardAt, settings.sensorQuietMin)) return [];
  return [{ type: 'SensorQuiet', ...common, body: { sensorId, lastAt: heardAt } }];
}

/** When what is shown for a while, or held for a while, ends by itself. */
function endsOf({ book, batches }: ShopQuestion): Instant[] {
  const { raiseMin, withdrawMin } = HOLDS.sensorBack;
  const backs = Object.values(book.silences).flatMap(({ backAt }) =>
    backAt === null ? [] : [instantAfter(backAt, raiseMin + withdrawMin)],
  );
  const signs = batches.flatMap(({ watch }) =>
    SIGNS.flatMap((kind) => {
      const sign = watch?.signs[kind];
      return sign === undefined ? [] : [instantAfter(sign.sinceAt, HOLDS[kind].withdrawMin)];
    }),
  );
  return [...backs, ...signs];
}

const SIGNS = ['slowing', 'condensation', 'tooCold', 'tooHot'] as const;
const WARNING_KINDS: readonly WarningKind[] = ['waiting', ...SIGNS, 'sensorQuiet', 'sensorBack'];
