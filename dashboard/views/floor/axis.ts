// Where Floor's axis stands: its anchor, and the shift of the film in steps that no eye can see.
import { computed, signal } from '@preact/signals';
import { anchorOf, NOW_FRACTION, shiftOf, ticksOf } from '../../charts/timeAxis.ts';
import { $nowAt } from '../../state/sources.ts';

export const $anchorAt = computed(() => anchorOf($nowAt.value));

const $shift = computed(() => shiftOf($nowAt.value, { anchorAt: $anchorAt.value }));

/** The style of what is shifted: time passing moves a handful of elements, and draws no row anew. */
export const $shiftStyle = computed(() => `transform: translateX(${percent(-$shift.value)})`);

/** Where bars end that grow with time, in widths of the axis. */
export const $nowPlace = computed(() => $shift.value + NOW_FRACTION);

/** Moves on in steps, so that flags are seldom drawn anew. */
const $flagShift = computed(() => Math.round($shift.value / FLAG_STEP_FRACTION) * FLAG_STEP_FRACTION);

/** Right of here a pennant of five characters would leave the axis. */
export const $flagTurnPlace = computed(() => $flagShift.value + FLAG_ROOM_FRACTION);

/** Right of here a pole stands beyond the axis. */
export const $flagEndPlace = computed(() => $flagShift.value + 1);
const FLAG_STEP_FRACTION = 0.01;
const FLAG_ROOM_FRACTION = 0.92;

/** Ticks change with each quarter of an hour only. */
const TICKS_EVERY_MS = 15 * 60_000;
const $ticksAt = computed(() => Math.floor($nowAt.value / TICKS_EVERY_MS) * TICKS_EVERY_MS);
export const $ticks = computed(() => ticksOf($ticksAt.value, { anchorAt: $anchorAt.value }));

/** How wide the axis is drawn, in letters' own measure (rem); 0 until it was measured. */
export const $axisRem = signal(0);

/** Follows the width of the axis; the returned function ends it. */
export function watchAxis(axis: HTMLElement): () => void {
  const observer = new ResizeObserver(() => {
    $axisRem.value =
      axis.clientWidth / Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
  });
  observer.observe(axis);
  return () => observer.disconnect();
}

/** A fraction of the axis as a style. */
export function percent(fraction: number): string {
  return `${(100 * fraction).toFixed(2)}%`;
}
