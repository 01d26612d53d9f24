// The alerts of this device: those of the screen it shows, those it rings for, and those that were just read out.
import { computed, signal } from '@preact/signals';
import type { AlertPlace } from '../../server/contract/index.ts';
import { alertsFor, isCall, partByFilter } from './alertsFor.ts';
import { isOpen } from './applyLiveMessage.ts';
import { $device } from './device.ts';
import { $floorFilter, $isWall } from './floor.ts';
import { screenOf } from './homePath.ts';
import { expectBatch } from './kept.ts';
import { $alarm, $kept, $live, $path } from './sources.ts';

/** What readers hear once, by their ids; the newest lot in place of the one before. */
export const $news = signal<readonly string[]>([]);

/** Screens that no alert is meant for show what Bench shows: whoever holds the device must not miss a test. */
const $alertPlace = computed<AlertPlace>(() => {
  const screen = screenOf($path.value);
  if (screen === '/floor') return 'floor';
  return screen === '/setup' ? 'setup' : 'bench';
});

/** Open alerts of the shop that were not just tapped away here. */
const $open = computed(() => {
  const tapped = new Set(
    $kept.value.flatMap(({ body }) => (body.kind === 'acknowledgement' ? [body.alertId] : [])),
  );
  return ($live.value?.alerts ?? []).filter(({ id }) => !tapped.has(id));
});

const $expected = computed(() =>
  ($live.value?.batches ?? []).map((batch) => expectBatch(batch, $kept.value)).filter(isOpen),
);

const $parts = computed(() => {
  const place = $alertPlace.value;
  const batches = $expected.value;
  const { person, isOnlyMine } = $device.value;
  // A wall belongs to nobody.
  const whose = { person: $isWall.value ? null : person, isOnlyMine };
  const alerts = alertsFor($open.value, { place, whose, batches });
  if (place !== 'floor') return { inside: alerts, outside: [] };
  return partByFilter(alerts, { filter: $floorFilter.value, batches });
});

/** Alerts to show on this screen. */
export const $alerts = computed(() => $parts.value.inside);

/** How many of Floor's alerts its filters leave out. */
export const $outsideCount = computed(() => $parts.value.outside.length);

/**
 * Alerts that this device rings for: those it shows. A wall also rings for everybody's calls, which stand in its rows:
 * where phones may not, it is the alarm.
 */
export const $ringing = computed(() => {
  if (!$isWall.value) return $alerts.value;
  const batches = $expected.value;
  const whose = { person: null, isOnlyMine: false };
  const calls = alertsFor(
    $open.value.filter(({ kind }) => isCall(kind)),
    { place: 'bench', whose, batches },
  );
  return [...partByFilter(calls, { filter: $floorFilter.value, batches }).inside, ...$alerts.value];
});

/** Whether this device is to make sounds. */
export const $isSounding = computed(() => !$device.value.isMuted && $live.value?.shop.sound !== false);

/** Whether there is something to ring for, and the browser waits for a tap. */
export const $isRingLocked = computed(
  () => $isSounding.value && $alarm.value.sound === 'locked' && $expected.value.length > 0,
);
