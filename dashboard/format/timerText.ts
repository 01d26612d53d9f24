// What a plain timer says: to the second, since nothing in it is estimated.
import { formatMinutesSeconds } from './clock.ts';
import type { Countdown } from './countdown.ts';
import { MS_PER_MIN } from './phase.ts';
import type { Words } from './words.en.ts';

export interface TimerSpan {
  readonly startedAt: number;
  readonly endsAt: number;
}

export interface TimerMoment {
  readonly words: Words;
  readonly nowAt: number;
}

/** The countdown of a timer in the parts that a slip sets in different sizes. */
export function formatTimer({ startedAt, endsAt }: TimerSpan, { words, nowAt }: TimerMoment): Countdown {
  const { timer } = words;
  // The clock's last tick may lie before the start.
  const remainingS = Math.ceil((endsAt - Math.max(nowAt, startedAt)) / 1000);
  if (remainingS > 0) {
    return { lead: timer.lead, figure: formatMinutesSeconds(remainingS), unit: '', tail: '' };
  }
  const tail = timer.upFor(Math.floor((nowAt - endsAt) / MS_PER_MIN));
  return { lead: '', figure: timer.up, unit: '', tail };
}

/** The same as one line, for the title: "ends in 4:32". */
export function formatTimerText(span: TimerSpan, moment: TimerMoment): string {
  const { lead, figure } = formatTimer(span, moment);
  return [lead, figure].filter((text) => text !== '').join(' ');
}

/** How much of a timer has passed, 0…1. */
export function passedFraction({ startedAt, endsAt }: TimerSpan, nowAt: number): number {
  return endsAt <= startedAt ? 1 : Math.min(1, Math.max(0, (nowAt - startedAt) / (endsAt - startedAt)));
}
