// Plain timers for what is not computed: primer, guide coat, one-part putty. They live on one device and nowhere else.
import { numberOf } from '../format/typedNumber.ts';

export interface PlainTimer {
  readonly id: string;
  readonly name: string;
  /** The shop whose clock it runs by: another one's clock may stand elsewhere. */
  readonly ledgerId: string;
  readonly startedAt: number;
  readonly endsAt: number;
  readonly isRung: boolean;
}

/** What is typed before a timer starts. */
export interface TimerDraft {
  readonly name: string;
  readonly minutes: string;
}

export interface TimerMistake {
  readonly path: 'name' | 'forMin';
  readonly kind: 'missing' | 'notNumber' | 'tooSmall' | 'tooLarge';
}

export const TIMER_MIN = { min: 1, max: 720 } as const;
const EXTEND_MIN = 5;
const NAME_CHARACTERS_MAX = 40;
/** A timer that ended so long ago is forgotten [min]. */
const FORGOTTEN_AFTER_MIN = 720;
const MS_PER_MIN = 60_000;

/** What is wrong with a draft, field by field. */
export function timerMistakesOf({ name, minutes }: TimerDraft): TimerMistake[] {
  const typedMin = numberOf(minutes);
  const mistakes: TimerMistake[] = name.trim() === '' ? [{ path: 'name', kind: 'missing' }] : [];
  if (typedMin === null) return [...mistakes, { path: 'forMin', kind: 'notNumber' }];
  if (typedMin < TIMER_MIN.min) return [...mistakes, { path: 'forMin', kind: 'tooSmall' }];
  if (typedMin > TIMER_MIN.max) return [...mistakes, { path: 'forMin', kind: 'tooLarge' }];
  return mistakes;
}

/** The timer of a draft without mistakes. */
export function timerOf(
  { name, minutes }: TimerDraft,
  { id, ledgerId, nowAt }: { readonly id: string; readonly ledgerId: string; readonly nowAt: number },
): PlainTimer {
  const endsAt = nowAt + (numberOf(minutes) ?? 0) * MS_PER_MIN;
  return {
    id,
    name: name.trim().slice(0, NAME_CHARACTERS_MAX),
    ledgerId,
    startedAt: nowAt,
    endsAt,
    isRung: false,
  };
}

/** Some minutes more: from its end, or from now where that has passed. */
export function extended(timer: PlainTimer, nowAt: number): PlainTimer {
  return { ...timer, endsAt: Math.max(timer.endsAt, nowAt) + EXTEND_MIN * MS_PER_MIN, isRung: false };
}

/** The timers with one of them as it is now, or without it. */
export function withTimer(
  timers: readonly PlainTimer[],
  id: string,
  timer: PlainTimer | null,
): readonly PlainTimer[] {
  const others = timers.filter((other) => other.id !== id);
  return timer === null ? others : [...others, timer];
}

/** Timers that have ended and not been rung for. */
export function dueTimers(timers: readonly PlainTimer[], nowAt: number): PlainTimer[] {
  return timers.filter((timer) => !timer.isRung && timer.endsAt <= nowAt);
}

/** The timers of a shop: those of another one, or long past, are left out. */
export function timersOf(
  timers: readonly PlainTimer[],
  { ledgerId, nowAt }: { readonly ledgerId: string; readonly nowAt: number },
): PlainTimer[] {
  return timers.filter(
    (timer) => timer.ledgerId === ledgerId && nowAt - timer.endsAt < FORGOTTEN_AFTER_MIN * MS_PER_MIN,
  );
}

/** Reads timers from a stored text; anything that is not one is left out. */
export function parseTimers(text: string | null): PlainTimer[] {
  if (text === null) return [];
  try {
    const value: unknown = JSON.parse(text);
    return Array.isArray(value) ? value.filter(isTimer) : [];
  } catch {
    return [];
  }
}

function isTimer(value: unknown): value is PlainTimer {
  if (typeof value !== 'object' || value === null) return false;
  const timer = value as Partial<PlainTimer>;
  return (
    typeof timer.id === 'string' &&
    typeof timer.name === 'string' &&
    typeof timer.ledgerId === 'string' &&
    Number.isFinite(timer.startedAt) &&
    Number.isFinite(timer.endsAt) &&
    typeof timer.isRung === 'boolean'
  );
}
