// What people do with plain timers: start, extend, stop, and take that back.
import { readShopNow } from '../feed/clock.ts';
import { makeKey } from '../feed/makeKey.ts';
import { isLoneTap } from '../feed/tapGuard.ts';
import { showToast } from '../feed/toast.ts';
import { $dialog, $live, $timers, $toast, $words, type Toast } from '../state/sources.ts';
import {
  extended,
  type PlainTimer,
  type TimerDraft,
  timerMistakesOf,
  timerOf,
  withTimer,
} from '../state/timers.ts';

/** Starts a timer and closes its sheet; false when the draft has mistakes. */
export function startTimer(draft: TimerDraft): boolean {
  const { ledgerId } = $live.peek() ?? {};
  if (ledgerId === undefined || timerMistakesOf(draft).length > 0) return false;
  const timer = timerOf(draft, { id: makeKey(), ledgerId, nowAt: readShopNow() });
  change({ id: timer.id, timer, before: null, text: $words.peek().timer.started(timer.name) });
  $dialog.value = null;
  return true;
}

/** Five minutes more. */
export function extendTimer(timer: PlainTimer): void {
  if (!isLoneTap()) return;
  const { timer: words } = $words.peek();
  const longer = extended(timer, readShopNow());
  change({ id: timer.id, timer: longer, before: timer, text: words.extended(timer.name) });
}

/** Ends a timer, whether its time is up or not. */
export function stopTimer(timer: PlainTimer): void {
  if (!isLoneTap()) return;
  change({ id: timer.id, timer: null, before: timer, text: $words.peek().timer.stopped(timer.name) });
}

/** Puts a timer back as it was. */
export function undoTimer({ id, before }: NonNullable<Toast['undoTimer']>): void {
  $toast.value = null;
  $timers.value = withTimer($timers.peek(), id, before);
}

interface TimerChange {
  readonly id: string;
  readonly timer: PlainTimer | null;
  readonly before: PlainTimer | null;
  readonly text: string;
}

function change({ id, timer, before, text }: TimerChange): void {
  $timers.value = withTimer($timers.peek(), id, timer);
  showToast({ text, undo: null, undoTimer: { id, before } });
}
