// Where Floor's axis stands: its anchor, and the shift of the film in steps that no eye can see.
import { computed } from '@preact/signals';
import { anchorOf, NOW_FRACTION, shiftOf, ticksOf } from '../../charts/timeAxis.ts';
import { $nowAt } from '../../state/sources.ts';

export const $anchorAt = computed(() => anchorOf($nowAt.value));

const $shift = computed(() => shiftOf($nowAt.value, { anchorAt: $anchorAt.value }));

/** The style of what is shifted: time passing moves a handful of elements, and draws no row anew. */
export const $shiftStyle = computed(() => `transform: translateX(${percent(-$shift.value)})`);

/** Where bars end that grow with time, in widths of the axis. */
export const $nowPlace = computed(() => $shift.value + NOW_FRACTION);

/** Ticks change with each quarter of an hour only. */
const TICKS_EVERY_MS = 15 * 60_000;
const $ticksAt = computed(() => Math.floor($nowAt.value / TICKS_EVERY_MS) * TICKS_EVERY_MS);
export const $ticks = computed(() => ticksOf($ticksAt.value, { anchorAt: $anchorAt.value }));

/** A fraction of the axis as a style. */
export function percent(fraction: number): string {
  return `${(100 * fraction).toFixed(2)}%`;
}
