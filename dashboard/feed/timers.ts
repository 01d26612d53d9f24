// Plain timers: kept in this device's storage, shared by its open pages, and rung for when they end.
import { effect } from '@preact/signals';
import { $shownTimers } from '../state/computed.ts';
import { $nowAt, $timers, $words } from '../state/sources.ts';
import { dueTimers, parseTimers, withTimer } from '../state/timers.ts';
import { callOut } from './alarm.ts';

const STORAGE_KEY = 'sandby.timers';

/** Reads the timers, writes down every change, and rings for each once; one that ended while the page was closed rings then. */
export function startTimers(): void {
  $timers.value = parseTimers(localStorage.getItem(STORAGE_KEY));
  effect(() => localStorage.setItem(STORAGE_KEY, JSON.stringify($timers.value)));
  addEventListener('storage', ({ key, newValue }) => {
    if (key === STORAGE_KEY) $timers.value = parseTimers(newValue);
  });
  effect(() => {
    for (const timer of dueTimers($shownTimers.value, $nowAt.value)) {
      $timers.value = withTimer($timers.peek(), timer.id, { ...timer, isRung: true });
      callOut({ text: $words.peek().timer.upText(timer.name), tag: timer.id });
    }
  });
}
