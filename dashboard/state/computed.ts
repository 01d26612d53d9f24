// What the screens read: derived from the source signals, never set.
import { computed } from '@preact/signals';
import type { TroubleWire } from '../../server/contract/index.ts';
import type { Place } from '../format/clock.ts';
import { formatCountdownText } from '../format/countdown.ts';
import { localeOf } from '../format/language.ts';
import { phaseOf } from '../format/phase.ts';
import type { Naming } from '../format/reason.ts';
import { formatTimerText } from '../format/timerText.ts';
import { METRIC, type Units } from '../format/units.ts';
import { isOpen } from './applyLiveMessage.ts';
import { $device } from './device.ts';
import { justClosedOf } from './justClosed.ts';
import { expectBatch, startsWithoutBatch } from './kept.ts';
import { $browserTags } from './language.ts';
import { isMine, orderSlips } from './slips.ts';
import { $kept, $live, $nowAt, $path, $sending, $snapshotTrouble, $timers, $words } from './sources.ts';
import { orderStack } from './stack.ts';
import { timersOf } from './timers.ts';
import { unitsOf } from './units.ts';

/** The units the shop has chosen, which its devices take until one chooses others. */
export const $shopUnits = computed<Units>(() => $live.value?.shop.units ?? METRIC);

const $timeZone = computed(() => $live.value?.shop.timeZone ?? 'UTC');
const $units = computed(() => unitsOf($device.value, $shopUnits.value));

/** The language, units and time zone everything is shown in. */
export const $place = computed<Place>(() => {
  const units = $units.value;
  const locale = localeOf($words.value.language, { tags: $browserTags.value, units });
  return { locale, units, timeZone: $timeZone.value };
});

/** The clock by which the stack is ordered: often enough for that, and seldom enough not to redraw it at each tick. */
const ORDER_EVERY_MS = 10_000;
const $orderAt = computed(() => Math.floor($nowAt.value / ORDER_EVERY_MS) * ORDER_EVERY_MS);

/** Open batches as they will be once what was tapped is stored, those of this device's person, next act first. */
export const $slips = computed(() => {
  const { person, isOnlyMine } = $device.value;
  const expected = ($live.value?.batches ?? []).map((batch) => expectBatch(batch, $kept.value));
  const shown = expected.filter((batch) => isOpen(batch) && isMine(batch, { person, isOnlyMine }));
  return orderSlips(shown, $orderAt.value);
});

/** The plain timers of this device that belong to this shop. */
export const $shownTimers = computed(() =>
  timersOf($timers.value, { ledgerId: $live.value?.ledgerId ?? '', nowAt: $orderAt.value }),
);

/** What Bench shows: slips and plain timers by their next act. */
export const $stack = computed(() => orderStack($slips.value, $shownTimers.value, $orderAt.value));

/** Whether something counts down for which the screen must stay on. */
export const $isCounting = computed(() => $stack.value.length > 0);

/** Slips that were closed a moment ago, those of this device's person. */
export const $closedSlips = computed(() => {
  const { person, isOnlyMine } = $device.value;
  const { batches, closed = [] } = $live.value ?? { batches: [] };
  const expected = [...batches, ...closed].map((batch) => expectBatch(batch, $kept.value));
  return justClosedOf({ batches: expected, queue: $kept.value, nowAt: $orderAt.value }).filter(
    (batch) => !isOpen(batch) && isMine(batch, { person, isOnlyMine }),
  );
});

/** Batches started here that the shop does not know yet. */
export const $keptStarts = computed(() => startsWithoutBatch($kept.value, $live.value?.batches ?? []));

/** How many open batches there are, shown or not. */
export const $openCount = computed(() => $live.value?.batches.length ?? 0);

/** What is wrong with the shop's computer: as it says itself, or that it cannot even read what it has stored. */
export const $degraded = computed<readonly TroubleWire[]>(() => {
  const told = $live.value?.troubles ?? [];
  const isUnread = $snapshotTrouble.value === 'server' && told.every(({ part }) => part !== 'ledger');
  return isUnread ? [...told, { part: 'ledger', code: 'failed' }] : told;
});

/** Batches whose act is under way right now. */
export const $busyBatchIds = computed(
  () =>
    new Set(
      $kept.value.flatMap(({ key, body }) =>
        $sending.value.has(key) && body.kind === 'command' ? [body.batchId] : [],
      ),
    ),
);

/** The page's title: the next countdown, so that a tab in the background tells it too. */
export const $title = computed(() => {
  const words = $words.value;
  const next = $stack.value[0];
  const name = $live.value?.shop.name;
  const head = $path.value.startsWith('/floor')
    ? words.screen.floor
    : next === undefined
      ? words.title.idle
      : next.kind === 'timer'
        ? words.title.with(formatTimerText(next.timer, { words, nowAt: $nowAt.value }), next.timer.name)
        : words.title.with(formatCountdownText(phaseOf(next.batch, $nowAt.value), words), next.batch.panel);
  return name === undefined ? head : `${head} – ${name}`;
});

/** What sentences about a batch need to know. */
export function namingOf(cardId: string): Naming {
  const live = $live.value;
  return {
    words: $words.value,
    place: $place.value,
    bayName: (bayId) => live?.bays.find(({ id }) => id === bayId)?.name ?? bayId,
    card: live?.cards.find(({ id }) => id === cardId) ?? null,
  };
}
