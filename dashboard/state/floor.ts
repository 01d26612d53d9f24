// What Floor shows: the open panels behind its filters in its order, the plan beside them, and where its axis stands.
import { computed, signal } from '@preact/signals';
import type { BatchWire, PlanEntryWire, PlanWire } from '../../server/contract/index.ts';
import { isOpen } from './applyLiveMessage.ts';
import { $device, type FloorOrder } from './device.ts';
import { type FloorFilter, groupPanels, isOnFloor } from './floorGroups.ts';
import { expectBatch } from './kept.ts';
import { $kept, $live, $nowAt, $path } from './sources.ts';

/** The newest plan; null until the first is read. */
export const $plan = signal<PlanWire | null>(null);
/** Whether the address asks for the wall. */
export const $isWallAsked = signal(false);

export const $isWall = computed(() => $isWallAsked.value && $path.value.startsWith('/floor'));

/** Rows tell their minutes by this clock: ten seconds are finer than anyone plans. */
const FLOOR_EVERY_MS = 10_000;
export const $floorAt = computed(() => Math.floor($nowAt.value / FLOOR_EVERY_MS) * FLOOR_EVERY_MS);

/** What Floor is filtered by; a bay or a person that is gone from the shop filters nothing. */
export const $floorFilter = computed<FloorFilter>(() => {
  const { floorBayId, floorPerson } = $device.value;
  const bays = $live.value?.bays ?? [];
  return {
    bayId: bays.some(({ id }) => id === floorBayId) ? floorBayId : null,
    person: $floorPeople.value.includes(floorPerson ?? '') ? floorPerson : null,
  };
});

/** Who can be filtered by: the shop's people, and whoever has an open panel. */
export const $floorPeople = computed(() => {
  const known = ($live.value?.people ?? []).map(({ initials }) => initials);
  const seen = ($live.value?.batches ?? []).flatMap(({ by }) => (by === null ? [] : [by]));
  return [...new Set([...known, ...seen])].sort((a, b) => a.localeCompare(b));
});

const $panels = computed<readonly BatchWire[]>(() => {
  const kept = $kept.value;
  return ($live.value?.batches ?? [])
    .map((batch) => expectBatch(batch, kept))
    .filter((batch) => isOpen(batch) && isOnFloor(batch, $floorFilter.value));
});

/** The panels in groups: one without a name when ordered by promise, one a bay else. */
export const $floorGroups = computed(() => {
  const order: FloorOrder = $device.value.floorOrder;
  return groupPanels($panels.value, { order, bays: $live.value?.bays ?? [] });
});

/** What the plan says of each panel. */
export const $planById = computed<ReadonlyMap<string, PlanEntryWire>>(
  () => new Map(($plan.value?.entries ?? []).map((entry) => [entry.batchId, entry])),
);

/** The plan's entries of panels that are shown and still stand as the plan saw them. */
export const $nextHands = computed<readonly PlanEntryWire[]>(() => {
  const shown = new Set($panels.value.map(({ id }) => id));
  return ($plan.value?.entries ?? []).filter(({ batchId }) => shown.has(batchId));
});

/** What the plan rests on: changes of the shop, and each minute of its time. */
const MS_PER_MIN = 60_000;
export const $planBasis = computed(
  () => `${$live.value?.sequence ?? ''} ${Math.floor($nowAt.value / MS_PER_MIN)}`,
);

/** A wall with more panels than it can show turns its pages at this pace of the room's own time [ms]. */
const PAGE_EVERY_MS = 12_000;

/** How many pages the wall has turned since ever. */
export const $pageTurnCount = computed(() =>
  Math.floor($nowAt.value / (PAGE_EVERY_MS * ($live.value?.rate ?? 1))),
);
