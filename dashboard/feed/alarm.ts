// The alarm of this device: sound, vibration and, where the browser allows it, a notification.
import { effect } from '@preact/signals';
import type { AlertWire } from '../../server/contract/index.ts';
import { alertText } from '../format/alertText.ts';
import { $alerts, $isSounding, $news, $ringing } from '../state/alerts.ts';
import { isCall } from '../state/alertsFor.ts';
import { $device } from '../state/device.ts';
import { $isWall } from '../state/floor.ts';
import { $alarm, $live, $words } from '../state/sources.ts';
import { planRings, type Ring, type RingMemory, ringOf, SILENCE } from './alarmPlan.ts';
import { askToNotify, closeNotices, notifyAbilityNow, showNotice } from './notify.ts';
import { playRings, soundNow, unlockSound } from './sound.ts';

/** Open alerts as they were at the last look; null before the first, which is shown silently. */
let seenIds: ReadonlySet<string> | null = null;
let memory: RingMemory = SILENCE;
let timer: ReturnType<typeof setTimeout> | undefined;

/** Rings on every alert that was not there before and is meant for this device. */
export function startAlarm(): void {
  readAbilities();
  // A click, not the press before it: what goes away with the lock must not move the page under a finger.
  for (const name of ['click', 'keydown']) addEventListener(name, unlockIfLocked, { capture: true });
  document.addEventListener('visibilitychange', readAbilities);
  effect(() => {
    const live = $live.value;
    if (live !== null) lookAt(live.alerts);
  });
  effect(() => {
    // A wall may have been started with leave to make sounds: nobody ever taps it.
    if ($isWall.value) void unlockAlarm();
  });
}

/** Lets the page make sound; browsers allow it only from a person's tap. */
export async function unlockAlarm(): Promise<void> {
  try {
    await unlockSound(readAbilities);
  } catch {
    // The device has nothing to play it with; it goes on being told as locked.
  }
}

/** Plays the alarm once, muted or not, so that people know it. */
export async function tryAlarm(): Promise<void> {
  vibrate('test');
  await unlockAlarm();
  playRings(['test']);
}

/** Asks the browser for notifications. */
export async function askForNotifications(): Promise<void> {
  await askToNotify();
  readAbilities();
}

function readAbilities(): void {
  $alarm.value = { sound: soundNow(), notifications: notifyAbilityNow() };
}

function unlockIfLocked(): void {
  if ($alarm.peek().sound === 'locked') void unlockAlarm();
}

/** Rings for what no alert of the shop stands for: a plain timer of this device. */
export function callOut({ text, tag }: { readonly text: string; readonly tag: string }): void {
  makeNoise(['timer']);
  if ($alarm.peek().notifications !== 'on' || document.visibilityState !== 'hidden') return;
  void showNotice({ id: tag, text, language: $words.peek().language, isCall: true });
}

/** Alerts of other screens count as seen: a way there must not ring for what is old. */
function lookAt(open: readonly AlertWire[]): void {
  const openIds = new Set(open.map(({ id }) => id));
  const before = seenIds;
  seenIds = openIds;
  closeOver(before, openIds);
  if (before === null) return;
  const isFresh = ({ id }: AlertWire): boolean => !before.has(id);
  const news = $alerts.peek().filter(isFresh);
  if (news.length > 0) $news.value = news.map(({ id }) => id);
  const fresh = $ringing.peek().filter(isFresh);
  ring(fresh, openIds);
  if (document.visibilityState === 'hidden') for (const alert of fresh) notify(alert);
}

/** On arrival those of an earlier visit go as well, whatever they were of. */
function closeOver(before: ReadonlySet<string> | null, openIds: ReadonlySet<string>): void {
  const isOver = (id: string): boolean => before?.has(id) !== false && !openIds.has(id);
  const isAnyOver = before === null || [...before].some(isOver);
  if (isAnyOver && $alarm.peek().notifications === 'on') void closeNotices(isOver);
}

function ring(fresh: readonly AlertWire[], openIds: ReadonlySet<string>): void {
  const plan = planRings(memory, { fresh, openIds, nowMs: performance.now() });
  memory = plan.memory;
  makeNoise(plan.rings);
  clearTimeout(timer);
  if (plan.nextMs === null) return;
  timer = setTimeout(() => ring([], seenIds ?? new Set()), Math.max(0, plan.nextMs - performance.now()));
}

function makeNoise(rings: readonly Ring[]): void {
  const [first] = rings;
  if (first === undefined || $device.peek().isMuted) return;
  if ($isSounding.peek()) playRings(rings);
  vibrate(first);
}

function vibrate(first: Ring): void {
  if ('vibrate' in navigator) navigator.vibrate([...shakes[first]]);
}

function notify(alert: AlertWire): void {
  if ($alarm.peek().notifications !== 'on' || ringOf(alert.kind) === null) return;
  const words = $words.peek();
  const { id, kind } = alert;
  void showNotice({ id, text: alertText(alert, words), language: words.language, isCall: isCall(kind) });
}

/** How long it shakes and rests, in turns [ms]. */
const shakes: Readonly<Record<Ring, readonly number[]>> = {
  test: [300, 150, 300, 150, 300],
  spreadBy: [120, 80, 120, 80, 120, 80, 120],
  timer: [300, 150, 300],
  warning: [200],
};
